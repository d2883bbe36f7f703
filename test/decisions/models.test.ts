import { describe, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { buildUp, compostPlan } from '../../src/decisions/compost-plan.ts'
import { earnedBack } from '../../src/decisions/earned-back.ts'
import { labourBeside, seasonsOfBoth } from '../../src/decisions/labour-of-methods.ts'
import { offtakeOf } from '../../src/decisions/offtake.ts'
import { longestLead, orderBy } from '../../src/decisions/order-day.ts'
import { thingCost } from '../../src/decisions/pay-back.ts'
import { stepsOfMethods } from '../../src/decisions/steps-of-methods.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { phosphorusInOxide } from '../../src/inputs/nutrients.ts'

function answered<T extends { kind: string }>(found: T): Extract<T, { kind: 'answer' }> {
  if (found.kind !== 'answer') throw new Error(JSON.stringify(found))
  return found as Extract<T, { kind: 'answer' }>
}

const layer = {
  ...{ areaCm2: 10_000, depthMm: 50, densityKgPerM3: 600, moisturePermille: 500 },
  ...{ nitrogenMgPerKg: 15_000, phosphorusMgPerKg: 4_000, potassiumMgPerKg: 10_000 },
  ...{ priceMinorPerM3: 6_000, carriageMinor: 900 },
}

describe('a layer of compost', () => {
  it('5 cm at 600 kg/m3, half dry, 1.5-0.4-1.0 per cent: 30 kg with 225 g N, 60 g P, 150 g K on each m2', () => {
    const plan = answered(compostPlan(layer))
    expect(plan).toMatchObject({ volumeMl: 50_000, freshG: 30_000, dryG: 15_000, costMinor: 1_200 })
    expect([plan.nitrogen?.grams, plan.phosphorus?.grams, plan.potassium?.grams]).toEqual([225, 60, 150])
    // 225 g/m2 are 2250 kg a hectare.
    expect((plan.nitrogen?.perM2 ?? 0) * 10).toBe(2_250)
  })

  it('on 48 m2 at 3 cm takes 1.44 m3, and costs its price and carriage', () => {
    const plan = answered(compostPlan({ ...layer, areaCm2: 480_000, depthMm: 30 }))
    expect(plan.volumeMl).toBe(1_440_000)
    expect(plan.costMinor).toBe(9_540)
    expect(plan.costMinorPerM2).toBeCloseTo(198.75, 10)
  })

  it('what is not known stays unknown, and no ground is refused', () => {
    const plan = answered(compostPlan({ ...layer, phosphorusMgPerKg: null, priceMinorPerM3: null }))
    expect([plan.phosphorus, plan.costMinor, plan.nitrogen?.grams]).toEqual([null, null, 225])
    expect(compostPlan({ ...layer, areaCm2: 0 }).kind).toBe('refused')
  })

  it('100 kg of carrots carry off 149 g N, 35 g P and 320 g K; a crop without figures is counted apart', () => {
    const carrot = { name: 'carrot', proteinMgPer100g: 930, phosphorusMgPer100g: 35, potassiumMgPer100g: 320 }
    const harvested = [
      { crop: 'carrot', marketableG: 90_000, unmarketableG: 10_000 },
      { crop: 'sorrel', marketableG: 500, unmarketableG: 0 },
    ]
    const found = offtakeOf(harvested, [carrot])
    expect(found.nitrogenG).toBeCloseTo(148.8, 6)
    expect([found.phosphorusG, found.potassiumG, found.unknownG]).toEqual([35, 320, 500])
    // The national handbook of the United Kingdom (RB209, 2020) has 0.7 kg P2O5 in a tonne of carrots: 31 g P in 100 kg.
    expect(Math.abs(found.phosphorusG - 700 * phosphorusInOxide * 0.1)).toBeLessThan(5)
  })

  it('150 g K on and 15 g off leave 135 a season, and 5 mm of the 50 would replace it', () => {
    const found = answered(buildUp({ supplyGPerM2: 150, offtakeGPerM2: 15, depthMm: 50, seasons: 3 }))
    expect(found).toMatchObject({ surplusGPerM2: 135, afterSeasonsGPerM2: 405, seasonsCarried: 10, replacingMm: 5 })
    expect(buildUp({ supplyGPerM2: 150, offtakeGPerM2: 0, depthMm: 50, seasons: 3 }).kind).toBe('refused')
  })

  it('is ordered early enough for the slowest load so far', () => {
    const loads = [
      { orderedOn: '2025-06-10', deliveredOn: '2025-07-08' },
      { orderedOn: '2024-08-20', deliveredOn: '2024-10-29' },
      { orderedOn: '2026-06-20', deliveredOn: null },
    ] as const
    expect(longestLead(loads)).toBe(70)
    expect(orderBy('2026-08-01', 70)).toBe('2026-05-23')
    expect(longestLead(loads.slice(2))).toBeNull()
  })
})

describe('a thing that is bought', () => {
  // Capital recovery factors, and the tunnel of 2000 with a salvage of 200 over 15 years at 5 per cent, computed in R.
  it.each([
    [0.1, 10, 0.16274539488],
    [0.05, 5, 0.23097479813],
    [0.03, 8, 0.14245638883],
    [0.05, 15, 0.09634228761],
  ])('the factor of capital recovery at rate %s over %s years', (rate, years, factor) => {
    const thing = { priceMinor: 1, salvageMinor: 0, years, rate, minutesSavedPerYear: 0 }
    expect(answered(thingCost(thing)).recoveryMinor).toBeCloseTo(factor, 10)
    expect(answered(thingCost(thing)).straightMinor).toBeCloseTo(1 / years, 12)
  })

  it('a machine of 93,500 worth 25,300 after 15 years, as in Iowa State A3-29, costs 7,835.54 a year', () => {
    const thing = { priceMinor: 9_350_000, salvageMinor: 2_530_000, years: 15, rate: 0.05, minutesSavedPerYear: 6_000 }
    const found = answered(thingCost(thing))
    expect(found.recoveryMinor).toBeCloseTo(783_554.4, 1)
    expect(found.minorPerHourSaved).toBeCloseTo(7_835.544, 2)
    const tunnel = { priceMinor: 200_000, salvageMinor: 20_000, years: 15, rate: 0.05, minutesSavedPerYear: 0 }
    expect(answered(thingCost(tunnel))).toMatchObject({ straightMinor: 12_000, minorPerHourSaved: null })
    expect(answered(thingCost(tunnel)).recoveryMinor).toBeCloseTo(18_341.61177, 4)
    expect(thingCost({ ...tunnel, years: 0 }).kind).toBe('refused')
  })
})

describe('labour of one method beside another, from the record', () => {
  const season = (id: string, closed = true) => ({ id, name: id, startsOn: '2025-01-06', endsOn: '2025-01-19', closed })
  const assigned = (seasonId: string) => [
    { seasonId, gardenId: 'bank', bedId: null, methodId: 'mulch' },
    { seasonId, gardenId: 'terrace', bedId: null, methodId: 'dug' },
  ]
  const worked = (seasonId: string, bedId: string, phase: string, task: string, personMinutes: number) => ({
    ...{ seasonId, phase, task, personMinutes, bedIds: [bedId] },
  })
  const record = {
    seasons: [season('first'), season('second'), season('running', false)],
    methods: [
      { id: 'mulch', name: 'Compost mulch' },
      { id: 'dug', name: 'Dug' },
    ],
    gardens: [
      { id: 'bank', name: 'Long Bank', areas: always(400_000) },
      { id: 'terrace', name: 'Lower Terrace', areas: always(200_000) },
    ],
    beds: [
      { id: 'a', gardenId: 'bank', areas: always(400_000) },
      { id: 'b', gardenId: 'terrace', areas: always(200_000) },
    ],
    assignments: ['first', 'second', 'running'].flatMap(assigned),
    labour: [
      worked('first', 'a', 'establishing', 'spreading mulch or compost', 3_000),
      worked('first', 'a', 'establishing', 'harvest', 500),
      worked('first', 'b', 'established', 'weeding', 1_000),
      worked('second', 'a', 'established', 'weeding', 1_600),
      worked('second', 'b', 'established', 'weeding', 1_200),
      worked('running', 'b', 'established', 'weeding', 9_999),
    ],
    ...{
      plantings: [],
      losses: [],
      spreadings: [],
      closings: [{ gardenId: 'bank', isoWeek: '2025-W02', what: 'hours' }],
    },
  } as unknown as TrialRecord

  it('takes establishing without harvest, what it took more, and whole seasons of neither', () => {
    // In the first season 3000 min on 40 m2; the other's 1000 min on 20 m2 would have been 2000 there: 1000 more.
    // Four garden-weeks a season of both, two seasons used: eight, of which one garden-week of each season is closed.
    expect(labourBeside(seasonsOfBoth(record, 'mulch', 'dug'))).toEqual({
      establishingSeasons: ['first'],
      establishing: { minutes: 3_000, areaCm2: 400_000 },
      extra: { minutes: 1_000, areaCm2: 400_000 },
      settledSeasons: ['second'],
      otherEstablishingToo: false,
      openWeeks: 6,
    })
  })

  it('so that 25 minutes a m2 are earned back at 20 a season in a quarter of a season more', () => {
    // 3000 on 40 m2 against 1000 on 20 m2: 25 more on each m2; then 40 against 60.
    const { hours } = stepsOfMethods(seasonsOfBoth(record, 'mulch', 'dug'), null)
    expect(hours.map((step) => step.more)).toEqual([25, -20])
    expect(earnedBack(hours)).toMatchObject({ kind: 'not yet', owing: 5, saved: 20, seasons: 0.25, from: 1 })
  })

  it('the other way round there was nothing to establish', () => {
    expect(labourBeside(seasonsOfBoth(record, 'dug', 'mulch')).establishing.minutes).toBe(0)
  })
})
