import { describe, expect, it } from 'vitest'
import type { BurdenFinding } from '../../src/comparison/findings/burden-finding.ts'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { sentenceOf } from '../../src/comparison/findings/findings-told.page.ts'
import { leftOutSeasons } from '../../src/comparison/findings/rests-on.page.ts'
import { summaryOfRecord } from '../../src/comparison/findings/summary-of-record.ts'
import { summaryTold } from '../../src/comparison/findings/summary-told.page.ts'
import { overSeasons } from '../../src/comparison/matched/over-seasons.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import type { IsoWeek } from '../../src/quantities/iso-week.ts'
import { wordsFor } from '../../src/words/locales.ts'
import { aDay } from '../support/calendar.ts'
import { allClosed, got, pair, recordOf } from '../support/record.ts'

const seasonIds = ['s0', 's1', 's2']
const carrots = (ratio: number) => ({ carrot: { m2: 4, a: 20, b: 20 * ratio } })

/** Seasons of twenty weeks in which carrots gave a kilogram a week under the one, and so many times that under the other. */
function weekly(ratios: readonly number[], open: readonly string[] = []): TrialRecord {
  const base = recordOf(ratios.map(carrots))
  const years = base.seasons.map((one, i) => ({
    ...one,
    startsOn: aDay(`${2020 + i}-01-06`),
    endsOn: aDay(`${2020 + i}-05-22`),
  }))
  const seasons = { ...base, seasons: years }
  const weeksOf = (id: string) => [
    ...new Set(allClosed({ ...seasons, seasons: years.filter((one) => one.id === id) }).map((one) => one.isoWeek)),
  ]
  const plantings = base.plantings.map((one) => {
    const weeks = weeksOf(one.seasonId)
    const season = years.find((own) => own.id === one.seasonId)
    const grams = Math.round(one.marketableG / weeks.length)
    return {
      ...{ ...one, from: season?.startsOn ?? '', to: season?.endsOn ?? '' },
      weighed: weeks.map((isoWeek) => ({ isoWeek, marketableG: grams, unmarketableG: 0 })),
    }
  })
  const closings = allClosed(seasons).filter((one) => !open.includes(`${one.gardenId} ${one.isoWeek}`))
  return { ...seasons, plantings, closings }
}

const asked = { seasonIds, referenceId: 'dug', questionLocked: true }
function weightOf(record: TrialRecord) {
  const [one] = findingsOf(record, asked)
  if (one?.code !== 'seen' && one?.code !== 'not seen') throw new Error(one?.code)
  return one
}
const summaryOf = (record: TrialRecord) =>
  summaryTold(summaryOfRecord(record, seasonIds, { referenceId: 'dug', found: findingsOf(record, asked) }), 'en', 'EUR')

describe('open weeks', () => {
  it('leave a season with more than a tenth of them out of the figure and of its ends, named and so far', () => {
    // Three of twenty weeks of Long Bank are open in the second year: it gave 3 times so far.
    const open = ['2021-W05', '2021-W06', '2021-W07'].map((week) => `B ${week}`)
    const record = weekly([1.2, 3, 1.25], open)
    const over = got(overSeasons(record, seasonIds, pair))
    expect(over.seasons.map((one) => one.seasonId)).toEqual(['s0', 's2'])
    expect(over.open).toEqual([{ seasonId: 's1', logRatio: expect.closeTo(Math.log(3), 9) }])
    const found = weightOf(record)
    expect(found.ratio).toBeCloseTo(Math.sqrt(1.2 * 1.25), 9)
    expect(found.missing).toEqual({ kind: 'none open' })
    expect(leftOutSeasons(found.restsOn, wordsFor('en').findings, 'en')).toEqual([
      's1 is not in it: more than a tenth of its weeks are open. So far: 3.00 times.',
    ])
    expect(sentenceOf(found, 'en')).toMatch(/^Over 2 seasons \(s0 and s2\) /)
  })

  it('enclose the figure, which rests on the same seasons', () => {
    // One week of twenty is open, with what was entered in it: it can hold no more than its neighbours.
    const record = weekly([1.2, 1.22, 1.25], ['B 2021-W08'])
    const { missing, ratio } = weightOf(record)
    if (missing.kind !== 'ends') throw new Error(missing.kind)
    expect(missing.low).toBeLessThanOrEqual(ratio)
    expect(missing.high).toBeGreaterThanOrEqual(ratio)
  })

  it('that can turn a finding leave it not told apart, in every sentence', () => {
    // 1.02, 1.02 and 1.021 times; a week of nothing but open in Lower Terrace may hold a twentieth more.
    const record = weekly([1.02, 1.02, 1.021], ['A 2020-W08', 'A 2021-W08', 'A 2022-W08'])
    const lost = record.plantings.map((one) =>
      one.bedId === 'a'
        ? {
            ...{ ...one, marketableG: one.marketableG - 1000 },
            weighed: (one.weighed ?? []).map((own) => (/W08/.test(own.isoWeek) ? { ...own, marketableG: 0 } : own)),
          }
        : one,
    )
    const open = { ...record, plantings: lost }
    const found = weightOf(open)
    // 19 kg as entered against 20.4: 1.07 times. With the open week 20 against 20.4: 1.02.
    expect(found.low).toBeGreaterThan(1)
    expect(found.missing).toMatchObject({ kind: 'ends', survives: true })
    const more = { ...open, plantings: lost.map((one) => (one.bedId === 'b' ? { ...one, marketableG: 19_900 } : one)) }
    const turned = weightOf(more)
    // 19 against 19.9 kg: 1.05 times; with the open week 20 against 19.9.
    expect(turned.code).toBe('not seen')
    expect(turned.missing).toMatchObject({ kind: 'ends', survives: false })
    expect(sentenceOf(turned, 'en')).toContain('in the weeks that are closed')
    expect(sentenceOf(turned, 'en')).toContain('while weeks are open the two are not told apart')
    const { title, sentences } = summaryOf(more)
    expect(title).toMatch(/^By weight the two cannot be told apart while weeks are open/)
    expect(sentences[0]).toBe(
      'Long Bank is not told apart from Lower Terrace by weight while weeks are open, since those could turn it.',
    )
  })

  it('in every season leave all of it so far', () => {
    const found = weightOf({ ...weekly([1.2, 1.21, 1.22]), closings: [] })
    expect([found.code, found.restsOn.soFar]).toEqual(['not seen', true])
    expect(leftOutSeasons(found.restsOn, wordsFor('en').findings, 'en')[0]).toContain('nothing is told apart yet')
  })

  it('of hours leave them not told where they could turn them, over the same seasons', () => {
    const base = weekly([1, 1, 1])
    const labour = allClosed(base, ['hours']).map(({ gardenId, isoWeek }) => ({
      ...{ seasonId: `s${Number(isoWeek.slice(0, 4)) - 2020}`, task: 'weeding', phase: 'established', isoWeek },
      ...{ bedIds: [gardenId === 'A' ? 'a' : 'b'], personMinutes: gardenId === 'B' && /W08/.test(isoWeek) ? 0 : 100 },
    }))
    const isOpen = (one: { gardenId: string; isoWeek: IsoWeek; what: string }) =>
      one.what === 'hours' && one.gardenId === 'B' && /W08/.test(one.isoWeek)
    const closings = base.closings.filter((one) => !isOpen(one))
    const found = findingsOf({ ...base, labour, closings }, asked).find((one) => one.code.startsWith('labour'))
    // 1,900 against 2,000 minutes in each year as entered; with the open week 2,000 against 2,000.
    if (found?.code !== 'labour not seen') throw new Error(found?.code)
    expect(found.ratio).toBeCloseTo(0.95, 9)
    expect(found.missing).toEqual({
      kind: 'ends',
      low: expect.closeTo(0.95, 9),
      high: expect.closeTo(1, 9),
      survives: false,
    })
    expect(sentenceOf(found, 'en')).toBe(
      'Over 3 seasons (s0, s1 and s2) Long Bank took 0.95 times the hours of Lower Terrace per m² of bed in the weeks that are closed, harvest work left out; 95 % interval 0.95 to 0.95; but while weeks are open the two are not told apart.',
    )
  })
})

describe('open weeks of weights', () => {
  const base = weekly([1, 1, 1], ['A 2020-W08', 'A 2021-W08', 'A 2022-W08'])
  const record: TrialRecord = {
    ...base,
    plantings: base.plantings.map((one) =>
      one.bedId === 'a'
        ? {
            ...{ ...one, marketableG: one.marketableG - 1000 },
            weighed: (one.weighed ?? []).map((own) => (/W08/.test(own.isoWeek) ? { ...own, marketableG: 0 } : own)),
          }
        : one,
    ),
    spreadings: seasonIds.flatMap((seasonId) =>
      ['a', 'b'].map((bedId) => ({ seasonId, costMinor: 1000, usefulLifeSeasons: 1, bedIds: [bedId] })),
    ),
  }
  const cost = (of: TrialRecord) =>
    findingsOf(of, asked).find((one) => 'burden' in one && one.burden === 'costPerKg') as BurdenFinding

  it('bound the cost of a kilogram, which they can turn', () => {
    // The same inputs on 20 kg and on 19 kg as entered: 0.95 times. With the open week at its most 20 and 20.
    const found = cost(record)
    expect([found.code, found.seasons]).toEqual(['per kg not seen', 3])
    expect(found.ratio).toBeCloseTo(0.95, 9)
    const ends = { low: expect.closeTo(0.95, 9), high: expect.closeTo(1, 9) }
    expect(found.missing).toEqual({ kind: 'ends', ...ends, survives: false })
    expect(sentenceOf(found, 'en')).toBe(
      'Over 3 seasons (s0, s1 and s2) a marketable kilogram took 0.95 times the inputs in Long Bank that it took in Lower Terrace in the weeks that are closed; 95 % interval 0.95 to 0.95; but while weeks are open the two are not told apart.',
    )
  })

  it('leave a season out, with what it says so far, where they are more than a tenth; so does what has no price', () => {
    const open = record.closings.filter((one) => !/^2021-W0[4-7]/.test(one.isoWeek) || one.what === 'hours')
    const unpriced = record.spreadings.map((one) => (one.seasonId === 's2' ? { ...one, costMinor: null } : one))
    const { restsOn } = cost({ ...record, closings: open })
    expect(restsOn).toMatchObject({ seasons: ['s0', 's2'], open: [{ season: 's1', ratio: expect.closeTo(0.95, 9) }] })
    const found = cost({ ...record, spreadings: unpriced })
    expect(found.restsOn).toMatchObject({ seasons: ['s0', 's1'], left: [{ season: 's2', why: 'no price' }] })
    expect(leftOutSeasons(found.restsOn, wordsFor('en').findings, 'en')).toEqual([
      's2 is not in it: an input has no price there.',
    ])
  })
})

describe('an interval', () => {
  it('wider than ten times says nothing, and the sentence says so', () => {
    const record = recordOf([carrots(0.5), carrots(2)])
    const [found] = findingsOf(record, { ...asked, seasonIds: ['s0', 's1'] })
    if (found?.code !== 'not seen') throw new Error(found?.code)
    // t on 1 degree of freedom, 12.7062, times 0.9803 over root 2: from 0.0001 to 6,700 times.
    expect(Math.log(found.high)).toBeCloseTo((12.7062 * Math.log(4)) / 2, 3)
    const said = sentenceOf(found, 'en')
    expect(said).toContain('two seasons cannot tell: what goes with these figures is wider than ten times')
    expect(said).not.toMatch(/0\.00|,\d\d\d/)
  })

  it('whose end is read as 1.00 is said to touch it', () => {
    const word = wordsFor('en').findings['labour seen']
    const names = { methodA: 'Dug', methodB: 'Clover', gardensA: ['Lower Terrace'], gardensB: ['Clover Strip'] }
    const f = { ...names, burden: 'hoursPerBed', ratio: 0.88, low: 0.77, high: 0.998, level: 0.95, seasons: 3 } as const
    expect(word(f, 'en')).toContain('95 % interval 0.77 to 1.00, which touches 1.')
    expect(word({ ...f, high: 0.99 }, 'en')).not.toContain('touches')
  })

  it('names methods where several gardens carry them, and each once', () => {
    const word = wordsFor('en').findings['labour seen']
    const names = { methodA: 'Dug', methodB: 'Mulch', gardensA: ['A', 'C', 'E'], gardensB: ['B', 'D', 'F'] }
    const f = { ...names, burden: 'hoursPerBed', ratio: 0.75, low: 0.73, high: 0.77, level: 0.95, seasons: 2 } as const
    expect(word(f, 'en')).toMatch(/^Over 2 seasons Mulch took 0\.75 times the hours of Dug per m² of bed/)
  })
})
