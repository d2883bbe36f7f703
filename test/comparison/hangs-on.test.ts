import { describe, expect, it } from 'vitest'
import { countedOtherwise } from '../../src/comparison/findings/counted-otherwise.page.ts'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { everyMeasureWay } from '../../src/comparison/matched/every-measure-way.ts'
import { everyWay } from '../../src/comparison/matched/every-way.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import { wordsFor } from '../../src/words/locales.ts'
import { pair, recordOf } from '../support/record.ts'

const seasonIds = ['s0', 's1', 's2']
const grown = (carrots: number, cabbage: number) => ({
  carrot: { m2: 4, a: 10, b: 10 * carrots },
  cabbage: { m2: 4, a: 10, b: 10 * cabbage },
})

function weightFinding(record: TrialRecord) {
  const [one] = findingsOf(record, { seasonIds, referenceId: 'dug', questionLocked: false })
  if (one?.code !== 'seen' && one?.code !== 'not seen') throw new Error(one?.code)
  return one
}
const notes = (record: TrialRecord, locale = 'en') =>
  countedOtherwise(weightFinding(record), wordsFor(locale).findings, locale)

describe('what a finding hangs on, worked by hand', () => {
  // All the cabbage of one side was lost; carrots gave 0.99, 1.00 and 1.01 times: 0.495, 0.50 and 0.505 together.
  const lost = recordOf([grown(0.99, 0), grown(1, 0), grown(1.01, 0)])

  it('a crop that carries it is named, with the ratio without it', () => {
    const { code, without } = weightFinding(lost)
    expect([code, without.carriedBy]).toEqual(['seen', ['cabbage, x']])
    const carrots = (0.99 * 1 * 1.01) ** (1 / 3)
    // Without the carrots the cabbage is left, off which nothing came on one side.
    expect(without.crops).toMatchObject({ low: 0, lowWithout: 'carrot, x', highWithout: 'cabbage, x' })
    expect(without.crops?.high).toBeCloseTo(carrots, 12)
    expect(notes(lost)[0]).toBe('It is carried by cabbage, x: without that crop it could not be told.')
    expect(notes(lost, 'de')[0]).toMatch(/^Getragen wird es von cabbage, x/)
  })

  it('the range over seasons, and the ratio in which each crop counts once', () => {
    const { without } = weightFinding(lost)
    // The mean of two logarithms of 0.495, 0.50 and 0.505.
    expect(without.seasons?.low).toBeCloseTo(Math.sqrt(0.495 * 0.5), 12)
    expect(without.seasons?.high).toBeCloseTo(Math.sqrt(0.5 * 0.505), 12)
    expect([without.seasons?.lowWithout, without.seasons?.highWithout]).toEqual(['s2', 's0'])
    // Each crop once: A (2/(1+r) + 2)/2, B (2r/(1+r) + 0)/2, so r/(2 + r) in a season.
    const once = (r: number) => r / (2 + r)
    expect(without.cropsOnce).toBeCloseTo((once(0.99) * once(1) * once(1.01)) ** (1 / 3), 12)
    expect(notes(lost)).toContain('With each crop counted once, however much it weighs, the ratio is 0.33.')
  })

  it('nothing carries what every crop shows', () => {
    expect(weightFinding(recordOf([grown(1.5, 1.4), grown(1.48, 1.42), grown(1.52, 1.41)])).without.carriedBy).toEqual(
      [],
    )
  })
})

describe('every sensible way', () => {
  it('leaves out a way that keeps under a tenth of a season’s kilograms', () => {
    // 100 kg of carrots, of which the hail took some, and 5 kg of leek: without the carrots 5 of 105 are left.
    const base = recordOf(seasonIds.map(() => ({ carrot: { m2: 4, a: 100, b: 150 }, leek: { m2: 4, a: 5, b: 4 } })))
    const hail = {
      lostOn: '2020-01-08',
      sharePermille: 100,
      cause: 'weather',
      outsideMethod: true,
      alsoNextDoor: 'yes',
    } as const
    const record = { ...base, losses: [{ ...hail, plantingId: '0 carrot b' }] }
    const { ways, counted, sameOrder, turning } = everyWay(record, seasonIds, pair)
    expect(ways.filter((way) => way.ratio === null).map((way) => way.rules.outsideLosses)).toEqual(
      Array.from({ length: 4 }, () => 'set left out'),
    )
    expect([counted, sameOrder, turning]).toEqual([4, 4, []])
  })

  it('leaves out a way that keeps under a tenth of a season’s hours', () => {
    // 100 of 1,100 minutes are not establishing under the one, 1,000 of 1,100 under the other: less than a tenth of 1,100.
    const minutes = (bed: string, personMinutes: number, phase: string) => ({
      ...{ seasonId: 's0', task: 'weeding', phase, personMinutes, bedIds: [bed] },
    })
    const labour = [
      ...[minutes('a', 1000, 'establishing'), minutes('a', 100, 'established')],
      ...[minutes('b', 100, 'establishing'), minutes('b', 1000, 'established')],
    ]
    const record = { ...recordOf([grown(1, 1)]), labour }
    const found = everyMeasureWay(record, ['s0'], pair, { key: 'hoursPerArea', rules: plainMeasureRules })
    const left = found.ways.filter((way) => way.ratio === null)
    expect(left.length).toBeGreaterThan(0)
    expect(new Set(left.map((way) => way.rules.establishing))).toEqual(new Set(['left out']))
    expect([found.low, found.high, found.sameOrder]).toEqual([1, 1, null])
  })

  it('speaks of no order where the ratio rounds to 1', () => {
    const record = recordOf([grown(1.004, 1), grown(0.99, 1), grown(1.01, 1)])
    const { ratio, everyWay: ways } = weightFinding(record)
    expect([Math.round(100 * ratio), ways.sameOrder, ways.turning]).toEqual([100, null, []])
    expect(notes(record).join(' ')).toContain('about as much: there is no order to hold')
    expect(notes(record).join(' ')).not.toContain('the order holds')
  })
})
