import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ifOnly } from '../../src/comparison/matched/if-only.ts'
import { matchedSeason, plainRules } from '../../src/comparison/matched/matched-season.ts'
import { perKgGap } from '../../src/comparison/matched/per-kg-gap.ts'
import type { LabourRecord, TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { cropMeasures } from '../../src/comparison/totals/crop-measures.ts'
import { type Measure, type MeasureKey, measureKeys, measureOf } from '../../src/comparison/totals/figures.ts'
import { labourByTask } from '../../src/comparison/totals/labour-by-task.ts'
import { gardensThatFailed, lossesByCause } from '../../src/comparison/totals/losses-by-cause.ts'
import { type MeasureRules, plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import { methodTotals } from '../../src/comparison/totals/method-totals.ts'
import { hoursBounds } from '../../src/comparison/totals/missing-hours.ts'
import { atMostWeights } from '../../src/comparison/totals/missing-weights.ts'
import { regrouped } from '../../src/comparison/totals/regrouped.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { aDay, aWeek } from '../support/calendar.ts'
import { got, pair, recordOf } from '../support/record.ts'

const carrots = (a: number, b: number) => ({ carrot: { m2: 4, a, b } })
const hours = (seasonId: string, bedId: string, minutes: number, more: Partial<LabourRecord> = {}): LabourRecord => ({
  ...{ seasonId, task: 'weeding', phase: 'established', personMinutes: minutes, bedIds: [bedId], ...more },
})
const measured = (record: TrialRecord, seasonId: string, methodId: string, rules: Partial<MeasureRules> = {}) => {
  const totals = methodTotals(record, seasonId).get(methodId)
  if (!totals) throw new Error(methodId)
  const of = (key: MeasureKey) => measureOf(totals, key, { ...plainMeasureRules, ...rules })
  return Object.fromEntries(measureKeys.map((key) => [key, of(key)])) as Record<MeasureKey, Measure>
}

describe('establishing is spread over the seasons that the group states, worked by hand', () => {
  const base = recordOf([carrots(10, 10), carrots(10, 10), carrots(10, 10)])
  const record: TrialRecord = {
    ...base,
    methods: base.methods.map((one) => (one.id === 'mulch' ? { ...one, establishingSeasons: 3 } : one)),
    labour: [hours('s0', 'b', 600, { phase: 'establishing' }), hours('s0', 'b', 60), hours('s1', 'b', 120)],
    spreadings: [
      { seasonId: 's0', costMinor: 900, usefulLifeSeasons: 1, bedIds: ['b'], phase: 'establishing', kind: 'mulch' },
    ],
  }
  // 100 m2 of bed: 660, 60 and 260 minutes; 600 spread is 200 a season.
  it.each([
    ['s0', 'counted', 660, 900],
    ['s0', 'left out', 60, 0],
    ['s0', 'spread', 260, 300],
    ['s1', 'counted', 120, 0],
    ['s1', 'spread', 320, 300],
    ['s2', 'spread', 200, 300],
  ] as const)('%s, %s', (season, establishing, minutes, minor) => {
    const found = measured(record, season, 'mulch', { establishing })
    expect([found.hoursPerArea.numerator, found.costPerArea.numerator]).toEqual([minutes, minor])
    expect(found.hoursPerArea.value).toBeCloseTo(minutes / 60 / 100, 12)
  })
})

it('own compost is free with its hours, or valued without them, and never both', () => {
  const base = recordOf([carrots(10, 10)])
  const record: TrialRecord = {
    ...base,
    labour: [hours('s0', 'b', 90, { task: 'making compost' }), hours('s0', 'b', 60)],
    spreadings: [{ seasonId: 's0', costMinor: 5000, cashMinor: 200, usefulLifeSeasons: 1, bedIds: ['b'] }],
  }
  const free = measured(record, 's0', 'mulch')
  const valued = measured(record, 's0', 'mulch', { ownMade: 'valued' })
  expect([free.hoursPerArea.numerator, free.costPerKg.numerator]).toEqual([150, 200])
  expect([valued.hoursPerArea.numerator, valued.costPerKg.numerator]).toEqual([60, 5000])
})

it('gardens and beds add up to their methods, to the gram, the minute and the minor unit', () => {
  const base = recordOf([{ carrot: { m2: 4, a: 7, b: 11 }, leek: { m2: 3, a: 2, b: 5 } }])
  const beds = [
    ...base.beds,
    { id: 'a2', gardenId: 'A', areas: always(333_333) },
    { id: 'b2', gardenId: 'B', areas: always(777_777) },
  ]
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: 0, max: 99_999 }), (minutes, minor) => {
      const record: TrialRecord = {
        ...{ ...base, beds },
        labour: [hours('s0', 'a', minutes, { bedIds: ['a', 'a2', 'b', 'b2'] })],
        spreadings: [{ seasonId: 's0', costMinor: minor, usefulLifeSeasons: 1, bedIds: ['a2', 'b', 'b2'] }],
      }
      const sums = (['method', 'garden', 'bed'] as const).map((by) => {
        const all = [...methodTotals(regrouped(record, by), 's0').values()]
        const of = (key: 'marketableG' | 'minutesWithoutHarvest' | 'costMinor' | 'bedAreaCm2') =>
          all.reduce((sum, one) => sum + one[key], 0)
        return [of('marketableG'), of('minutesWithoutHarvest'), of('costMinor'), of('bedAreaCm2')]
      })
      expect(sums[1]).toEqual(sums[0])
      expect(sums[2]).toEqual(sums[0])
      expect(sums[0]?.slice(1, 3)).toEqual([minutes, minor])
    }),
  )
})

it('a copy of a garden, with all that grew in it, changes no ratio', () => {
  const weights = fc.record({ a: fc.integer({ min: 1, max: 90 }), b: fc.integer({ min: 1, max: 90 }) })
  fc.assert(
    fc.property(fc.array(weights, { minLength: 1, maxLength: 4 }), (grown) => {
      const base = recordOf([Object.fromEntries(grown.map((one, i) => [`crop ${i}`, { m2: 4 + i, ...one }]))])
      const record = { ...base, labour: [hours('s0', 'a', 100), hours('s0', 'b', 70)] }
      const copied: TrialRecord = {
        ...record,
        gardens: [...record.gardens, { id: 'B2', name: 'Long Bank again', areas: always(2_000_000) }],
        beds: [...record.beds, { id: 'b2', gardenId: 'B2', areas: always(1_000_000) }],
        assignments: [...record.assignments, { seasonId: 's0', gardenId: 'B2', bedId: null, methodId: 'mulch' }],
        plantings: [
          ...record.plantings,
          ...record.plantings
            .filter((one) => one.bedId === 'b')
            .map((one) => ({ ...one, id: `again ${one.id}`, bedId: 'b2' })),
        ],
        labour: [...record.labour, hours('s0', 'b2', 70)],
      }
      const [one, two] = [matchedSeason(record, 's0', pair), matchedSeason(copied, 's0', pair)]
      // The copy weighs in the pooled mix: with the crops alike it changes nothing at all.
      const alike = { ...plainRules, mix: 'equal parts' as const }
      const [even, same] = [matchedSeason(record, 's0', pair, alike), matchedSeason(copied, 's0', pair, alike)]
      expect(got(same).logRatio).toBeCloseTo(got(even).logRatio, 12)
      expect(got(two).crops.map((crop) => crop.ratio)).toEqual(got(one).crops.map((crop) => crop.ratio))
      for (const key of ['kgPerArea', 'hoursPerArea', 'hoursPerKg'] as const) {
        expect(measured(copied, 's0', 'mulch')[key].value).toBeCloseTo(
          measured(record, 's0', 'mulch')[key].value ?? 0,
          12,
        )
      }
    }),
  )
})

it('hours and costs of a crop exist only where they were written for its plantings', () => {
  const base = recordOf([{ carrot: { m2: 4, a: 8, b: 8 }, leek: { m2: 4, a: 4, b: 4 } }])
  const record = { ...base, labour: [hours('s0', 'a', 120, { plantingId: '0 carrot a' }), hours('s0', 'a', 300)] }
  const crops = cropMeasures(record, ['s0'], 'dug', plainMeasureRules)
  expect(crops.map(({ crop, minutes, costMinor }) => [crop, minutes, costMinor])).toEqual([
    ['carrot, x', 120, null],
    ['leek, x', null, null],
  ])
  expect(perKgGap(record, 's0', pair)).toMatchObject({ kind: 'refused', reason: 'nothing in common' })
  const inputs = ['a', 'b'].map((bed, i) => ({
    ...{ seasonId: 's0', costMinor: 400 * (i + 1), usefulLifeSeasons: 1, bedIds: [bed], plantingId: `0 carrot ${bed}` },
  }))
  const cost = got(perKgGap({ ...record, spreadings: inputs }, 's0', pair, 'costMinor'))
  // 4.00 and 8.00 for 8 kg each, all of it written for the carrots.
  expect([cost.crudeA, cost.crudeB, cost.rateEffect, cost.coveredA, cost.coveredB]).toEqual([50, 100, 50, 1, 1])
  const both = { ...record, labour: [...record.labour, hours('s0', 'b', 60, { plantingId: '0 carrot b' })] }
  const gap = got(perKgGap(both, 's0', pair))
  // 2 h for 8 kg against 1 h for 8 kg; 120 of 420 minutes are written by crop under the first, all under the second.
  expect([gap.crudeA, gap.crudeB, gap.rateEffect, gap.mixEffect]).toEqual([0.25, 0.125, -0.125, 0])
  expect([gap.coveredA, gap.coveredB]).toEqual([120 / 420, 1])
})

describe('losses by cause, worked by hand', () => {
  const base = recordOf([{ carrot: { m2: 4, a: 6, b: 8 }, potato: { m2: 4, a: 8, b: 0 } }])
  const lost = (plantingId: string, sharePermille: number, cause: string, more = {}) => ({
    ...{
      plantingId,
      lostOn: aDay('2020-01-08'),
      sharePermille,
      cause,
      outsideMethod: false,
      alsoNextDoor: 'no',
      ...more,
    },
  })
  const record: TrialRecord = {
    ...base,
    losses: [
      lost('0 carrot a', 250, 'pest'),
      lost('0 carrot a', 500, 'weather', { outsideMethod: true, alsoNextDoor: 'yes' }),
      lost('0 potato b', 1000, 'pest'),
    ],
  }
  const [dug, mulch] = lossesByCause(record, ['s0'])

  it('each takes its share of what still stood, and is told by cause, inside and outside the method', () => {
    // A quarter of 4 m2, then half of the 3 m2 that were left; 8 m2 planted.
    expect(dug?.causes.map((one) => [one.cause, one.outsideMethod, one.areaPermille / 1e7])).toEqual([
      ['pest', false, 1],
      ['weather', true, 1.5],
    ])
    expect(dug?.causes[1]?.nextDoor).toMatchObject({ yes: 1, no: 0 })
    expect([dug?.failed, mulch?.failed, mulch?.plantings]).toEqual([0, 1, 2])
  })

  it('the yield is how often it failed times how it did where it stood', () => {
    // 14 kg on 8 m2 of which 5.5 still stood; 8 kg on 8 m2 of which 4 stood.
    expect(dug?.lostShare).toBeCloseTo(2.5 / 8, 12)
    expect(dug?.kgPerM2Standing).toBeCloseTo(14 / 5.5, 12)
    for (const one of [dug, mulch]) {
      expect(one?.kgPerM2Planted).toBeCloseTo((1 - (one?.lostShare ?? 0)) * (one?.kgPerM2Standing ?? 0), 12)
    }
  })

  it('has no interval with one garden a method', () => {
    expect(gardensThatFailed(record, ['s0'], pair)).toMatchObject({ kind: 'refused', reason: 'no error term' })
  })
})

it('three methods at once: what each factor alone would have made adds up to the gaps', () => {
  const base = recordOf([{ carrot: { m2: 4, a: 6, b: 9 }, leek: { m2: 6, a: 5, b: 4 } }])
  const third = base.plantings
    .filter((one) => one.bedId === 'a')
    .map((one, i) => ({ ...one, id: `c ${one.id}`, bedId: 'c', areaCm2: 30_000 + 20_000 * i, marketableG: 7000 }))
  const record: TrialRecord = {
    ...base,
    methods: [...base.methods, { id: 'hay', name: 'Hay' }],
    gardens: [...base.gardens, { id: 'C', name: 'Hay Meadow', areas: always(1_500_000) }],
    beds: [...base.beds, { id: 'c', gardenId: 'C', areas: always(900_000) }],
    assignments: [...base.assignments, { seasonId: 's0', gardenId: 'C', bedId: null, methodId: 'hay' }],
    plantings: [...base.plantings, ...third],
  }
  const found = got(ifOnly(record, 's0', ['dug', 'mulch', 'hay']))
  expect(found.crude[0]).toBeCloseTo(11 / 100, 12)
  for (const [i, j] of [
    [0, 1],
    [0, 2],
    [1, 2],
  ] as const) {
    const parts = Object.values(found.standardised).map((rates) => (rates[j] ?? 0) - (rates[i] ?? 0))
    expect(parts.reduce((sum, part) => sum + part, 0)).toBeCloseTo((found.crude[j] ?? 0) - (found.crude[i] ?? 0), 10)
  }
  expect(ifOnly(record, 's0', ['dug', 'mulch'])).toMatchObject({ kind: 'refused' })
})

it('labour by task adds up to the totals, and keeps the weeks apart', () => {
  const base = recordOf([carrots(1, 1)])
  const record = {
    ...base,
    labour: [
      hours('s0', 'a', 61, { bedIds: ['a', 'b'], isoWeek: '2020-W02' }),
      hours('s0', 'b', 30, { task: 'harvest', isoWeek: '2020-W03', phase: 'establishing' }),
    ],
  } as const
  const [dug, mulch] = labourByTask(record, ['s0'])
  expect([dug?.byTask.weeding?.minutes, mulch?.byTask.weeding?.minutes]).toEqual([31, 30])
  expect(mulch?.byTask.harvest).toEqual({ minutes: 30, establishing: 30 })
  expect(mulch?.byWeek).toEqual([
    { week: '2020-W02', task: 'weeding', minutes: 30 },
    { week: '2020-W03', task: 'harvest', minutes: 30 },
  ])
})

describe('open weeks', () => {
  /** Twenty weeks of carrots; the garden of the mulch has one week of weights and one of hours open. */
  const weeks = Array.from({ length: 20 }, (_, i) => aWeek(`2020-W${String(i + 2).padStart(2, '0')}`))
  const [base] = [recordOf([carrots(20, 20)])]
  const open = '2020-W10'
  const closings = ['A', 'B'].flatMap((gardenId) =>
    ['hours', 'weights'].flatMap((what) =>
      weeks.filter((week) => gardenId === 'A' || week !== open).map((isoWeek) => ({ gardenId, isoWeek, what })),
    ),
  )
  const record: TrialRecord = {
    ...base,
    seasons: [
      { id: 's0', name: 's0', startsOn: '2020-01-06', endsOn: '2020-05-24', closed: true, changedSince: 0, sealed: 0 },
    ],
    closings,
    plantings: base.plantings.map((one) => ({
      ...{ ...one, from: '2020-01-06', to: '2020-05-20' },
      weighed: weeks.map((isoWeek, i) => ({ isoWeek, marketableG: isoWeek === open ? 0 : 100 * i, unmarketableG: 0 })),
    })),
    labour: weeks.map((isoWeek, i) => hours('s0', 'b', isoWeek === open ? 5 : 10 + i, { isoWeek })),
  }

  it('may hold the most of the closed weeks within three calendar weeks, and no less than what is entered', () => {
    const high = got(atMostWeights(record, ['s0'], 'mulch'))
    // 2020-W13 is the twelfth week of the list, counted from 0: 1,100 g.
    const of = (one: TrialRecord) => one.plantings.find((planting) => planting.bedId === 'b')?.marketableG
    expect(of(high.record)).toBe((of(record) ?? 0) + 1100)
    expect(high.openWeeks).toBe(1)
    expect(got(atMostWeights(record, ['s0'], 'dug'))).toMatchObject({
      openWeeks: 0,
      record: { plantings: record.plantings },
    })
    const bounds = got(hoursBounds(record, 's0', 'mulch'))
    expect(bounds.high - bounds.low).toBe(21 - 5)
  })

  it('are refused where fewer than five such weeks are closed', () => {
    const few = { ...record, closings: closings.filter((one) => one.isoWeek > '2020-W12' || one.isoWeek < '2020-W07') }
    expect(atMostWeights(few, ['s0'], 'mulch')).toMatchObject({ kind: 'refused', reason: 'too few' })
    expect(hoursBounds(few, 's0', 'mulch')).toMatchObject({ kind: 'refused', reason: 'too few' })
  })

  it('never lower a total, whatever was weighed and closed', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.constantFrom(...weeks), { minLength: 5 }), (kept) => {
        const some = { ...record, closings: closings.filter((one) => kept.includes(one.isoWeek)) }
        const high = atMostWeights(some, ['s0'], 'mulch')
        if (high.kind === 'refused') {
          expect(high.reason).toBe('too few')
          return
        }
        high.record.plantings.forEach((one, i) => {
          expect(one.marketableG).toBeGreaterThanOrEqual(record.plantings[i]?.marketableG ?? 0)
        })
      }),
    )
  })
})
