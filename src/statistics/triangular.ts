/**
 * The value below which a share `u` (0..1) of a triangular distribution lies, by its inverse: from `low` to `high`,
 * most often near `middle`. Where the two ends meet it is that one value.
 * Source: Evans M, Hastings N, Peacock B, Statistical Distributions, 3rd ed., 2000, chapter 40 (the inverse follows
 * from the two squares of its distribution function).
 * Example: low 0, middle 1, high 4: a quarter of all lies below 1.
 */
export function triangular(u: number, { low, middle, high }: Spread): number {
  if (!(high > low)) return middle
  const share = (middle - low) / (high - low)
  return u < share
    ? low + Math.sqrt(u * (high - low) * (middle - low))
    : high - Math.sqrt((1 - u) * (high - low) * (high - middle))
}

/** What is assumed of one figure: low <= middle <= high. */
export interface Spread {
  readonly low: number
  readonly middle: number
  readonly high: number
}
