export interface Node {
  readonly at: number
  readonly weight: number
}

/**
 * Nodes and weights of Gauss-Legendre quadrature on [-1, 1] (Abramowitz & Stegun 1964, 25.4.29), by Newton's method.
 */
export function gaussLegendre(n: number): readonly Node[] {
  return Array.from({ length: n }, (_, i) => {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5))
    let slope = 1
    for (let step = 0; step < 100; step++) {
      let [before, now] = [1, x]
      for (let k = 2; k <= n; k++) [before, now] = [now, ((2 * k - 1) * x * now - (k - 1) * before) / k]
      slope = (n * (x * now - before)) / (x * x - 1)
      const move = now / slope
      x -= move
      if (Math.abs(move) < 1e-16) break
    }
    return { at: x, weight: 2 / ((1 - x * x) * slope * slope) }
  })
}

/** The same nodes laid over `panels` equal parts of [from, to]. */
export function panelsOf(from: number, to: number, panels: number, nodes: readonly Node[]): readonly Node[] {
  const half = (to - from) / panels / 2
  return Array.from({ length: panels }, (_, panel) => from + (2 * panel + 1) * half).flatMap((middle) =>
    nodes.map(({ at, weight }) => ({ at: middle + half * at, weight: weight * half })),
  )
}
