import { choleskyOf, inverseFrom, logDeterminant, solveLower, solveUpper } from './cholesky.ts'

/** What a mixed model's likelihood needs of the data, made once: cross-products of random indicators, fixed columns and y. */
export interface CrossProducts {
  readonly n: number
  readonly p: number
  /** Level counts of each random factor; their levels lie one after another in the cross-products. */
  readonly sizes: readonly number[]
  readonly zz: readonly Float64Array[]
  /** By fixed column. */
  readonly zx: readonly Float64Array[]
  readonly zy: Float64Array
  readonly xx: readonly Float64Array[]
  readonly xy: Float64Array
  readonly yy: number
}

export interface Profile {
  /** ln |Lambda' Z'Z Lambda + I| + ln |RX'RX|, and the penalised sum of squares. */
  readonly logDeterminants: number
  readonly squares: number
  readonly beta: readonly number[]
  /** (RX'RX)^-1: times the residual variance, the covariance of the fixed effects. */
  readonly unscaled: readonly Float64Array[]
}

export function crossProducts(
  y: readonly number[],
  columns: readonly (readonly number[])[],
  factors: readonly (readonly number[])[],
  sizes: readonly number[],
): CrossProducts {
  const q = sizes.reduce((sum, size) => sum + size, 0)
  const starts = sizes.map((_, k) => sizes.slice(0, k).reduce((sum, size) => sum + size, 0))
  const zz = Array.from({ length: q }, () => new Float64Array(q))
  const zx = columns.map(() => new Float64Array(q))
  const zy = new Float64Array(q)
  for (const [i, value] of y.entries()) {
    const at = factors.map((levels, k) => (starts[k] ?? 0) + (levels[i] ?? 0))
    for (const a of at) {
      zy[a] = (zy[a] ?? 0) + value
      for (const [j, column] of columns.entries())
        (zx[j] as Float64Array)[a] = ((zx[j] as Float64Array)[a] ?? 0) + (column[i] ?? 0)
      for (const b of at) (zz[a] as Float64Array)[b] = ((zz[a] as Float64Array)[b] ?? 0) + 1
    }
  }
  const dot = (a: readonly number[], b: readonly number[]) => a.reduce((sum, v, i) => sum + v * (b[i] ?? 0), 0)
  return {
    ...{ n: y.length, p: columns.length, sizes, zz, zx, zy, yy: dot(y, y) },
    xx: columns.map((a) => Float64Array.from(columns, (b) => dot(a, b))),
    xy: Float64Array.from(columns, (a) => dot(a, y)),
  }
}

/**
 * The profile of the restricted likelihood at relative standard deviations `theta`, one a random factor; null where the fixed
 * part is not of full rank. Bates, Maechler, Bolker & Walker 2015, Journal of Statistical Software 67(1), section 3.4.
 */
export function profileAt(data: CrossProducts, theta: readonly number[]): Profile | null {
  const scale = Float64Array.from(data.sizes.flatMap((size, k) => new Array<number>(size).fill(theta[k] ?? 0)))
  const q = scale.length
  const m = data.zz.map((row, i) => {
    const scaled = new Float64Array(q)
    const own = scale[i] as number
    for (let j = 0; j <= i; j++) scaled[j] = own * (row[j] as number) * (scale[j] as number)
    scaled[i] = (scaled[i] as number) + 1
    return scaled
  })
  const lower = choleskyOf(m)
  if (!lower) return null
  const scaled = (column: Float64Array) => column.map((value, i) => value * (scale[i] as number))
  const rzx = data.zx.map(scaled)
  const cu = scaled(data.zy)
  solveLower(lower, [...rzx, cu])
  const dot = (a: Float64Array, b: Float64Array) => {
    let sum = 0
    for (let i = 0; i < a.length; i++) sum += (a[i] as number) * (b[i] as number)
    return sum
  }
  const rx = choleskyOf(
    data.xx.map((row, i) => row.map((value, j) => value - dot(rzx[i] as Float64Array, rzx[j] as Float64Array))),
  )
  if (!rx) return null
  const cb = Float64Array.from(data.xy, (value, i) => value - dot(rzx[i] as Float64Array, cu))
  solveLower(rx, [cb])
  const squares = data.yy - dot(cu, cu) - dot(cb, cb)
  const beta = Float64Array.from(cb)
  solveUpper(rx, beta)
  return {
    logDeterminants: logDeterminant(lower) + logDeterminant(rx),
    squares,
    beta: [...beta],
    unscaled: inverseFrom(rx),
  }
}

/** The REML criterion, -2 ln of the restricted likelihood, with the residual variance profiled out. */
export function criterionOf(data: CrossProducts, theta: readonly number[]): number {
  const profile = profileAt(data, theta)
  if (!profile) return Number.MAX_VALUE
  const df = data.n - data.p
  return profile.logDeterminants + df * (1 + Math.log((2 * Math.PI * profile.squares) / df))
}

/** The same at given standard deviations of the random factors and, last, of the residual. */
export function criterionAt(data: CrossProducts, sds: readonly number[]): number {
  const residual = sds.at(-1) ?? 1
  const profile = profileAt(
    data,
    sds.slice(0, -1).map((sd) => sd / residual),
  )
  if (!profile) return Number.MAX_VALUE
  const variance = residual * residual
  return profile.logDeterminants + (data.n - data.p) * Math.log(2 * Math.PI * variance) + profile.squares / variance
}
