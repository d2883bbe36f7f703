import { incompleteGamma } from './incomplete-gamma.ts'

export interface TailOptions {
  /** The upper tail, P(X > x), accurate where it is small. */
  readonly upper?: boolean
}

/**
 * Standard normal probability P(X <= z), through the incomplete gamma function (Abramowitz & Stegun 1964, 26.2.29,
 * 6.5.16). Any z; 0..1. `pnorm(1.959963984540054)` is 0.975.
 */
export function pnorm(z: number, { upper = false }: TailOptions = {}): number {
  const { lower: inside, upper: outside } = incompleteGamma(0.5, (z * z) / 2)
  const far = z > 0 === upper
  return far ? outside / 2 : 0.5 + inside / 2
}
