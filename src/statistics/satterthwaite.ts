import { choleskyOf, inverseFrom } from './cholesky.ts'
import { type CrossProducts, criterionAt, profileAt } from './reml.ts'

/**
 * Degrees of freedom of each fixed effect: 2 v^2 / (g' A g), with v its variance, g the slope of v in the standard deviations
 * and A twice the inverse of the criterion's curvature, by central differences. Standard deviations at their bound of zero are
 * left out. Satterthwaite 1946, Biometrics Bulletin 2:110; Fai & Cornelius 1996, J Stat Comput Simul 54:363.
 */
export function satterthwaiteDf(data: CrossProducts, sds: readonly number[]): number[] {
  const free = sds.flatMap((sd, i) => (sd > 1e-4 * (sds.at(-1) ?? 1) ? [i] : []))
  const moved = (steps: readonly (readonly [number, number])[]) =>
    sds.map((sd, i) => sd + steps.reduce((sum, [at, by]) => sum + (at === i ? by : 0), 0))
  const step = (i: number) => 1e-3 * (sds[i] ?? 1)
  const curvature = free.map((i) =>
    Float64Array.from(free, (j) => {
      const [h, k] = [step(i), step(j)]
      const at = (a: number, b: number) =>
        criterionAt(
          data,
          moved([
            [i, a * h],
            [j, b * k],
          ]),
        )
      if (i === j) {
        const f = (by: number) => criterionAt(data, moved([[i, by * h]]))
        return (-f(2) + 16 * f(1) - 30 * f(0) + 16 * f(-1) - f(-2)) / (12 * h * h)
      }
      return (at(1, 1) - at(1, -1) - at(-1, 1) + at(-1, -1)) / (4 * h * k)
    }),
  )
  const factor = choleskyOf(curvature)
  const covariance = factor ? inverseFrom(factor) : null
  const variances = (at: readonly number[]) => {
    const residual = at.at(-1) ?? 1
    const profile = profileAt(
      data,
      at.slice(0, -1).map((sd) => sd / residual),
    )
    return (profile?.unscaled ?? []).map((row, i) => (row[i] as number) * residual * residual)
  }
  const here = variances(sds)
  const slopes = free.map((i) => {
    const [up, down] = [variances(moved([[i, step(i)]])), variances(moved([[i, -step(i)]]))]
    return up.map((value, c) => (value - (down[c] ?? 0)) / (2 * step(i)))
  })
  return here.map((variance, c) => {
    if (!covariance) return data.n - data.p
    let spread = 0
    for (const [i, one] of slopes.entries())
      for (const [j, other] of slopes.entries())
        spread += (one[c] ?? 0) * 2 * ((covariance[i] as Float64Array)[j] as number) * (other[c] ?? 0)
    return spread > 0 ? (2 * variance * variance) / spread : data.n - data.p
  })
}
