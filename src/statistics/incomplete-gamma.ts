import { logGamma, stirlingRest } from './log-gamma.ts'

/**
 * Regularised incomplete gamma functions: P(a, x) by its series (Abramowitz & Stegun 1964, 6.5.29), Q(a, x) = 1 - P by
 * its continued fraction (6.5.31, evaluated after Lentz 1976). Each tail is computed where it is the smaller one.
 */
export function incompleteGamma(a: number, x: number): { lower: number; upper: number } {
  if (x <= 0) return { lower: 0, upper: 1 }
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 }
  if (x < a + 1) {
    const lower = front(a, x) * series(a, x)
    return { lower, upper: 1 - lower }
  }
  const upper = front(a, x) * fraction(a, x)
  return { lower: 1 - upper, upper }
}

/** x^a e^-x / gamma(a); for large a through ln(x / a), so that no large logarithms cancel. */
function front(a: number, x: number): number {
  if (a < 10) return Math.exp(a * Math.log(x) - x - logGamma(a))
  const away = (x - a) / a
  return Math.sqrt(a / (2 * Math.PI)) * Math.exp(a * (Math.log1p(away) - away) - stirlingRest(a))
}

function series(a: number, x: number): number {
  let term = 1 / a
  let sum = term
  for (let n = 1; n < 100_000 && term > sum * 1e-17; n++) {
    term *= x / (a + n)
    sum += term
  }
  return sum
}

function fraction(a: number, x: number): number {
  let b = x + 1 - a
  let c = 1e300
  let d = 1 / b
  let product = d
  for (let n = 1; n < 100_000; n++) {
    const step = -n * (n - a)
    b += 2
    d = 1 / away(step * d + b)
    c = away(b + step / c)
    product *= d * c
    if (Math.abs(d * c - 1) <= Number.EPSILON) break
  }
  return product
}

const away = (value: number) => (Math.abs(value) < 1e-300 ? 1e-300 : value)
