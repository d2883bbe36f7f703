import { nth } from '../lookups/nth.ts'

/** The middle of numbers, or the mean of the two in the middle; null of none. */
export function medianOf(numbers: readonly number[]): number | null {
  if (numbers.length === 0) return null
  const sorted = [...numbers].sort((a, b) => a - b)
  const half = Math.floor(sorted.length / 2)
  const upper = nth(sorted, half)
  return sorted.length % 2 === 1 ? upper : (nth(sorted, half - 1) + upper) / 2
}
