/** Lower Cholesky factor of a symmetric positive definite matrix, by rows; null where it is not positive definite. */
export function choleskyOf(matrix: readonly Float64Array[]): Float64Array[] | null {
  const n = matrix.length
  const lower = Array.from({ length: n }, () => new Float64Array(n))
  for (let i = 0; i < n; i++) {
    const row = lower[i] as Float64Array
    const given = matrix[i] as Float64Array
    for (let j = 0; j <= i; j++) {
      const other = lower[j] as Float64Array
      let sum = given[j] as number
      for (let k = 0; k < j; k++) sum -= (row[k] as number) * (other[k] as number)
      if (i === j) {
        if (!(sum > 0)) return null
        row[j] = Math.sqrt(sum)
      } else row[j] = sum / (other[j] as number)
    }
  }
  return lower
}

/** Inverse of a lower triangle, by rows. */
export function triangleInverse(lower: readonly Float64Array[]): Float64Array[] {
  const n = lower.length
  const inverse = Array.from({ length: n }, () => new Float64Array(n))
  for (let i = 0; i < n; i++) {
    const [row, own] = [lower[i] as Float64Array, inverse[i] as Float64Array]
    const pivot = row[i] as number
    for (let k = 0; k < i; k++) {
      const [by, other] = [(row[k] as number) / pivot, inverse[k] as Float64Array]
      for (let j = 0; j <= k; j++) own[j] = (own[j] as number) - by * (other[j] as number)
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
      const [by, own] = [row[i] as number, square[i] as Float64Array]
      for (let j = 0; j <= i; j++) own[j] = (own[j] as number) + by * (row[j] as number)
    }
  for (let i = 0; i < n; i++)
    for (let j = 0; j < i; j++) (square[j] as Float64Array)[i] = (square[i] as Float64Array)[j] as number
  return square
}

/** Inverse of a symmetric positive definite matrix from its Cholesky factor. */
export const inverseFrom = (lower: readonly Float64Array[]): Float64Array[] => squareOf(triangleInverse(lower))

/**
 * Inverse of a symmetric positive definite matrix whose rows may be of very unlike size; null where it is not definite,
 * or so nearly not that only rounding tells.
 */
export function inverseOf(matrix: readonly Float64Array[]): Float64Array[] | null {
  const size = matrix.map((row, i) => Math.sqrt(row[i] as number))
  const over = (row: Float64Array, i: number) =>
    row.map((value, j) => value / (size[i] as number) / (size[j] as number))
  const lower = choleskyOf(matrix.map(over))
  if (!lower?.every((row, i) => (row[i] as number) > 1e-5)) return null
  return inverseFrom(lower).map(over)
}
