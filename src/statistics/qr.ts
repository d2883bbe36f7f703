import { nth } from '../lookups/nth.ts'

interface Qr {
  /** Which columns were kept, in order: those that the ones before them do not already carry. */
  readonly kept: readonly number[]
  readonly rank: number
  /** Q'y: the first `rank` belong to the kept columns, the rest is the residual. */
  readonly effects: readonly number[]
  readonly solution: readonly number[]
  /** Diagonal of (X'X)^-1. */
  readonly unscaledVariances: readonly number[]
}

/**
 * Householder QR of columns in the order given, with columns that add nothing (relative length under 1e-9) left out,
 * and the least-squares solution for y. Golub & Van Loan, Matrix Computations, section 5.2.
 */
export function qrOf(columns: readonly (readonly number[])[], y: readonly number[]): Qr {
  const work = columns.map((column) => [...column])
  const right = [...y]
  const kept: number[] = []
  const upper: number[][] = []
  const reflections: { v: number[]; scale: number; from: number }[] = []
  const reflect = (column: number[], { v, scale, from }: { v: number[]; scale: number; from: number }) => {
    let dot = 0
    for (let i = from; i < column.length; i++) dot += nth(v, i) * nth(column, i)
    for (let i = from; i < column.length; i++) column[i] = nth(column, i) - scale * dot * nth(v, i)
  }
  for (const [at, column] of work.entries()) {
    const whole = Math.hypot(...column)
    for (const one of reflections) reflect(column, one)
    const row = kept.length
    const rest = Math.hypot(...column.slice(row))
    if (row >= y.length || rest <= 1e-9 * whole || rest === 0) continue
    const alpha = nth(column, row) > 0 ? -rest : rest
    const v = column.map((value, i) => (i < row ? 0 : i === row ? value - alpha : value))
    const length = v.reduce((sum, value) => sum + value * value, 0)
    const reflection = { v, scale: 2 / length, from: row }
    reflections.push(reflection)
    reflect(right, reflection)
    upper.push([...column.slice(0, row), alpha])
    kept.push(at)
  }
  const rank = kept.length
  const inverse = inverseOfUpper(upper)
  const solution = inverse.map((line) => line.reduce((sum, value, j) => sum + value * nth(right, j), 0))
  const unscaledVariances = inverse.map((line) => line.reduce((sum, value) => sum + value * value, 0))
  return { kept, rank, effects: right, solution, unscaledVariances }
}

/** Inverse of an upper triangle given by columns, as rows. */
function inverseOfUpper(columns: readonly (readonly number[])[]): number[][] {
  const n = columns.length
  const r = (i: number, j: number) => nth(nth(columns, j), i)
  const inverse = Array.from({ length: n }, () => new Array<number>(n).fill(0))
  for (let j = 0; j < n; j++) {
    for (let i = j; i >= 0; i--) {
      let sum = i === j ? 1 : 0
      for (let k = i + 1; k <= j; k++) sum -= r(i, k) * nth(nth(inverse, k), j)
      nth(inverse, i)[j] = sum / r(i, i)
    }
  }
  return inverse
}
