import { gaussLegendre, type Node, panelsOf } from './gauss-legendre.ts'
import { logGamma } from './log-gamma.ts'
import { pnorm } from './pnorm.ts'

interface Fineness {
  /** Panels of 16 nodes for the range; doubled to see that the answer has converged. */
  readonly panels: number
}

/**
 * Studentised range probability P(Q <= q) for `k` >= 2 means and `df` > 0 degrees of freedom (infinite too): the range
 * of k normals (Hartley 1942, Biometrika 32:334) averaged over the chi density of the standard error, both by
 * Gauss-Legendre quadrature in panels. For k = 2 it is the t distribution: P(Q <= q) = 1 - 2 P(T > q / sqrt 2).
 */
export function ptukey(q: number, k: number, df: number, { panels }: Fineness = { panels: 8 }): number {
  if (q <= 0) return 0
  const range = rangeOfNormals(k, panels)
  if (df === Number.POSITIVE_INFINITY) return range(q)
  const width = 1 / Math.sqrt(2 * df)
  const [from, to] = [Math.max(0, 1 - 11 * width), 1 + 13 * width]
  const constant = Math.log(2) + (df / 2) * Math.log(df / 2) - logGamma(df / 2)
  const density = (s: number) => Math.exp(constant + (df - 1) * Math.log(s) - (df * s * s) / 2)
  let sum = 0
  for (const { at, weight } of overSpread(from, to, panels, df)) {
    const dense = density(at)
    if (dense > 1e-22) sum += weight * dense * range(q * at)
  }
  return Math.min(1, sum)
}

/**
 * With few degrees of freedom the density can have a broken power at 0, and a wide range changes fast there: panels
 * halve towards it.
 */
function overSpread(from: number, to: number, panels: number, df: number): readonly Node[] {
  if (from > 0 || df > 30) return panelsOf(from, to, panels, nodes)
  const first = to / panels
  const halved = Array.from({ length: 20 }, (_, i) => panelsOf(first / 2 ** (i + 1), first / 2 ** i, 1, nodes)).flat()
  return [...halved, ...panelsOf(first, to, panels - 1, nodes)]
}

const nodes = gaussLegendre(16)
const farthest = 8.7

/** P(range of k standard normals <= w): k times the integral of phi(z) [Phi(z) - Phi(z - w)]^(k - 1). */
function rangeOfNormals(k: number, panels: number): (w: number) => number {
  const over = panelsOf(-farthest, farthest, panels, nodes).map(({ at, weight }) => ({
    at,
    below: pnorm(at),
    above: pnorm(at, { upper: true }),
    weight: (weight * Math.exp((-at * at) / 2)) / Math.sqrt(2 * Math.PI),
  }))
  return (w) => {
    let sum = 0
    for (const { at, below, above, weight } of over) {
      const between = at - w > 0 ? pnorm(at - w, { upper: true }) - above : below - pnorm(at - w)
      sum += weight * between ** (k - 1)
    }
    return k * sum
  }
}
