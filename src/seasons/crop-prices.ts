import type { IsoDate } from '../quantities/dates.ts'

/** A price of a crop with the day from which it holds, null for the beginning; no price: not sold any more. */
export interface PriceFrom {
  readonly from: IsoDate | null
  readonly minorPerKg: number | null
}

/** From which day another price holds and what it becomes. */
interface PriceChange extends PriceFrom {
  /** The first day on which a price that was written down already holds again; null where there is none. */
  readonly until: IsoDate | null
}

/**
 * In minor units a kilogram; `prices` lie by their days. What a harvest of a season is worth is said by the price that
 * held on the last day of the season: a price that holds from a later day moves no figure of it.
 */
export const priceOfSeason = (prices: readonly PriceFrom[], { endsOn }: { readonly endsOn: IsoDate }): number | null =>
  prices.findLast(({ from }) => from === null || from <= endsOn)?.minorPerKg ?? null

/** The price that holds last of all, whenever that begins. */
export const priceAtLast = (prices: readonly PriceFrom[]): PriceFrom =>
  prices.at(-1) ?? { from: null, minorPerKg: null }

/**
 * What becomes of the prices of a crop when a price is typed: with another day than the last price has, it holds from
 * that day on; with the same day or none, the last price was wrong and is corrected. Null where nothing changes.
 */
export function priceChange(prices: readonly PriceFrom[], typed: PriceFrom): PriceChange | null {
  const from = typed.from ?? priceAtLast(prices).from
  const stands = prices.find((one) => one.from === from)
  const before = stands ?? (from === null ? undefined : prices.findLast((one) => one.from === null || one.from < from))
  if ((before?.minorPerKg ?? null) === typed.minorPerKg) return null
  const next = prices.find((one) => one.from !== null && (from === null || one.from > from))
  return { from, minorPerKg: typed.minorPerKg, until: next?.from ?? null }
}
