import { incompleteBeta, incompleteBetaUpper } from './incomplete-beta.ts'
import { logGamma } from './log-gamma.ts'
import { pnorm, type TailOptions } from './pnorm.ts'
import { pt } from './pt.ts'

/**
 * Noncentral t probability P(T <= t) on `df` degrees of freedom with noncentrality `ncp` (below 37 in size), both
 * tails. Lenth 1989, Applied Statistics 38:185-189 (AS 243); the upper tail from the same sum with complements.
 */
export function pnct(t: number, df: number, ncp: number, { upper = false }: TailOptions = {}): number {
  if (ncp === 0) return pt(t, df, { upper })
  if (t < 0) return pnct(-t, df, -ncp, { upper: !upper })
  const square = t * t
  const [x, y] = [square / (df + square), df / (df + square)]
  const part = upper ? incompleteBetaUpper : incompleteBeta
  const sum = seriesOf(ncp, (shape) => part(x, y, shape, df / 2))
  const value = sum / 2 + (upper ? 0 : pnorm(-ncp))
  return Math.min(1, Math.max(0, value))
}

/** Poisson weights from their middle outwards, so that none is left out for a large noncentrality. */
function seriesOf(ncp: number, part: (shape: number) => number): number {
  const half = (ncp * ncp) / 2
  const middle = Math.floor(half)
  const term = (j: number) => {
    const even = Math.exp(-half + j * Math.log(half) - logGamma(j + 1))
    const odd = Math.sign(ncp) * Math.exp(-half + (j + 0.5) * Math.log(half) - logGamma(j + 1.5))
    return even * part(j + 0.5) + odd * part(j + 1)
  }
  const reach = Math.ceil(12 * Math.sqrt(half + 1)) + 40
  let sum = 0
  for (let j = Math.max(0, middle - reach); j <= middle + reach; j++) sum += term(j)
  return sum
}
