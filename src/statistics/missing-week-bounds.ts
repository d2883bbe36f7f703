import { type Answer, answer, type Refusal, refused } from './answer.ts'

interface MissingWeeks {
  readonly observed: number
  /** How many weeks are unknown. */
  readonly missing: number
  /** The least and the most that one unknown week could hold, from what closed weeks hold. */
  readonly low: number
  readonly high: number
}

/**
 * The least and the most that a total can be when some of its weeks are unknown: worst-case bounds (Manski 1989,
 * Journal of Human Resources 24:343-360). Refuses figures under 0 and a high under the low.
 */
export function missingWeekBounds({
  observed,
  missing,
  low,
  high,
}: MissingWeeks): Answer<{ low: number; high: number }> | Refusal {
  if (![observed, missing, low, high].every((value) => Number.isFinite(value) && value >= 0)) {
    return refused('out of range', 'a figure under 0')
  }
  if (high < low) return refused('out of range', `${high} under ${low}`)
  return answer({ low: observed + missing * low, high: observed + missing * high })
}
