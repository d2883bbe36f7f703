import { pf } from '../../src/statistics/pf.ts'
import type { TailOptions } from '../../src/statistics/pnorm.ts'
import { quantile } from '../../src/statistics/quantile.ts'

/** F quantile for 0 < p < 1. `qf(0.95, 2, 10)` is 4.10282101513. */
export function qf(p: number, df1: number, df2: number, { upper = false }: TailOptions = {}): number {
  if (p <= 0 || p >= 1) return p <= 0 === upper ? Number.POSITIVE_INFINITY : 0
  return quantile((f, above) => pf(f, df1, df2, { upper: above }), p, upper, { start: 1, width: 1, least: 0 })
}
