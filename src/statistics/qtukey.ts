import { ptukey } from './ptukey.ts'
import { rootOf } from './root-of.ts'

/** Studentised range quantile for 0 < p < 1. `qtukey(0.95, 3, 10)` is 3.87768. */
export function qtukey(p: number, k: number, df: number): number {
  if (p <= 0) return 0
  if (p >= 1) return Number.POSITIVE_INFINITY
  const f = (q: number) => ptukey(q, k, df) - p
  let high = 4
  while (f(high) < 0) high *= 2
  return rootOf(f, 0, high)
}
