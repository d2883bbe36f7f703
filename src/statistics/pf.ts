import { incompleteBeta, incompleteBetaUpper } from './incomplete-beta.ts'
import { pchisq } from './pchisq.ts'
import type { TailOptions } from './pnorm.ts'

/**
 * F probability P(F <= f) on `df1` and `df2` degrees of freedom, fractional ones too; df2 may be infinite.
 * Abramowitz & Stegun 1964, 26.6.2. `pf(3.2, 4, 20.5)` is 0.9657906083.
 */
export function pf(f: number, df1: number, df2: number, { upper = false }: TailOptions = {}): number {
  if (f <= 0) return upper ? 1 : 0
  if (df2 === Number.POSITIVE_INFINITY) return pchisq(f * df1, df1, { upper })
  const whole = df1 * f + df2
  const [x, y] = [(df1 * f) / whole, df2 / whole]
  return (upper ? incompleteBetaUpper : incompleteBeta)(x, y, df1 / 2, df2 / 2)
}
