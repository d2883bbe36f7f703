import type { IsoDate } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { kgPerHaOf } from './ledger.ts'
import { type HeldLimit, limitNames, limitOn, limitsHeld, type SpreadingLimit } from './limits.ts'

const words = catalogue.limits

interface KeptLimit extends SpreadingLimit {
  readonly id: string
  readonly from: IsoDate
}

interface ReadOn {
  readonly today: IsoDate
  readonly locale: string
}

/** The limits that hold today in a sentence, and all that were written down, the latest first. */
export function limitsPage(kept: readonly KeptLimit[], { today, locale }: ReadOn) {
  const held = limitNames.flatMap((of) => limitOn(limitsHeld(kept), of, today) ?? [])
  return {
    answer: held.length === 0 ? words.noneHeld : words.held(words.and(held.map((one) => limitSaid(one, locale)))),
    rows: kept.toReversed().map(({ id, source, nutrient, mostMgPerM2, rule, from }) => ({
      id,
      source: words.sources[source],
      nutrient: words.nutrients[nutrient],
      kgPerHa: mostMgPerM2 === null ? words.noLimit : perHaSaid(mostMgPerM2, locale),
      gPerM2: mostMgPerM2 === null ? '' : formatNumber(mostMgPerM2 / 1000, locale, 2),
      rule,
      from: formatDay(from, locale),
    })),
  }
}

export const perHaSaid = (mgPerM2: number, locale: string) =>
  formatNumber(kgPerHaOf(mgPerM2), locale, mgPerM2 % 100 === 0 ? 0 : mgPerM2 % 10 === 0 ? 1 : 2)

/** "170 kg of nitrogen a hectare from manure (its rule)". */
export const limitSaid = ({ source, nutrient, mostMgPerM2, rule }: HeldLimit, locale: string): string =>
  words.said({
    kg: perHaSaid(mostMgPerM2, locale),
    nutrient: words.nutrients[nutrient],
    source: words.ofSource[source],
    rule: rule ?? words.typed,
  })
