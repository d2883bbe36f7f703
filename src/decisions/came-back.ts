import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { wilsonInterval } from '../statistics/wilson-interval.ts'

/** How often the weed came again where a cover was lifted and the shoots were counted. */
interface CameBack {
  readonly covers: number
  readonly back: number
  readonly low: number
  readonly middle: number
  readonly high: number
}

/**
 * Of the covers that were lifted and counted after, those whose last count found shoots: the weed was there again, and
 * hoeing with it. A last count of none is a bed that stayed clean, whatever an earlier one found; a cover that nobody
 * counted is unknown and left out. Low and high are the ends of the score interval, middle its centre. Null where
 * nothing was counted.
 */
export function cameBack({ closures = [] }: Pick<TrialRecord, 'closures'>): CameBack | null {
  const counts = closures.flatMap((one) => (one.toDay === null || one.lastRegrowth == null ? [] : [one.lastRegrowth]))
  if (counts.length === 0) return null
  const back = counts.filter((shoots) => shoots > 0).length
  const { centre, low, high } = wilsonInterval({ events: back, n: counts.length })
  return { covers: counts.length, back, low, middle: centre, high }
}
