import { type Answer, answer, type Refusal, refused } from './answer.ts'

export interface Sample {
  readonly mean: number
  readonly sd: number
  readonly n: number
}

export interface LogResponseRatio {
  readonly logRatio: number
  readonly variance: number
  readonly corrected: number
  readonly correctedVariance: number
}

/**
 * The natural log of a ratio of two means, ln(a / b), with its large-sample variance and the correction for small samples.
 * Means above 0 in one unit, SDs in the same, n >= 2 each; `covariance` is that of the two means where they are paired.
 * Refuses a mean that is not above 0 ("zero mean") and n under 2 ("too few").
 * Hedges, Gurevitch & Curtis 1999, Ecology 80:1150-1156; correction Lajeunesse 2015, Ecology 96:2056-2063, covariance
 * Lajeunesse 2011, Ecology 92:2049-2055.
 */
export function logResponseRatio(
  a: Sample,
  b: Sample,
  { covariance = 0 }: { readonly covariance?: number } = {},
): Answer<LogResponseRatio> | Refusal {
  if (!(a.n >= 2 && b.n >= 2)) return refused('too few', `n ${Math.min(a.n, b.n)}`)
  if (!(a.mean > 0 && b.mean > 0)) return refused('zero mean', String(Math.min(a.mean, b.mean)))
  if (!(a.sd >= 0 && b.sd >= 0)) return refused('not a number', `sd ${a.sd}, ${b.sd}`)
  const [partA, partB] = [relative(a), relative(b)]
  const logRatio = Math.log(a.mean / b.mean)
  const variance = partA + partB - (2 * covariance) / (a.mean * b.mean)
  const corrected = logRatio + (partA - partB) / 2
  return answer({ logRatio, variance, corrected, correctedVariance: variance + (partA ** 2 + partB ** 2) / 2 })
}

const relative = ({ mean, sd, n }: Sample) => (sd * sd) / (n * mean * mean)
