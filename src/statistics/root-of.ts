/**
 * The root of a function between two points of unlike sign, by Brent's method (Brent 1973, Algorithms for Minimization
 * without Derivatives, chapter 4): to the last digits that the arguments carry.
 */
export function rootOf(f: (x: number) => number, from: number, to: number): number {
  let [a, b, fa, fb] = [from, to, f(from), f(to)]
  let [c, fc, step, before] = [a, fa, b - a, b - a]
  for (let i = 0; i < 300; i++) {
    if (fb > 0 === fc > 0) [c, fc, step, before] = [a, fa, b - a, b - a]
    if (Math.abs(fc) < Math.abs(fb)) [a, b, c, fa, fb, fc] = [b, c, b, fb, fc, fb]
    const tolerance = 2 * Number.EPSILON * Math.abs(b) + Number.MIN_VALUE
    const middle = (c - b) / 2
    if (Math.abs(middle) <= tolerance || fb === 0) return b
    const better =
      Math.abs(before) >= tolerance && Math.abs(fa) > Math.abs(fb) ? interpolated(a, b, c, fa, fb, fc) : null
    if (
      better !== null &&
      Math.abs(2 * better) < Math.min(3 * Math.abs(middle) - tolerance, Math.abs(before)) &&
      better * middle > 0
    ) {
      before = step
      step = better
    } else {
      step = middle
      before = middle
    }
    a = b
    fa = fb
    b += Math.abs(step) > tolerance ? step : Math.sign(middle) * tolerance
    fb = f(b)
  }
  return b
}

/** The step by the secant, or by inverse quadratic interpolation where three points differ. */
function interpolated(a: number, b: number, c: number, fa: number, fb: number, fc: number): number {
  const s = fb / fa
  if (a === c) return ((c - b) * s) / (s - 1)
  const [q, r] = [fa / fc, fb / fc]
  const p = s * ((c - b) * q * (q - r) - (b - a) * (r - 1))
  const divisor = (q - 1) * (r - 1) * (s - 1)
  return -p / divisor
}
