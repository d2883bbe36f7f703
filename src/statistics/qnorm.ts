import { pnorm, type TailOptions } from './pnorm.ts'
import { quantile } from './quantile.ts'

/** Standard normal quantile for 0 < p < 1; infinite at 0 and 1. `qnorm(0.975)` is 1.959963984540054. */
export function qnorm(p: number, { upper = false }: TailOptions = {}): number {
  if (p <= 0 || p >= 1) return p <= 0 === upper ? Number.POSITIVE_INFINITY : Number.NEGATIVE_INFINITY
  if (p === 0.5) return 0
  const tails = (z: number, above: boolean) => pnorm(z, { upper: above })
  return quantile(tails, p, upper, { start: 0, width: 4, least: Number.NEGATIVE_INFINITY })
}
