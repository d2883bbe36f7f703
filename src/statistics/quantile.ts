import { rootOf } from './root-of.ts'

/** P(X <= x) or, where `upper`, P(X > x); each accurate where it is small. */
type Tails = (x: number, upper: boolean) => number

/**
 * The x at which a distribution's tail is p, for 0 < p < 1, found on the smaller tail's logarithm so that far quantiles
 * keep their digits. `start` and `width` bracket the middle; the bracket grows until it holds the root.
 */
export function quantile(tails: Tails, p: number, upper: boolean, { start, width, least }: Bracket): number {
  const useUpper = p > 0.5 ? !upper : upper
  const small = p > 0.5 ? 1 - p : p
  const target = Math.log(small)
  const f = (x: number) => {
    const tail = tails(x, useUpper)
    return (Math.log(Math.max(tail, 1e-320)) - target) * (useUpper ? -1 : 1)
  }
  let [low, high, step] = [Math.max(least, start - width), start + width, width]
  while (f(low) > 0 && low > least) {
    step *= 2
    low = Math.max(least, low - step)
  }
  while (f(high) < 0 && high < 1e300) {
    step *= 2
    high += step
  }
  return rootOf(f, low, high)
}

interface Bracket {
  readonly start: number
  readonly width: number
  /** The lower end of what the distribution can be. */
  readonly least: number
}
