import { ptukey } from './ptukey.ts'
import { rootOf } from './root-of.ts'

/**
 * Studentised range quantile for 0 < p < 1. `qtukey(0.95, 3, 10)` is 3.87768. The last ones are kept: it takes a tenth
 * of a second, and a group asks for the same again with each page.
 */
export function qtukey(p: number, k: number, df: number): number {
  if (p <= 0) return 0
  if (p >= 1) return Number.POSITIVE_INFINITY
  const name = `${p} ${k} ${df}`
  const found = last.get(name) ?? quantile(p, k, df)
  if (last.size >= mostKept) last.clear()
  last.set(name, found)
  return found
}

const mostKept = 200
const last = new Map<string, number>()

function quantile(p: number, k: number, df: number): number {
  const f = (q: number) => ptukey(q, k, df) - p
  let high = 4
  while (f(high) < 0) high *= 2
  return rootOf(f, 0, high)
}
