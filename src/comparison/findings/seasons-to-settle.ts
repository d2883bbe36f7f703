import { smallestDetectable } from '../../statistics/smallest-detectable.ts'
import type { Finding } from './findings.ts'

const quarter = Math.log(1.25)
const most = 60

/**
 * How many seasons as unlike each other as these it would take until a true quarter more or less would be seen in four
 * of five trials, by the pair whose seasons lie furthest apart; null where no pair has two seasons.
 */
export function seasonsToSettle(found: readonly Finding[]): number | 'over sixty' | null {
  const spreads = found.flatMap((one) => {
    if (!('smallestSeen' in one) || one.smallestSeen === null) return []
    const unit = seenWith(one.seasons)
    return unit === null ? [] : [Math.log(one.smallestSeen) / unit]
  })
  if (spreads.length === 0) return null
  const sd = Math.max(...spreads)
  for (let seasons = 2; seasons <= most; seasons++) {
    const unit = seenWith(seasons)
    if (unit !== null && unit * sd <= quarter) return seasons
  }
  return 'over sixty'
}

/**
 * The smallest difference seen with so many seasons, in standard deviations of a season: of their number alone, and
 * reckoned once for each.
 */
function seenWith(n: number): number | null {
  const known = seen.get(n)
  if (known !== undefined) return known
  const found = smallestDetectable({ n, sd: 1, power: 0.8, paired: true })
  const difference = found.kind === 'answer' ? found.difference : null
  seen.set(n, difference)
  return difference
}

const seen = new Map<number, number | null>()
