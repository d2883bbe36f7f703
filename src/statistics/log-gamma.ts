/**
 * ln of the gamma function for x > 0. Stirling's series from 10 on (Abramowitz & Stegun 1964, 6.1.41), stepped down
 * below.
 */
export function logGamma(x: number): number {
  if (x >= 10) return (x - 0.5) * Math.log(x) - x + halfLogTwoPi + stirlingRest(x)
  let product = 1
  let y = x
  while (y < 10) product *= y++
  return logGamma(y) - Math.log(product)
}

const halfLogTwoPi = 0.9189385332046728

/** What Stirling's approximation leaves of ln gamma, for x >= 10: to 1e-17. */
export function stirlingRest(x: number): number {
  const z = 1 / (x * x)
  const series =
    1 / 12 - z * (1 / 360 - z * (1 / 1260 - z * (1 / 1680 - z * (1 / 1188 - z * (691 / 360_360 - z / 156)))))
  return series / x
}

/** ln of the beta function, without the cancellation that three ln gammas have for large arguments. */
export function logBeta(a: number, b: number): number {
  const [small, large] = a < b ? [a, b] : [b, a]
  if (small >= 10) {
    const rest = stirlingRest(small) + stirlingRest(large) - stirlingRest(small + large)
    const share = small / (small + large)
    return halfLogTwoPi - 0.5 * Math.log(large) + rest + (small - 0.5) * Math.log(share) + large * Math.log1p(-share)
  }
  if (large >= 10) {
    const rest = stirlingRest(large) - stirlingRest(small + large)
    const grow = (large - 0.5) * Math.log1p(-small / (small + large))
    return logGamma(small) + rest + small - small * Math.log(small + large) + grow
  }
  return logGamma(a) + logGamma(b) - logGamma(a + b)
}
