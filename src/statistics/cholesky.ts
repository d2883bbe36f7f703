import { entry, nth } from '../lookups/nth.ts'

/** Lower Cholesky factor of a symmetric positive definite matrix, by rows; null where it is not positive definite. */
export function choleskyOf(matrix: readonly Float64Array[]): Float64Array[] | null {
  const n = matrix.length
  const lower = Array.from({ length: n }, () => new Float64Array(n))
  for (let i = 0; i < n; i++) {
    const row = nth(lower, i)
    const given = nth(matrix, i)
    for (let j = 0; j <= i; j++) {
      const other = nth(lower, j)
      let sum = entry(given, j)
      for (let k = 0; k < j; k++) sum -= entry(row, k) * entry(other, k)
      if (i === j) {
        if (!(sum > 0)) return null
        row[j] = Math.sqrt(sum)
      } else row[j] = sum / entry(other, j)
    }
  }
  return lower
}

/** Inverse of a lower triangle, by rows. */
export function triangleInverse(lower: readonly Float64Array[]): Float64Array[] {
  const n = lower.length
  const inverse = Array.from({ length: n }, () => new Float64Array(n))
  for (let i = 0; i < n; i++) {
    const [row, own] = [nth(lower, i), nth(inverse, i)]
    const pivot = entry(row, i)
    for (let k = 0; k < i; k++) {
      const [by, other] = [entry(row, k) / pivot, nth(inverse, k)]
      for (let j = 0; j <= k; j++) own[j] = entry(own, j) - by * entry(other, j)
    }
    own[i] = 1 / pivot
  }
  return inverse
}

/** T'T of a lower triangle: with the inverse of a Cholesky factor, the inverse of the matrix. */
export function squareOf(triangle: readonly Float64Array[]): Float64Array[] {
  const n = triangle.length
  const square = Array.from({ length: n }, () => new Float64Array(n))
  for (const [k, row] of triangle.entries())
    for (let i = 0; i <= k; i++) {
      const [by, own] = [entry(row, i), nth(square, i)]
      for (let j = 0; j <= i; j++) own[j] = entry(own, j) + by * entry(row, j)
    }
  for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) nth(square, j)[i] = entry(nth(square, i), j)
  return square
}

/** Inverse of a symmetric positive definite matrix from its Cholesky factor. */
export const inverseFrom = (lower: readonly Float64Array[]): Float64Array[] => squareOf(triangleInverse(lower))

/**
 * Inverse of a symmetric positive definite matrix whose rows may be of very unlike size; null where it is not definite,
 * or so nearly not that only rounding tells.
 */
export function inverseOf(matrix: readonly Float64Array[]): Float64Array[] | null {
  const size = matrix.map((row, i) => Math.sqrt(entry(row, i)))
  const over = (row: Float64Array, i: number) => row.map((value, j) => value / nth(size, i) / nth(size, j))
  const lower = choleskyOf(matrix.map(over))
  if (!lower?.every((row, i) => entry(row, i) > 1e-5)) return null
  return inverseFrom(lower).map(over)
}
