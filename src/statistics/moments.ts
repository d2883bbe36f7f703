/** Plain sums over numbers, in the order given: who calls orders the rows by key first. */
export const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0)

export const meanOf = (values: readonly number[]): number => sumOf(values) / values.length

/** Sum of squares about the mean. */
export function squaresAbout(values: readonly number[], mean = meanOf(values)): number {
  return values.reduce((sum, value) => sum + (value - mean) ** 2, 0)
}

export const varianceOf = (values: readonly number[]): number => squaresAbout(values) / (values.length - 1)

export const sdOf = (values: readonly number[]): number => Math.sqrt(varianceOf(values))

export const allFinite = (values: readonly number[]): boolean => values.every(Number.isFinite)

/** The loop stays within both: asking at each place would make the models twice as slow. */
export function dot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number)
  return sum
}

/** A sum of squares under this is rounding of these values: they are equal as far as can be told. */
export const leastOf = (values: readonly number[]): number =>
  values.length * (1e-13 * values.reduce((most, value) => Math.max(most, Math.abs(value)), 0)) ** 2

/** A spread in per cent of the mean of the values; null where that mean is nothing but rounding. */
export function percentOf(spread: number, values: readonly number[]): number | null {
  const mean = meanOf(values)
  return values.length * mean ** 2 <= leastOf(values) ? null : (100 * spread) / mean
}
