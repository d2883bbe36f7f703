import { entry, nth } from '../lookups/nth.ts'
import { inverseOf } from './cholesky.ts'
import { dot } from './moments.ts'
import type { VarianceInformation } from './variance-information.ts'

interface KenwardRoger {
  readonly se: number
  readonly df: number
}

/**
 * Standard errors adjusted for the estimated variances, and degrees of freedom of each single fixed effect. Kenward &
 * Roger 1997, Biometrics 53:983-997: for a single effect A1 and A2 are one number a, and their m is then 2 / a. The
 * whole covariance adds nothing to the adjustment, its parts do. Null where the information is not positive definite.
 */
export function kenwardRoger({ expected, slopes, bent }: VarianceInformation): readonly KenwardRoger[] | null {
  const weights = inverseOf(expected.map((row) => row.map((value) => value / 2)))
  if (!weights) return null
  const byFactors = bent()
  return slopes.map((own, c) => {
    const variance = nth(own, 0)
    let adjustment = 0
    for (const [i, row] of byFactors.entries())
      for (const [j, parts] of row.entries()) adjustment += entry(nth(weights, i + 1), j + 1) * nth(parts, c)
    const a =
      dot(
        own,
        weights.map((row) => dot(row, own)),
      ) /
      variance ** 2
    return { se: Math.sqrt(variance + 2 * adjustment), df: 2 / a }
  })
}
