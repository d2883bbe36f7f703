import { type FigureKey, figureOf, type MethodTotals } from '../totals/figures.ts'
import { leastClosed } from './closed-seasons.ts'

/** The figures that say what was spent, on the ground or on what came off it. */
export const burdenKeys = ['hoursPerBed', 'hoursPerKg', 'costPerKg'] as const satisfies readonly FigureKey[]
export type Burden = (typeof burdenKeys)[number]

/** Minutes or minor units. */
export const spentOn = (burden: Burden, totals: MethodTotals): number => figureOf(totals, burden).numerator

/** Of one cm2 or of one gram. */
export function burdenOf(burden: Burden, totals: MethodTotals): number {
  const { numerator, denominator } = figureOf(totals, burden)
  return numerator / denominator
}

/** Why a season of a method tells nothing of a burden yet. */
export type NotWhole = 'weeks open' | 'still stands' | 'no price'

/**
 * Why not enough of what it rests on is known; null where it is: nine tenths of its weeks closed, of hours and per kg
 * of weights too, so that what the others may hold can be bounded; per kg no planting that still stands, of costs no
 * input without a price. What nobody closed is unknown, and never zero.
 */
export function notWhole(t: MethodTotals, burden: Burden): NotWhole | null {
  const enough = (closed: number) => closed >= leastClosed * t.weeks
  if (burden !== 'costPerKg' && !enough(t.hoursClosed)) return 'weeks open'
  if (burden !== 'hoursPerBed' && !enough(t.weightsClosed)) return 'weeks open'
  if (burden !== 'hoursPerBed' && t.standing > 0) return 'still stands'
  return burden === 'costPerKg' && t.unpricedCash > 0 ? 'no price' : null
}

export const isWhole = (t: MethodTotals, burden: Burden): boolean => notWhole(t, burden) === null
