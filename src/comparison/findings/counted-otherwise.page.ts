import { formatNumber } from '../../quantities/formatting.ts'
import type { Words } from '../../words/catalogue.ts'
import type { EveryMeasureWay } from '../matched/every-measure-way.ts'
import type { EveryWay } from '../matched/every-way.ts'
import type { LeavingOut, LeftOut } from '../matched/leaving-out.ts'

interface Tested {
  readonly everyWay: EveryWay | EveryMeasureWay
  /** Only where crops and seasons are matched. */
  readonly without?: LeavingOut
}

type FindingWords = Words['findings']

/**
 * What a finding would be, counted otherwise: with crops and seasons left out, each crop once, and in every sensible
 * way.
 */
export function countedOtherwise({ everyWay, without }: Tested, words: FindingWords, locale: string): string[] {
  const number = (value: number) => formatNumber(value, locale, 2)
  const { sameOrder, counted, low, high, turning } = everyWay
  return [
    ...(without ? hangsOn(without, words, locale) : []),
    ...(counted > 1 ? [words.everyWay(sameOrder, counted, number(low), number(high))] : []),
    ...(turning.length > 0 ? [words.turned(turning.map((rule) => words.rules[rule]).join(', '))] : []),
  ]
}

function hangsOn({ crops, seasons, carriedBy, cropsOnce }: LeavingOut, words: FindingWords, locale: string): string[] {
  return [
    ...(carriedBy.length > 0 ? [words.carried(carriedBy)] : []),
    ...(crops ? [words.leftOut('crops', leftOutSaid(crops, locale))] : []),
    ...(seasons ? [words.leftOut('seasons', leftOutSaid(seasons, locale))] : []),
    ...(crops ? [words.cropsOnce(formatNumber(cropsOnce, locale, 2))] : []),
  ]
}

function leftOutSaid({ low, high, lowWithout, highWithout }: LeftOut, locale: string) {
  return { low: formatNumber(low, locale, 2), high: formatNumber(high, locale, 2), lowWithout, highWithout }
}
