import { incompleteBeta } from './incomplete-beta.ts'
import { pnorm, type TailOptions } from './pnorm.ts'

/**
 * Student's t probability P(T <= t) on `df` > 0 degrees of freedom, fractional ones too; infinite df is the normal.
 * Abramowitz & Stegun 1964, 26.7.1. `pt(2.1, 7)` is 0.9630644019.
 */
export function pt(t: number, df: number, { upper = false }: TailOptions = {}): number {
  if (df === Number.POSITIVE_INFINITY) return pnorm(t, { upper })
  const square = t * t
  const outside = incompleteBeta(df / (df + square), square / (df + square), df / 2, 0.5) / 2
  return t > 0 === upper ? outside : 1 - outside
}
