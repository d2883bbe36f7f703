import { describe, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { type LoadSpread, loadsCarried } from '../../src/decisions/loads-carried.ts'
import { metOfTask } from '../../src/decisions/met.ts'
import { valuePage } from '../../src/decisions/value.page.ts'
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

describe('loads carried', () => {
  const load = (bedIds: readonly string[], thousandths: number, input: Partial<LoadSpread['input']> = {}) => ({
    ...{ seasonId: 's', bedIds, quantityThousandths: thousandths },
    input: { name: 'Compost', kind: 'compost', unit: 'm3', densityKgPerM3: 593, ...input },
  })
  const carried = (spread: readonly LoadSpread[], measures: Parameters<typeof loadsCarried>[2]['measures'] = []) =>
    loadsCarried(record, 's', { spread, measures })

  it('are the mass of what was spread, divided by area over two methods, and a barrow of it, by hand', () => {
    // 1.2 m3 at 593 kg/m3 are 711.6 kg; on beds of 40 and 20 m2 two thirds of them; 85 l weigh 50.405 kg.
    const found = carried([load(['a', 'b'], 1200)])
    expect([found.get('mulch')?.grams, found.get('dug')?.grams]).toEqual([474_400, 237_200])
    expect(found.get('mulch')?.heaviest?.barrowG).toBeCloseTo(50_405, 6)
    // The group's own barrow, and the heaviest of two products.
    const wet = load(['a'], 100, { name: 'Manure', kind: 'manure', densityKgPerM3: 1009 })
    const own = carried([load(['a'], 1000), wet], [{ name: 'Barrow', volumeMl: 65_000, massG: null }]).get('mulch')
    expect(own?.heaviest).toMatchObject({ input: 'Manure', barrowMl: 65_000 })
    expect(own?.heaviest?.barrowG).toBeCloseTo(65.585 * 1000, 6)
    expect(own?.grams).toBe(593_000 + 100_900)
  })

  it('are not known of a layer that nobody weighed, and seed and tools are no such loads', () => {
    const bales = load(['a'], 3000, { name: 'Hay', kind: 'mulch', unit: 'bale', densityKgPerM3: null })
    const seed = load(['a'], 3000, { name: 'Seed', kind: 'seed', unit: 'packet', densityKgPerM3: null })
    expect(carried([bales, seed]).get('mulch')).toEqual({ grams: 0, unweighed: 1, heaviest: null })
    expect(carried([seed]).size).toBe(0)
    const rows = worthOfMethods(record, 's', crops)
    const shown = valuePage(
      { season: 's', rows, loads: carried([bales, load(['b'], 1000)]) },
      { locale: 'en', currency: 'EUR' },
    )
    // 593 kg on 20 m2.
    expect(shown.table.rows.map((row) => row[5])).toEqual(['not known', '29.7'])
    expect(shown.barrow).toBe(
      'A full barrow of Compost (85 L) weighs about 50 kg; what was carried on this season comes to 12 of that weight.',
    )
  })

  it('and what an hour brought are written down where it is known, under the method where it brought most', () => {
    const rows = worthOfMethods(record, 's', crops)
    const shown = valuePage({ season: 's', rows, loads: new Map() }, { locale: 'en', currency: 'EUR' })
    expect(shown.handed).toMatchObject({
      finding: shown.answer,
      expected: 'Next season an hour brings €7.50 under Compost mulch again.',
      figure: { measure: 'minorPerHour', methodId: 'mulch', value: 750 },
    })
    const unpriced = rows.map((row) => ({ ...row, unpricedInputs: 1 }))
    expect(
      valuePage({ season: 's', rows: unpriced, loads: new Map() }, { locale: 'en', currency: 'EUR' }).handed,
    ).toBeNull()
  })
})
