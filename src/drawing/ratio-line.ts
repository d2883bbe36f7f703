/**
 * Where a ratio and its interval stand on one line in doublings, from a quarter to 32 times; what lies beyond stands at
 * its end.
 */
export interface RatioLine {
  readonly width: number
  /** Where the line begins and ends. */
  readonly ends: readonly [number, number]
  /** Of 1, the reference. */
  readonly one: number
  readonly at: number | null
  readonly from: number | null
  readonly to: number | null
}

const ratioEnds = { low: 1 / 4, high: 32 }

export function ratioLine(
  { ratio, low, high }: { ratio: number | null; low: number | null; high: number | null },
  { width = 120, edge = 6 } = {},
): RatioLine {
  const x = (value: number | null) => (value === null || !(value > 0) ? null : placeOf(value, width, edge))
  return { width, ends: [edge, width - edge], one: placeOf(1, width, edge), at: x(ratio), from: x(low), to: x(high) }
}

function placeOf(value: number, width: number, edge: number): number {
  const [from, to] = [Math.log2(ratioEnds.low), Math.log2(ratioEnds.high)]
  const part = (Math.log2(value) - from) / (to - from)
  return Math.round(10 * (edge + Math.min(1, Math.max(0, part)) * (width - 2 * edge))) / 10
}
