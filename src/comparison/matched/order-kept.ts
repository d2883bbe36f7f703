/** What many ways of counting say together: how many carry a ratio, in how many the order is that of the finding. */
export interface OrderKept {
  readonly counted: number
  /** Not a probability. Null where the finding's own ratio rounds to 1: there is no order to hold. */
  readonly sameOrder: number | null
  readonly low: number
  readonly high: number
}

/** 1 where B has more than A, -1 where it has less, 0 where the ratio is read as 1.00. */
const orderOf = (ratio: number): -1 | 0 | 1 => (Math.round(100 * ratio) === 100 ? 0 : ratio > 1 ? 1 : -1)

/** Ratios of all ways, the finding's own first; null where a way carries none. */
export function orderKept(ways: readonly { readonly ratio: number | null }[]): OrderKept {
  const ratios = ways.flatMap((way) => (way.ratio === null ? [] : [way.ratio]))
  const found = ways[0]?.ratio ?? 1
  const own = orderOf(found)
  return {
    counted: ratios.length,
    sameOrder: own === 0 ? null : ratios.filter((ratio) => orderOf(ratio) === own).length,
    low: Math.min(...ratios, found),
    high: Math.max(...ratios, found),
  }
}

/** Whether a way has the other order than the finding; a ratio that is read as 1.00 has none. */
export const turns = (ratio: number | null, found: number) => ratio !== null && orderOf(ratio) * orderOf(found) < 0

/** The least part of a season's hours or kilograms on which a way of counting may rest. */
export const leastKept = 0.1
