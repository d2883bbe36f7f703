import type { MethodTotals } from '../totals/method-totals.ts'
import { leastClosed } from './closed-seasons.ts'

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

/** Why a season of a method tells nothing of a burden yet. */
export type NotWhole = 'weeks open' | 'still stands' | 'no price'

/**
 * Why not enough of what it rests on is known; null where it is: nine tenths of its weeks closed, of hours and per kg of weights
 * too, so that what the others may hold can be bounded; per kg no planting that still stands, of costs no input without a price.
 * What nobody closed is unknown, and never zero.
 */
export function notWhole(t: MethodTotals, burden: Burden): NotWhole | null {
  const enough = (closed: number) => closed >= leastClosed * t.weeks
  if (burden !== 'costPerKg' && !enough(t.hoursClosed)) return 'weeks open'
  if (burden !== 'hoursPerBed' && !enough(t.weightsClosed)) return 'weeks open'
  if (burden !== 'hoursPerBed' && t.standing > 0) return 'still stands'
  return burden === 'costPerKg' && t.unpricedCash > 0 ? 'no price' : null
}

export const isWhole = (t: MethodTotals, burden: Burden): boolean => notWhole(t, burden) === null
