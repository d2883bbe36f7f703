import { pchisq } from '../../src/statistics/pchisq.ts'
import type { TailOptions } from '../../src/statistics/pnorm.ts'
import { quantile } from '../../src/statistics/quantile.ts'

/** Chi-square quantile for 0 < p < 1 on `df` degrees of freedom. */
export function qchisq(p: number, df: number, { upper = false }: TailOptions = {}): number {
  if (p <= 0 || p >= 1) return p <= 0 === upper ? Number.POSITIVE_INFINITY : 0
  return quantile((x, above) => pchisq(x, df, { upper: above }), p, upper, { start: df, width: df, least: 0 })
}
