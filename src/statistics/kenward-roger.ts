import { choleskyOf, inverseFrom } from './cholesky.ts'

type Matrix = readonly Float64Array[]

const times = (a: Matrix, b: Matrix): Float64Array[] => {
  const width = b[0]?.length ?? 0
  return a.map((row) => {
    const out = new Float64Array(width)
    for (let k = 0; k < row.length; k++) {
      const by = row[k] as number
      if (by === 0) continue
      const other = b[k] as Float64Array
      for (let j = 0; j < width; j++) out[j] = (out[j] as number) + by * (other[j] as number)
    }
    return out
  })
}
const transposed = (a: Matrix): Float64Array[] =>
  Array.from({ length: a[0]?.length ?? 0 }, (_, j) => Float64Array.from(a, (row) => row[j] as number))
const traceOfProduct = (a: Matrix, b: Matrix) =>
  a.reduce(
    (sum, row, i) => sum + row.reduce((inner, value, k) => inner + value * ((b[k] as Float64Array)[i] as number), 0),
    0,
  )

export interface KenwardRoger {
  readonly se: number
  readonly df: number
}

/**
 * Standard errors adjusted for the estimated variances, and degrees of freedom of each single fixed effect. `factors` hold the
 * level of each row, `variances` those of the factors and, last, of the residual. Dense: meant for some hundred rows.
 * Kenward & Roger 1997, Biometrics 53:983-997. Null where a matrix is not positive definite.
 */
export function kenwardRoger(
  columns: readonly (readonly number[])[],
  factors: readonly (readonly number[])[],
  variances: readonly number[],
): readonly KenwardRoger[] | null {
  const n = columns[0]?.length ?? 0
  const free = variances.flatMap((variance, i) => (variance > 1e-8 * (variances.at(-1) ?? 1) ? [i] : []))
  const g = free.map((k) =>
    Array.from({ length: n }, (_, i) =>
      Float64Array.from({ length: n }, (_x, j) =>
        Number(k < factors.length ? factors[k]?.[i] === factors[k]?.[j] : i === j),
      ),
    ),
  )
  const v = Array.from({ length: n }, (_, i) =>
    Float64Array.from({ length: n }, (_x, j) =>
      free.reduce((sum, k, at) => sum + (variances[k] ?? 0) * entry(g[at] ?? [], i, j), 0),
    ),
  )
  const lower = choleskyOf(v)
  if (!lower) return null
  const inverse = inverseFrom(lower)
  const x = Array.from({ length: n }, (_, i) => Float64Array.from(columns, (column) => column[i] ?? 0))
  const xt = transposed(x)
  const vx = times(inverse, x)
  const information = choleskyOf(times(xt, vx))
  if (!information) return null
  const phi = inverseFrom(information)
  const vg = g.map((one) => times(inverse, one))
  const gvx = g.map((one) => times(one, vx))
  const p = gvx.map((one) => times(transposed(vx), one).map((row) => row.map((value) => -value)))
  const q = gvx.map((one) => gvx.map((other) => times(transposed(one), times(inverse, other))))
  const fisher = g.map((_, i) =>
    Float64Array.from(g, (_x, j) => {
      const whole = traceOfProduct(vg[i] as Matrix, vg[j] as Matrix)
      const one = traceOfProduct(phi, q[i]?.[j] as Matrix)
      const two = traceOfProduct(times(phi, p[i] as Matrix), times(phi, p[j] as Matrix))
      return (whole - 2 * one + two) / 2
    }),
  )
  const factor = choleskyOf(fisher)
  if (!factor) return null
  const w = inverseFrom(factor)
  const weight = (i: number, j: number) => (w[i] as Float64Array)[j] as number
  const middle = phi.map((row) => new Float64Array(row.length))
  for (const i of g.keys())
    for (const j of g.keys()) {
      const pp = times(times(p[i] as Matrix, phi), p[j] as Matrix)
      for (const [r, row] of middle.entries())
        for (let c = 0; c < row.length; c++)
          row[c] = (row[c] as number) + weight(i, j) * (entry(q[i]?.[j] ?? [], r, c) - entry(pp, r, c))
    }
  const adjust = times(times(phi, middle), phi)
  const php = p.map((one) => times(times(phi, one), phi))
  return phi.map((row, c) => {
    const variance = row[c] as number
    let a = 0
    for (const i of g.keys()) for (const j of g.keys()) a += weight(i, j) * diagonal(php[i], c) * diagonal(php[j], c)
    return { se: Math.sqrt(variance + 2 * diagonal(adjust, c)), df: dfOf(a / (variance * variance)) }
  })
}

const entry = (matrix: Matrix, i: number, j: number) => (matrix[i] as Float64Array)[j] as number
const diagonal = (matrix: Matrix | undefined, i: number) => entry(matrix ?? [], i, i)

/** The published formulas for a single contrast, in which A1 and A2 are one. */
function dfOf(a: number): number {
  const b = (7 * a) / 2
  const expected = 1 / (1 - a)
  const spread = (2 * (1 - b / 7)) / ((1 - (2 * b) / 7) ** 2 * (1 - (4 * b) / 7))
  const rho = spread / (2 * expected * expected)
  return 4 + 3 / (rho - 1)
}
