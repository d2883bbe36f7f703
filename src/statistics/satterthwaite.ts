import { nth } from '../lookups/nth.ts'
import { inverseOf } from './cholesky.ts'
import { dot } from './moments.ts'
import type { VarianceInformation } from './variance-information.ts'

/**
 * Degrees of freedom of each fixed effect: 2 v^2 / (g' A g), with v its variance, g the slope of v in the variances and
 * A twice the inverse of the REML criterion's curvature, both exact. Variances at their bound of zero are left out.
 * Satterthwaite 1946, Biometrics Bulletin 2:110; Fai & Cornelius 1996, J Stat Comput Simul 54:363. Null where the
 * criterion does not curve: the data do not tell the variances apart.
 */
export function satterthwaiteDf({ observed, slopes }: VarianceInformation): number[] | null {
  const inverse = inverseOf(observed)
  if (!inverse) return null
  return slopes.map((own) => {
    const spread = dot(
      own,
      inverse.map((row) => dot(row, own)),
    )
    return nth(own, 0) ** 2 / spread
  })
}
