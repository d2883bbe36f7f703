import { choleskyOf, inverseFrom } from './cholesky.ts'
import { dot } from './moments.ts'
import type { CrossProducts } from './reml.ts'

/**
 * What the data tell about the variances, at their estimates. The directions are the whole covariance V first, then each random
 * factor's part of it: the same space as the variances themselves, in which all that is needed follows from the cross-products,
 * without a matrix of the size of the data.
 */
export interface VarianceInformation {
  /** Second derivatives of the REML criterion: tr(P V_i P V_j), and 2 y'P V_i P V_j P y less that. */
  readonly expected: readonly Float64Array[]
  readonly observed: readonly Float64Array[]
  /** Slope of each fixed effect's variance by direction. */
  readonly slopes: readonly (readonly number[])[]
  /** By factors i and j and fixed effect: (Phi X'V^-1) V_i P V_j (V^-1 X Phi), the parts of Kenward and Roger's adjustment. */
  readonly bent: readonly (readonly (readonly number[])[])[]
}

/**
 * `theta` are relative standard deviations of the random factors, `beta` and `unscaled` the fixed effects and their covariance
 * without the residual variance. Factors at zero are left out. Derivatives as in Searle, Casella & McCulloch 1992, Variance
 * Components, section 6.6; null where the random part is not positive definite.
 */
export function varianceInformation(
  data: CrossProducts,
  { theta, beta, unscaled, residual }: Estimates,
): VarianceInformation | null {
  const blocks = blocksOf(data, theta)
  const at = blocks.flat()
  const scale = at.map((a) => theta[factorOf(data, a)] as number)
  const counts = at.map((a) => Float64Array.from(at, (b) => data.zz[a]?.[b] as number))
  const lower = choleskyOf(
    counts.map((row, i) =>
      row.map((value, j) => value * (scale[i] as number) * (scale[j] as number) + Number(i === j)),
    ),
  )
  if (!lower) return null
  // Z'V^-1 is this matrix times Z'.
  const k = inverseFrom(lower).map((row, i) =>
    row.map((value, j) => (value * (scale[j] as number)) / (scale[i] as number) / residual),
  )
  const zvx = data.zx.map((column) => k.map((row) => sumOver(row, at, column)))
  const left = at.map(
    (a) => (data.zy[a] as number) - beta.reduce((sum, one, c) => sum + one * (data.zx[c]?.[a] as number), 0),
  )
  const zpy = k.map((row) => dot(row, left))
  // V^-1 X Phi seen by each level, by fixed effect.
  const seen = unscaled.map((phi) =>
    at.map((_, a) => residual * phi.reduce((sum, one, c) => sum + one * (zvx[c]?.[a] as number), 0)),
  )
  const zpz = k.map((row, a) => {
    const out = new Float64Array(at.length)
    for (let c = 0; c < at.length; c++) {
      const [by, other] = [row[c] as number, counts[c] as Float64Array]
      for (let b = 0; b < at.length; b++) out[b] = (out[b] as number) + by * (other[b] as number)
    }
    for (const [c, column] of zvx.entries()) {
      const by = seen[c]?.[a] as number
      for (let b = 0; b < at.length; b++) out[b] = (out[b] as number) - by * (column[b] as number)
    }
    return out
  })
  const places = placesOf(blocks)
  const over = (i: number, j: number, f: (a: number, b: number, value: number) => number) => {
    let sum = 0
    for (const a of places[i] ?? []) for (const b of places[j] ?? []) sum += f(a, b, zpz[a]?.[b] as number)
    return sum
  }
  const size = blocks.length + 1
  const df = data.n - data.p
  const [expected, observed] = [square(size), square(size)]
  const set = (matrix: Float64Array[], i: number, j: number, value: number) => {
    ;(matrix[i] as Float64Array)[j] = value
    ;(matrix[j] as Float64Array)[i] = value
  }
  set(expected, 0, 0, df)
  set(observed, 0, 0, df)
  for (const [i, own] of places.entries()) {
    const trace = own.reduce((sum, a) => sum + (zpz[a]?.[a] as number), 0)
    set(expected, 0, i + 1, trace)
    set(observed, 0, i + 1, 2 * own.reduce((sum, a) => sum + (zpy[a] as number) ** 2, 0) - trace)
    for (let j = 0; j <= i; j++) {
      const squares = over(i, j, (_a, _b, value) => value * value)
      set(expected, i + 1, j + 1, squares)
      set(
        observed,
        i + 1,
        j + 1,
        2 * over(i, j, (a, b, value) => value * (zpy[a] as number) * (zpy[b] as number)) - squares,
      )
    }
  }
  return {
    ...{ expected, observed },
    slopes: unscaled.map((phi, c) => [
      residual * (phi[c] as number),
      ...places.map((own) => own.reduce((sum, a) => sum + (seen[c]?.[a] as number) ** 2, 0)),
    ]),
    bent: places.map((_, i) =>
      places.map((_own, j) =>
        seen.map((own) => over(i, j, (a, b, value) => value * (own[a] as number) * (own[b] as number))),
      ),
    ),
  }
}

export interface Estimates {
  readonly theta: readonly number[]
  readonly beta: readonly number[]
  readonly unscaled: readonly Float64Array[]
  readonly residual: number
}

const square = (size: number) => Array.from({ length: size }, () => new Float64Array(size))

const sumOver = (row: Float64Array, at: readonly number[], column: Float64Array) => {
  let sum = 0
  for (const [i, a] of at.entries()) sum += (row[i] as number) * (column[a] as number)
  return sum
}

/** Where the levels of each factor with a variance lie in the cross-products. */
function blocksOf({ sizes }: CrossProducts, theta: readonly number[]): number[][] {
  let start = 0
  return sizes.flatMap((size, k) => {
    const own = Array.from({ length: size }, (_, i) => start + i)
    start += size
    return (theta[k] as number) > 0 ? [own] : []
  })
}

/** The same counted through without the factors left out. */
function placesOf(blocks: readonly (readonly number[])[]): number[][] {
  let start = 0
  return blocks.map((block) => block.map(() => start++))
}

function factorOf({ sizes }: CrossProducts, at: number): number {
  let [k, end] = [0, sizes[0] ?? 0]
  while (at >= end && k < sizes.length - 1) end += sizes[++k] as number
  return k
}
