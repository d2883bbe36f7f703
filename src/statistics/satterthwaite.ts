import { choleskyOf, inverseFrom } from './cholesky.ts'
import { dot } from './moments.ts'
import type { VarianceInformation } from './variance-information.ts'

/**
 * Degrees of freedom of each fixed effect: 2 v^2 / (g' A g), with v its variance, g the slope of v in the variances and A twice
 * the inverse of the REML criterion's curvature, both exact. Variances at their bound of zero are left out. Satterthwaite 1946,
 * Biometrics Bulletin 2:110; Fai & Cornelius 1996, J Stat Comput Simul 54:363. `otherwise` where the criterion does not curve.
 */
export function satterthwaiteDf({ observed, slopes }: VarianceInformation, otherwise: number): number[] {
  const factor = choleskyOf(observed)
  const inverse = factor ? inverseFrom(factor) : null
  return slopes.map((own) => {
    if (!inverse) return otherwise
    const spread = dot(
      own,
      inverse.map((row) => dot(row, own)),
    )
    return spread > 0 ? (own[0] as number) ** 2 / spread : otherwise
  })
}
