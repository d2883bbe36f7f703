import { incompleteGamma } from './incomplete-gamma.ts'
import type { TailOptions } from './pnorm.ts'

/** Chi-square probability P(X <= x) on `df` > 0 degrees of freedom. Abramowitz & Stegun 1964, 26.4.19. */
export function pchisq(x: number, df: number, { upper = false }: TailOptions = {}): number {
  return incompleteGamma(df / 2, x / 2)[upper ? 'upper' : 'lower']
}
