import { describe, expect, it } from 'vitest'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { layoutValues } from '../../src/comparison/matched/layout-values.ts'
import { matchedSeason, plainRules } from '../../src/comparison/matched/matched-season.ts'
import { overSeasons } from '../../src/comparison/matched/over-seasons.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { pairBehind } from '../../src/comparison/rows/rows-matched.ts'
import { aDay } from '../support/calendar.ts'
import { type Grown, got, pair, recordOf } from '../support/record.ts'

/** "lettuce 1", "lettuce 2": sowings of one cultivar, each a matched set of its own. */
function sown(seasons: readonly Readonly<Record<string, Grown>>[]): TrialRecord {
  const record = recordOf(seasons)
  return { ...record, plantings: record.plantings.map((one) => ({ ...one, crop: one.crop.replace(/ \d$/, '') })) }
}

// Lettuce sown three times on 1 m2, 1 and 2 kg; potatoes once on 3 m2, 12 and 6 kg.
const lettuce = { m2: 1, a: 1, b: 2 }
const grown = { 'lettuce 1': lettuce, 'lettuce 2': lettuce, 'lettuce 3': lettuce, potato: { m2: 3, a: 12, b: 6 } }

describe('a crop sown three times in a season is one crop, worked by hand', () => {
  const record = sown([grown])

  it('it weighs by its ground once: the finding is the ratio of the common mix on the same page', () => {
    const found = got(matchedSeason(record, 's0', pair))
    // 6 m2 of each over both gardens, so half and half: A (1 + 4) / 2, B (2 + 2) / 2.
    expect(found.crops.map(({ crop, share }) => [crop, share])).toEqual([
      ['lettuce, x', 0.5],
      ['potato, x', 0.5],
    ])
    expect([found.rateA, found.rateB]).toEqual([2.5, 2])
    expect(firstTable(record, 's0').commonMix.map((one) => one.kgPerM2)).toEqual([2.5, 2])
    expect(pairBehind(record, ['s0'], pair, plainRules)?.seasons[0]).toMatchObject({ rateA: 2.5, rateB: 2 })
    // Without lettuce 2 over 4, without potatoes 2 over 1; each crop once: (2/3 + 4/3) / 2 and (4/3 + 2/3) / 2.
    expect(found.leavingOut).toEqual({ low: 0.5, high: 2 })
    expect(found.cropsOnce.a).toBeCloseTo(1, 12)
    expect(found.cropsOnce.b).toBeCloseTo(1, 12)
  })

  it('equal parts are a part a crop, not a part a sowing', () => {
    const found = got(matchedSeason(record, 's0', pair, { ...plainRules, mix: 'equal parts' }))
    expect([found.rateA, found.rateB]).toEqual([2.5, 2])
  })

  it('three sowings are not three crops', () => {
    const { potato: _potato, ...alone } = grown
    const seasons = [alone, { ...alone, 'lettuce 2': { m2: 1, a: 1, b: 2.2 } }, alone]
    const over = got(overSeasons(sown(seasons), ['s0', 's1', 's2'], pair))
    expect(over.constantCrops).toEqual(['lettuce, x'])
    expect(over.seasons[0]?.leavingOut).toBeNull()
    const [finding] = findingsOf(sown(seasons), {
      ...{ seasonIds: ['s0', 's1', 's2'], referenceId: 'dug', questionLocked: true },
    })
    expect(finding).toMatchObject({ crops: 1, certainty: { steps: expect.arrayContaining(['few matched crops']) } })
  })

  it('a loss from outside takes out the sowing it befell and no other', () => {
    const hit = sown([{ 'lettuce 1': lettuce, 'lettuce 2': { m2: 1, a: 1, b: 5 }, 'lettuce 3': { m2: 2, a: 2, b: 3 } }])
    const losses = [
      { plantingId: '0 lettuce 2 b', lostOn: aDay('2020-01-08'), sharePermille: 200, outsideMethod: true },
    ]
    const found = got(matchedSeason({ ...hit, losses }, 's0', pair, { ...plainRules, outsideLosses: 'set left out' }))
    // 3 m2 each: 3 kg and 5 kg.
    expect(found.rateA).toBeCloseTo(1, 12)
    expect(found.rateB).toBeCloseTo(5 / 3, 12)
  })

  it('a place is weighed over all the sowings, with shares that add up to one', () => {
    // Unlike sowings: 1 and 2 m2 of lettuce beside 3 m2 of potatoes.
    const { potato } = grown
    const base = sown([{ 'lettuce 1': lettuce, 'lettuce 2': { m2: 2, a: 2, b: 4 }, potato }])
    const gardens = base.gardens.flatMap((one) => [one, { ...one, id: `${one.id}2` }])
    const beds = base.beds.flatMap((one) => [one, { ...one, id: `${one.id}2`, gardenId: `${one.gardenId}2` }])
    const plantings = base.plantings.flatMap((one) => [one, { ...one, id: `${one.id}2`, bedId: `${one.bedId}2` }])
    const assignments = base.assignments.flatMap((one) => [one, { ...one, gardenId: `${one.gardenId}2` }])
    const late = plantings.map((one) => (one.id === '0 lettuce 2 b2' ? { ...one, marketableG: 7000 } : one))
    const four = { ...base, gardens, beds, assignments, plantings: late }
    const { values } = got(layoutValues(four, ['s0'], ['dug', 'mulch']))
    // The last: lettuce (2 + 7) / 3 and potatoes 2 kg per m2, half and half.
    expect(values.map((one) => one.rate)).toEqual([2.5, 2.5, 2, 2.5])
  })
})
