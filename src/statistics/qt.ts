import type { TailOptions } from './pnorm.ts'
import { pt } from './pt.ts'
import { qnorm } from './qnorm.ts'
import { quantile } from './quantile.ts'

/** Student's t quantile for 0 < p < 1 on `df` degrees of freedom. `qt(0.975, 10)` is 2.22813885199. */
export function qt(p: number, df: number, { upper = false }: TailOptions = {}): number {
  if (df === Number.POSITIVE_INFINITY || p <= 0 || p >= 1) return qnorm(p, { upper })
  if (p === 0.5) return 0
  const tails = (t: number, above: boolean) => pt(t, df, { upper: above })
  return quantile(tails, p, upper, { start: 0, width: 4, least: Number.NEGATIVE_INFINITY })
}
