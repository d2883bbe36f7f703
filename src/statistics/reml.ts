import { entry, nth } from '../lookups/nth.ts'
import { squareOf, triangleInverse } from './cholesky.ts'
import { dot } from './moments.ts'

/** What a mixed model's likelihood needs of the data, made once: its cost no longer grows with the rows. */
export interface CrossProducts {
  readonly n: number
  readonly p: number
  /** Level counts of each random factor; their levels lie one after another in the cross-products. */
  readonly sizes: readonly number[]
  /** Z'Z, symmetric; and Z'X by fixed column, and Z'y. */
  readonly zz: readonly Float64Array[]
  readonly zx: readonly Float64Array[]
  readonly zy: Float64Array
  readonly reduced: Reduced
}

/**
 * The cross-products of everything but the first random factor: its own block is diagonal, so it leaves the equations
 * by a weighted sum over its levels, and levels with equally many rows weigh alike.
 */
interface Reduced {
  /** Columns of the other random factors, of the fixed part and of y, in that order. */
  readonly width: number
  readonly others: number
  readonly products: Float64Array
  readonly levels: readonly { readonly rows: number; readonly count: number; readonly products: Float64Array }[]
}

interface Profile {
  /** ln |Lambda' Z'Z Lambda + I| + ln |RX'RX|, and the penalised sum of squares. */
  readonly logDeterminants: number
  readonly squares: number
  /** The whole factor: random columns but the first factor's, fixed columns, y. */
  readonly lower: Float64Array
}

/** Cross-products of y, the fixed columns and the indicators; the factor with the most levels should come first. */
export function crossProducts(
  y: readonly number[],
  columns: readonly (readonly number[])[],
  factors: readonly (readonly number[])[],
  sizes: readonly number[],
): CrossProducts {
  const q = sizes.reduce((sum, size) => sum + size, 0)
  const starts = sizes.map((_, k) => sizes.slice(0, k).reduce((sum, size) => sum + size, 0))
  const zz = Array.from({ length: q }, () => new Float64Array(q))
  for (const [k, one] of factors.entries())
    for (const [l, other] of factors.entries())
      for (let i = 0; i < y.length; i++) {
        const row = nth(zz, nth(starts, k) + nth(one, i))
        const at = nth(starts, l) + nth(other, i)
        row[at] = entry(row, at) + 1
      }
  const byLevel = (values: readonly number[]) => {
    const sums = new Float64Array(q)
    for (const [k, levels] of factors.entries())
      for (let i = 0; i < values.length; i++) {
        const at = nth(starts, k) + nth(levels, i)
        sums[at] = entry(sums, at) + nth(values, i)
      }
    return sums
  }
  const [zx, zy] = [columns.map(byLevel), byLevel(y)]
  const inner = [...columns, y]
  const fixed = inner.map((one, i) => inner.slice(0, i + 1).map((other) => dot(one, other)))
  // Without a random factor there is no column to take off.
  const reduced = reducedOf(zz, [...zx, zy], fixed, sizes[0] ?? 0)
  return { n: y.length, p: columns.length, sizes, zz, zx, zy, reduced }
}

function reducedOf(
  zz: readonly Float64Array[],
  sums: readonly Float64Array[],
  fixed: readonly (readonly number[])[],
  first: number,
): Reduced {
  const others = zz.length - first
  const width = others + sums.length
  const across = (level: number, i: number) =>
    i < others ? entry(nth(zz, level), first + i) : entry(nth(sums, i - others), level)
  const products = new Float64Array(width * width)
  for (let i = 0; i < width; i++)
    for (let j = 0; j <= i; j++)
      products[i * width + j] = j < others ? across(first + j, i) : nth(nth(fixed, i - others), j - others)
  const byRows = new Map<number, number[]>()
  for (let level = 0; level < first; level++) {
    const rows = entry(nth(zz, level), level)
    byRows.set(rows, [...(byRows.get(rows) ?? []), level])
  }
  const levels = [...byRows].map(([rows, alike]) => {
    const sum = new Float64Array(width * width)
    for (const level of alike)
      for (let i = 0; i < width; i++) {
        const one = across(level, i)
        if (one === 0) continue
        for (let j = 0; j <= i; j++) sum[i * width + j] = entry(sum, i * width + j) + one * across(level, j)
      }
    return { rows, count: alike.length, products: sum }
  })
  return { width, others, products, levels }
}

/**
 * The profile of the restricted likelihood at relative standard deviations `theta`, one a random factor; null where the
 * fixed part is not of full rank. Bates, Maechler, Bolker & Walker 2015, Journal of Statistical Software 67(1), section
 * 3.4; the first factor is eliminated by its Schur complement.
 */
export function profileAt({ reduced, sizes }: CrossProducts, theta: readonly number[]): Profile | null {
  const { width, others, products, levels } = reduced
  const scale = new Float64Array(width).fill(1)
  let at = 0
  for (let k = 1; k < sizes.length; k++) for (let i = 0; i < nth(sizes, k); i++) scale[at++] = nth(theta, k)
  // The same: no factor, no spread of it.
  const square = (theta[0] ?? 0) ** 2
  const m = products.slice()
  let logDeterminants = 0
  for (const { rows, count, products: own } of levels) {
    logDeterminants += count * Math.log1p(square * rows)
    const weight = square / (1 + square * rows)
    for (let i = 0; i < m.length; i++) m[i] = entry(m, i) - weight * entry(own, i)
  }
  for (let i = 0; i < width; i++) {
    const row = i * width
    for (let j = 0; j <= i; j++) {
      let sum = entry(m, row + j) * entry(scale, i) * entry(scale, j)
      if (i === j && i < others) sum += 1
      for (let k = 0; k < j; k++) sum -= entry(m, row + k) * entry(m, j * width + k)
      if (j < i) m[row + j] = sum / entry(m, j * width + j)
      else if (i === width - 1) return { logDeterminants, squares: Math.max(0, sum), lower: m }
      else {
        if (!(sum > 0)) return null
        logDeterminants += Math.log(sum)
        m[row + i] = Math.sqrt(sum)
      }
    }
  }
  return null
}

/** The fixed effects, and their covariance without the residual variance: (RX'RX)^-1. */
export function fixedEffects({ p, reduced: { width, others } }: CrossProducts, { lower }: Profile) {
  const rows = Array.from({ length: p + 1 }, (_, i) => {
    const from = (others + i) * width + others
    return lower.slice(from, from + p)
  })
  const inverse = triangleInverse(rows.slice(0, p))
  const last = nth(rows, p)
  const beta = inverse.map((_, j) => inverse.reduce((sum, row, i) => sum + entry(row, j) * entry(last, i), 0))
  return { beta, unscaled: squareOf(inverse) }
}

/** The REML criterion, -2 ln of the restricted likelihood, with the residual variance profiled out. */
export function criterionOf(data: CrossProducts, theta: readonly number[]): number {
  const profile = profileAt(data, theta)
  if (!profile) return Number.MAX_VALUE
  const df = data.n - data.p
  return profile.logDeterminants + df * (1 + Math.log((2 * Math.PI * Math.max(profile.squares, 1e-300)) / df))
}
