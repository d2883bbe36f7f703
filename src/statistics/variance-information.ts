import { entry, nth } from '../lookups/nth.ts'
import { choleskyOf, inverseFrom } from './cholesky.ts'
import { dot, sumOf } from './moments.ts'
import type { CrossProducts } from './reml.ts'

interface Estimates {
  /** Standard deviations of the random factors, relative to the residual's. */
  readonly theta: readonly number[]
  /** The fixed effects, and their covariance without the residual variance. */
  readonly beta: readonly number[]
  readonly unscaled: readonly Float64Array[]
  readonly residual: number
}

/**
 * What the data tell about the variances, at their estimates. The directions are the whole covariance V first, then
 * each random factor's part of it: the same space as the variances themselves, in which all that is needed follows from
 * the cross-products, without a matrix of the size of the data.
 */
export interface VarianceInformation {
  /** Second derivatives of the REML criterion: tr(P V_i P V_j), and 2 y'P V_i P V_j P y less that. */
  readonly expected: readonly Float64Array[]
  readonly observed: readonly Float64Array[]
  /** Slope of each fixed effect's variance by direction; along V it is the variance. */
  readonly slopes: readonly (readonly number[])[]
  /**
   * By factors i and j and fixed effect: (Phi X'V^-1) V_i P V_j (V^-1 X Phi), the parts of Kenward and Roger's
   * adjustment: made when asked.
   */
  readonly bent: () => readonly (readonly (readonly number[])[])[]
}

/**
 * Derivatives as in Searle, Casella & McCulloch 1992, Variance Components, section 6.6, with P V P = P. Factors whose
 * variance is nothing are left out; null where the random part is not positive definite.
 */
export function varianceInformation(data: CrossProducts, estimates: Estimates): VarianceInformation | null {
  const levels = levelsOf(data.sizes, estimates.theta)
  const found = byLevel(data, estimates, levels)
  if (!found) return null
  const { zpz, zpy, seen } = found
  const places = estimates.theta.flatMap((theta, k) =>
    theta > 0 ? [levels.flatMap((level, i) => (level.factor === k ? [i] : []))] : [],
  )
  const both = (i: number, j: number, f: (a: number, b: number, value: number) => number) => {
    let sum = 0
    for (const a of places[i] ?? []) for (const b of places[j] ?? []) sum += f(a, b, entry(nth(zpz, a), b))
    return sum
  }
  const traces = places.map((own) => sumOf(own.map((a) => entry(nth(zpz, a), a))))
  const squares = places.map((own) => sumOf(own.map((a) => nth(zpy, a) ** 2)))
  const df = data.n - data.p
  const expected = symmetric(places.length + 1, (i, j) => {
    if (j === 0) return i === 0 ? df : nth(traces, i - 1)
    return both(i - 1, j - 1, (_a, _b, value) => value * value)
  })
  const observed = symmetric(places.length + 1, (i, j) => {
    const fit =
      j > 0
        ? both(i - 1, j - 1, (a, b, value) => value * nth(zpy, a) * nth(zpy, b))
        : i === 0
          ? df
          : nth(squares, i - 1)
    return 2 * fit - entry(nth(expected, i), j)
  })
  const slopes = estimates.unscaled.map((row, c) => [
    estimates.residual * entry(row, c),
    ...places.map((own) => sumOf(own.map((a) => nth(nth(seen, c), a) ** 2))),
  ])
  const bent = () =>
    places.map((_, i) =>
      places.map((_own, j) => seen.map((own) => both(i, j, (a, b, value) => value * nth(own, a) * nth(own, b)))),
    )
  return { expected, observed, slopes, bent }
}

interface Level {
  readonly factor: number
  /** Where it lies in the cross-products. */
  readonly at: number
  readonly theta: number
}

/** Z'P Z and Z'P y over the levels, and V^-1 X Phi as each level sees it, by fixed effect. */
function byLevel(data: CrossProducts, { beta, unscaled, residual }: Estimates, levels: readonly Level[]) {
  const counts = levels.map(({ at }) => Float64Array.from(levels, (other) => entry(nth(data.zz, at), other.at)))
  const lower = choleskyOf(
    counts.map((row, i) =>
      row.map((value, j) => value * nth(levels, i).theta * nth(levels, j).theta + Number(i === j)),
    ),
  )
  if (!lower) return null
  // Z'V^-1 is this matrix times Z'.
  const k = inverseFrom(lower).map((row, i) =>
    row.map((value, j) => (value * nth(levels, j).theta) / nth(levels, i).theta / residual),
  )
  const times = (column: ArrayLike<number>) => k.map((row) => dot(row, column))
  const ofLevels = (column: Float64Array) => levels.map(({ at }) => entry(column, at))
  const columns = data.zx.map(ofLevels)
  const zvx = columns.map(times)
  const seen = unscaled.map((phi) =>
    levels.map((_, a) => residual * sumOf(zvx.map((column, c) => entry(phi, c) * nth(column, a)))),
  )
  const left = ofLevels(data.zy).map((sum, a) => sum - sumOf(columns.map((one, c) => nth(beta, c) * nth(one, a))))
  const zpz = k.map(() => new Float64Array(levels.length))
  for (const [a, own] of zpz.entries()) {
    const add = (by: number, other: ArrayLike<number>) => {
      if (by !== 0) for (let b = 0; b <= a; b++) own[b] = entry(own, b) + by * (other[b] as number)
    }
    for (const [c, other] of counts.entries()) add(entry(nth(k, a), c), other)
    for (const [c, other] of zvx.entries()) add(-nth(nth(seen, c), a), other)
    for (let b = 0; b < a; b++) nth(zpz, b)[a] = entry(own, b)
  }
  return { zpz, zpy: times(left), seen }
}

function levelsOf(sizes: readonly number[], theta: readonly number[]): Level[] {
  const all = sizes.flatMap((size, factor) => new Array<number>(size).fill(factor))
  return all.map((factor, at) => ({ factor, at, theta: nth(theta, factor) })).filter((level) => level.theta > 0)
}

/** A symmetric matrix from its lower triangle. */
function symmetric(size: number, of: (i: number, j: number) => number): Float64Array[] {
  const rows = Array.from({ length: size }, () => new Float64Array(size))
  for (const [i, row] of rows.entries())
    for (let j = 0; j <= i; j++) {
      row[j] = of(i, j)
      nth(rows, j)[i] = entry(row, j)
    }
  return rows
}
