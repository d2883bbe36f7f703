import { formatNumber } from '../../quantities/formatting.ts'
import type { Words } from '../../words/catalogue.ts'
import type { BurdenRestsOn } from './burden-finding.ts'
import type { RestsOn } from './yield-finding.ts'

/** Seasons that a finding leaves out, each with why. */
export function leftOutSeasons(
  { open, gaps, soFar, left = [] }: RestsOn & Partial<Pick<BurdenRestsOn, 'left'>>,
  words: Words['findings'],
  locale: string,
): string[] {
  return [
    ...(soFar ? [words.soFar] : []),
    ...open.map((one) => words.leftOpen(one.season, formatNumber(one.ratio, locale, 2))),
    ...left.map((one) => (one.why === 'no price' ? words.leftUnpriced(one.season) : words.leftStanding(one.season))),
    ...(gaps.length > 0 ? [words.gaps(gaps)] : []),
  ]
}
