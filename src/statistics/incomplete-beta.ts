import { logBeta } from './log-gamma.ts'

/**
 * Regularised incomplete beta function I_x(a, b) for a, b > 0, by the continued fraction of Abramowitz & Stegun 1964,
 * 26.5.8, evaluated after Lentz 1976 (Applied Optics 15:668). `y` is 1 - x, handed in so that neither tail loses
 * digits.
 */
export function incompleteBeta(x: number, y: number, a: number, b: number): number {
  if (x <= 0) return 0
  if (y <= 0) return 1
  return x < (a + 1) / (a + b + 2) ? tail(x, y, a, b) : 1 - tail(y, x, b, a)
}

/** 1 - I_x(a, b), exact where I_x is near 1. */
export const incompleteBetaUpper = (x: number, y: number, a: number, b: number) => incompleteBeta(y, x, b, a)

function tail(x: number, y: number, a: number, b: number): number {
  const front = Math.exp(a * logOf(x, y) + b * logOf(y, x) - logBeta(a, b)) / a
  return front * fraction(x, a, b)
}

/** ln x, through 1 - x where that is the small one. */
const logOf = (x: number, y: number) => (y < 0.5 ? Math.log1p(-y) : Math.log(x))

const tiny = 1e-300
const most = 10_000

function fraction(x: number, a: number, b: number): number {
  let c = 1
  let d = 1 / away(1 - ((a + b) * x) / (a + 1))
  let product = d
  for (let m = 1; m <= most; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m))
    d = 1 / away(1 + even * d)
    c = away(1 + even / c)
    product *= d * c
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))
    d = 1 / away(1 + odd * d)
    c = away(1 + odd / c)
    product *= d * c
    if (Math.abs(d * c - 1) <= Number.EPSILON) break
  }
  return product
}

const away = (value: number) => (Math.abs(value) < tiny ? tiny : value)
