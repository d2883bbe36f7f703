import { describe, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { metOfTask } from '../../src/decisions/met.ts'
import { returnPerHour, worthOfMethods } from '../../src/decisions/value-and-effort.ts'
import { taskNames } from '../../src/diary/tasks.ts'
import { always } from '../../src/gardens/areas-held.ts'

const planting = (bedId: string, crop: string, marketableG: number, seasonId = 's') => ({
  ...{ id: `${bedId}${crop}`, seasonId, bedId, crop, cultivar: '', matchedSetId: null, areaCm2: 100_000 },
  ...{ purpose: 'harvest', cleared: true, marketableG, unmarketableG: 500 },
})
const worked = (bedIds: string[], task: string, personMinutes: number) => ({
  ...{ seasonId: 's', phase: 'established', task, personMinutes, bedIds },
})
const record = {
  seasons: [
    { id: 's', name: '2026', startsOn: '2026-01-05', endsOn: '2026-01-11', closed: true, changedSince: 0, sealed: 0 },
  ],
  methods: [
    { id: 'mulch', name: 'Compost mulch' },
    { id: 'dug', name: 'Dug' },
    { id: 'none', name: 'Without ground' },
  ],
  gardens: [
    { id: 'bank', name: 'Long Bank', areas: always(400_000) },
    { id: 'terrace', name: 'Lower Terrace', areas: always(200_000) },
  ],
  beds: [
    { id: 'a', gardenId: 'bank', areas: always(400_000) },
    { id: 'b', gardenId: 'terrace', areas: always(200_000) },
  ],
  assignments: [
    { seasonId: 's', gardenId: 'bank', bedId: null, methodId: 'mulch' },
    { seasonId: 's', gardenId: 'terrace', bedId: null, methodId: 'dug' },
  ],
  plantings: [
    planting('a', 'leek', 10_000),
    planting('a', 'herbs', 1_000),
    planting('b', 'leek', 6_000),
    planting('a', 'leek', 99_000, 'another'),
  ],
  labour: [
    worked(['a'], 'preparing beds', 150),
    worked(['a'], 'recording', 30),
    worked(['a', 'b'], 'weeding', 90),
    worked(['b'], 'harvest', 60),
  ],
  spreadings: [
    { seasonId: 's', costMinor: 1_000, usefulLifeSeasons: 1, bedIds: ['a'] },
    { seasonId: 's', costMinor: null, usefulLifeSeasons: 1, bedIds: ['b'] },
  ],
  ...{ losses: [], closings: [{ gardenId: 'bank', isoWeek: '2026-W02', what: 'hours' }] },
} as unknown as TrialRecord
// Raw leek, USDA National Nutrient Database 11246: 61 kcal in 100 g, 56 per cent refuse.
const crops = [{ name: 'leek', priceMinorPerKg: 400, energyKcalPer100g: 61, refusePercent: 56 }]

describe('value and effort', () => {
  it('of each method with ground: worth, food, inputs and effort, worked by hand', () => {
    const [mulch, dug, more] = worthOfMethods(record, 's', crops)
    // 10 kg at 4.00; 100 x 61 x 0.44 = 2684 kcal; 60 of the 90 min of weeding lie on the 40 of 60 m2.
    expect(mulch).toEqual({
      ...{
        methodId: 'mulch',
        name: 'Compost mulch',
        areaCm2: 400_000,
        marketableG: 11_000,
        worthMinor: 4_000,
        unpricedG: 1_000,
      },
      ...{ energyKcal: 2_684, unknownEnergyG: 1_000, inputsMinor: 1_000, unpricedInputs: 0 },
      ...{ minutes: 240, metTenthMinutes: 150 * 50 + 60 * 45, withoutCodeMinutes: 30, openWeeks: 1 },
    })
    expect(dug).toMatchObject({ worthMinor: 2_400, unpricedInputs: 1, minutes: 90, openWeeks: 2 })
    expect(dug?.metTenthMinutes).toBe(30 * 45 + 60 * 35)
    expect(more).toBeUndefined()
  })

  it('an hour after inputs: 40.00 less 10.00 over 4 h, and at prices a fifth lower; not where an input has no price', () => {
    const [mulch, dug] = worthOfMethods(record, 's', crops)
    if (!mulch || !dug) throw new Error('both have ground')
    expect(returnPerHour(mulch, 1)).toBe(750)
    expect(returnPerHour(mulch, 0.8)).toBe(550)
    expect(returnPerHour(dug, 1)).toBeNull()
    expect(returnPerHour({ ...mulch, minutes: 0 }, 1)).toBeNull()
    // 1 of 11 kg has no price; above a tenth the worth of the harvest is not known.
    expect(returnPerHour({ ...mulch, unpricedG: 1_101 }, 1)).toBeNull()
  })

  // 2011 Compendium: 2.5 h of digging at 5.0 are 12.5 MET-h.
  it('2.5 hours of digging are 12.5 MET-hours, and each task has a code or none on purpose', () => {
    expect((150 * (metOfTask['preparing beds']?.tenths ?? 0)) / 600).toBe(12.5)
    expect(taskNames.filter((task) => metOfTask[task] === null)).toEqual([
      ...['washing and packing', 'tools and fences', 'recording', 'other'],
    ])
    for (const task of taskNames) expect(metOfTask[task]?.code ?? '08245').toMatch(/^08\d{3}$/)
  })
})
