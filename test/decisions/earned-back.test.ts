import { describe, expect, it } from 'vitest'
import {
  type EarnedBack,
  earnedBack,
  horizon,
  levelsOf,
  nextSettled,
  type Step,
} from '../../src/decisions/earned-back.ts'
import { labourBeside, type SeasonOfBoth } from '../../src/decisions/labour-of-methods.ts'
import { earnedBackPage } from '../../src/decisions/pay-back.page.ts'
import { stepsOfMethods } from '../../src/decisions/steps-of-methods.ts'

const stepsFrom = (more: readonly number[], settledFrom = 1): Step[] =>
  more.map((one, i) => ({ season: String(2021 + i), more: one, settled: i >= settledFrom }))

function told<K extends EarnedBack['kind']>(found: EarnedBack, kind: K): Extract<EarnedBack, { kind: K }> {
  if (found.kind !== kind) throw new Error(JSON.stringify(found))
  return found as Extract<EarnedBack, { kind: K }>
}

describe('what was taken more is earned back', () => {
  // An exercise in capital budgeting with unequal years: 72,000 laid out; 25,000, 25,000, 15,000, 10,000 and 30,000 come
  // back in 3.7 years, 22,000, 15,000 and 50,000 in 2.7 (justaaa.com, finance 165807, read in November 2026).
  it.each([
    [[72_000, -25_000, -25_000, -15_000, -10_000, -30_000], '2025', 3.7],
    [[72_000, -22_000, -15_000, -50_000], '2024', 2.7],
  ])('as in a published exercise: %s', (more, season, after) => {
    const found = told(earnedBack(stepsFrom(more)), 'earned back')
    expect(found.season).toBe(season)
    expect(found.after).toBeCloseTo(after, 12)
  })

  it('counts from the season at whose end most was owing, and to the last time it came to nothing', () => {
    // 10, 30, 20, -10: most is owing after the second season; 20 of 30 come back in half a season of the fourth.
    expect(levelsOf(stepsFrom([10, 20, -10, -30])).map((one) => one.level)).toEqual([10, 30, 20, -10])
    expect(told(earnedBack(stepsFrom([10, 20, -10, -30])), 'earned back').after).toBeCloseTo(1 + 20 / 30, 12)
    expect(earnedBack(stepsFrom([10, -20, 15])).kind).toBe('not yet')
    // 30, 0, 20, -5: it owed again in between, and the last time counts.
    expect(told(earnedBack(stepsFrom([30, -30, 20, -25])), 'earned back').after).toBeCloseTo(2 + 20 / 25, 12)
    // 0.1 + 0.2 - 0.3 is nothing, though not in binary fractions.
    const nothing = told(earnedBack(stepsFrom([0.1, 0.2, -0.3])), 'earned back')
    expect([nothing.season, Math.round(1e9 * nothing.after) / 1e9]).toEqual(['2023', 1])
  })

  it('what never took more has nothing to earn back, and without a season nothing is known', () => {
    expect(earnedBack(stepsFrom([-5, 3])).kind).toBe('never more')
    expect(earnedBack([]).kind).toBe('no season')
  })

  it('says how many seasons are to come by the settled ones, with the spread of their mean', () => {
    // 40 owing at first, 8 and 12 saved: 20 left at 10 a season; t(0.975, 1) = 12.706, standard error 2: 10 -+ 25.41.
    const found = told(earnedBack(stepsFrom([40, -8, -12])), 'not yet')
    expect([found.owing, found.saved, found.seasons, found.from]).toEqual([20, 10, 2, 2])
    expect(found.low).toBeCloseTo(20 / (10 + 12.70620474 * 2), 8)
    expect(found.high).toBeNull()
    // 9, 10, 11: t(0.975, 2) = 4.30265273, standard error 1/sqrt(3).
    const three = told(earnedBack(stepsFrom([60, -9, -10, -11])), 'not yet')
    expect(three.low).toBeCloseTo(30 / (10 + 4.30265273 / Math.sqrt(3)), 7)
    expect(three.high).toBeCloseTo(30 / (10 - 4.30265273 / Math.sqrt(3)), 7)
    expect(told(earnedBack(stepsFrom([40, -8])), 'not yet')).toMatchObject({ seasons: 4, low: null, high: null })
  })

  it('is not within sight where settled seasons save nothing, too little, or there is none', () => {
    expect(told(earnedBack(stepsFrom([40, 5])), 'not within')).toMatchObject({ owing: 45, saved: -5 })
    expect(told(earnedBack(stepsFrom([40, -1])), 'not within').seasons).toBe(horizon)
    expect(told(earnedBack(stepsFrom([40, -8], 5)), 'not within').saved).toBeNull()
  })
})

describe('the steps of two methods', () => {
  const totals = (bedAreaCm2: number, minutesWithoutHarvest: number, costMinor: number, unpriced = 0) => ({
    ...{ bedAreaCm2, minutesWithoutHarvest, costMinor, unpriced },
  })
  const season = (name: string, own: object, other: object, more: object = {}) =>
    ({ name, closed: true, own, other, ownFounding: 0, otherFounding: 0, ...more }) as unknown as SeasonOfBoth
  const seasons = [
    // 40 m2 with 3000 min and 80.00; 20 m2 with 1000 min and 10.00: 25 min and 1.50 more on a m2.
    season('2024', totals(400_000, 3_000, 8_000), totals(200_000, 1_000, 1_000), { ownFounding: 3_000 }),
    // 40 against 60 min: 20 less; 0.50 against 0.25.
    season('2025', totals(400_000, 1_600, 2_000), totals(200_000, 1_200, 500)),
    season('2026', totals(400_000, 9_999, 0), totals(200_000, 0, 0), { closed: false }),
  ]

  it('stand on a m2 of each, in closed seasons, in hours, in money, and in both at the worth of an hour', () => {
    const steps = stepsOfMethods(seasons, 1_200)
    expect(steps.hours).toEqual([
      { season: '2024', own: 75, other: 50, more: 25, settled: false },
      { season: '2025', own: 40, other: 60, more: -20, settled: true },
    ])
    expect(steps.inputs.map((one) => one.more)).toEqual([150, 25])
    expect(steps.together?.map((one) => one.more)).toEqual([650, -375])
    expect(stepsOfMethods(seasons, null).together).toBeNull()
    expect(told(earnedBack(steps.hours), 'not yet').seasons).toBeCloseTo(5 / 20, 12)
  })

  it('stand in the table summed, of each method and of their difference', () => {
    const pair = { own: 'a', other: 'b' }
    const paid = { ...pair, beside: labourBeside(seasons), steps: stepsOfMethods(seasons, null) }
    const page = earnedBackPage(paid, { own: 'Mulch', other: 'Dug' }, { locale: 'en', currency: 'EUR' })
    expect(page.pictures[0]?.rows).toEqual([
      ['2024', '1.25 h', '0.83 h', '0.42 h', '0.42 h'],
      ['2025', '1.92 h', '1.83 h', '−0.33 h', '0.08 h'],
    ])
    expect(page.pictures[1]?.rows.map((row) => row.at(-1))).toEqual(['€1.50', '€1.75'])
    // One settled season says what the next may take, and no range.
    expect(page.handed.figure).toEqual({
      ...{ measure: 'hoursPerBed', methodId: 'a', besideMethodId: 'b', value: -20 / 60, range: null },
    })
  })

  it('say what a settled season to come takes, with the range of a single one, by Student’s t', () => {
    const steps = stepsFrom([30, -12, -10, -14], 1)
    // Mean -12, s 2, t(2) 4.302653: 2 x 4.302653 x sqrt(1 + 1/3) = 9.936551.
    const next = nextSettled(steps)
    expect(next?.value).toBe(-12)
    expect(next?.range?.low).toBeCloseTo(-21.936551, 5)
    expect(next?.range?.high).toBeCloseTo(-2.063449, 5)
    expect(nextSettled(stepsFrom([30], 1))).toBeNull()
  })

  it('count what has no price', () => {
    const without = season('2024', totals(1, 1, 1, 2), totals(1, 1, 1, 1))
    expect(stepsOfMethods([without], null).unpriced).toBe(3)
  })
})
