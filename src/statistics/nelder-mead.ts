import { firstOf, lastOf, nth } from '../lookups/nth.ts'

/**
 * The lowest point that a simplex search finds from a start (Nelder & Mead 1965, Computer Journal 7:308), restarted
 * until it stays.
 */
export function lowestOf(f: (x: readonly number[]) => number, start: readonly number[]): number[] {
  let best = [...start]
  let value = f(best)
  for (let round = 0; round < 12; round++) {
    const found = once(f, best, round === 0 ? 0.5 : 0.1)
    const lower = f(found)
    const settled = value - lower < 1e-12 * (1 + Math.abs(lower)) && round > 0
    if (lower <= value) [best, value] = [found, lower]
    if (settled) break
  }
  return best
}

interface Corner {
  readonly x: number[]
  readonly value: number
}

function once(f: (x: readonly number[]) => number, start: readonly number[], step: number): number[] {
  const corner = (x: number[]): Corner => ({ x, value: f(x) })
  let simplex = [
    corner([...start]),
    ...start.map((_, i) => corner(start.map((v, j) => (i === j ? v + step * (1 + Math.abs(v)) : v)))),
  ]
  for (let turn = 0; turn < 400 * start.length; turn++) {
    simplex = simplex.sort((a, b) => a.value - b.value)
    const [first, last] = [firstOf(simplex), lastOf(simplex)]
    if (last.value - first.value < 1e-13 * (1 + Math.abs(first.value))) break
    const rest = simplex.slice(0, -1)
    const middle = start.map((_, j) => rest.reduce((sum, one) => sum + nth(one.x, j), 0) / rest.length)
    const along = (by: number) => corner(middle.map((m, j) => m + by * (nth(last.x, j) - m)))
    const reflected = along(-1)
    const second = lastOf(rest)
    if (reflected.value < first.value) {
      const far = along(-2)
      simplex = [...rest, far.value < reflected.value ? far : reflected]
    } else if (reflected.value < second.value) simplex = [...rest, reflected]
    else {
      const near = along(reflected.value < last.value ? -0.5 : 0.5)
      if (near.value < Math.min(reflected.value, last.value)) simplex = [...rest, near]
      else
        simplex = simplex.map((one) => (one === first ? one : corner(one.x.map((v, j) => (nth(first.x, j) + v) / 2))))
    }
  }
  return firstOf(simplex.sort((a, b) => a.value - b.value)).x
}
