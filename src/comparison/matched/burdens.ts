import type { MethodTotals } from '../totals/method-totals.ts'

/** Minutes or minor units. */
export const spentOn = {
  hoursPerBed: (t: MethodTotals) => t.minutesWithoutHarvest,
  hoursPerKg: (t: MethodTotals) => t.minutesWithoutHarvest + t.minutesOfHarvest,
  costPerKg: (t: MethodTotals) => t.cashMinor,
} as const

export type Burden = keyof typeof spentOn
export const burdenKeys = Object.keys(spentOn) as Burden[]

/** Of one cm2 or of one gram. */
export const burdenOf = (burden: Burden, totals: MethodTotals) =>
  spentOn[burden](totals) / totals[burden === 'hoursPerBed' ? 'bedAreaCm2' : 'marketableG']

/**
 * All that it rests on is known: at most a part of the weeks of hours open where hours are what is compared, none otherwise, no unpriced input, and per kg no open week of weights and no planting
 * that still stands. What nobody closed is unknown, and never zero.
 */
export function isWhole(t: MethodTotals, burden: Burden, least = 1): boolean {
  const weighed = burden === 'hoursPerBed' || (t.weightsClosed === t.weeks && t.standing === 0)
  return weighed && (burden === 'costPerKg' ? t.unpricedCash === 0 : t.hoursClosed >= least * t.weeks)
}
