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

/** Solves L x = b for each column of `right` (given as rows of the transpose, solved in place). */
export function solveLower(lower: readonly Float64Array[], right: readonly Float64Array[]): void {
  for (const column of right) {
    for (let i = 0; i < lower.length; i++) {
      const row = lower[i] as Float64Array
      let sum = column[i] as number
      for (let k = 0; k < i; k++) sum -= (row[k] as number) * (column[k] as number)
      column[i] = sum / (row[i] as number)
    }
  }
}

/** Solves L' x = b in place. */
export function solveUpper(lower: readonly Float64Array[], column: Float64Array): void {
  for (let i = lower.length - 1; i >= 0; i--) {
    let sum = column[i] as number
    for (let k = i + 1; k < lower.length; k++) sum -= ((lower[k] as Float64Array)[i] as number) * (column[k] as number)
    column[i] = sum / ((lower[i] as Float64Array)[i] as number)
  }
}

/** Inverse of a symmetric positive definite matrix from its Cholesky factor. */
export function inverseFrom(lower: readonly Float64Array[]): Float64Array[] {
  const n = lower.length
  return Array.from({ length: n }, (_, i) => {
    const column = new Float64Array(n)
    column[i] = 1
    solveLower(lower, [column])
    solveUpper(lower, column)
    return column
  })
}

/**
 * Inverse of a symmetric positive definite matrix whose rows may be of very unlike size; null where it is not definite, or so
 * nearly not that only rounding tells.
 */
export function inverseOf(matrix: readonly Float64Array[]): Float64Array[] | null {
  const size = matrix.map((row, i) => Math.sqrt(row[i] as number))
  const over = (row: Float64Array, i: number) =>
    row.map((value, j) => value / (size[i] as number) / (size[j] as number))
  const lower = choleskyOf(matrix.map(over))
  if (!lower?.every((row, i) => (row[i] as number) > 1e-5)) return null
  return inverseFrom(lower).map(over)
}
