import { qnorm } from './qnorm.ts'

export interface Events {
  readonly events: number
  readonly n: number
}

interface ScoreInterval {
  readonly share: number
  /** The centre of the interval: the share drawn towards a half, the more the fewer there are. */
  readonly centre: number
  readonly low: number
  readonly high: number
}

/**
 * The score interval of a share of n >= 1 (Wilson 1927, Journal of the American Statistical Association 22:209-212;
 * method 3 of Newcombe 1998, Statistics in Medicine 17:857-872): it says something at 0 and at n of n too.
 */
export function wilsonInterval({ events, n }: Events, { level = 0.95 } = {}): ScoreInterval {
  const z = qnorm((1 + level) / 2)
  const share = events / n
  const centre = (share + (z * z) / (2 * n)) / (1 + (z * z) / n)
  const half = (z / (1 + (z * z) / n)) * Math.sqrt((share * (1 - share)) / n + (z * z) / (4 * n * n))
  return { share, centre, low: Math.max(0, centre - half), high: Math.min(1, centre + half) }
}
