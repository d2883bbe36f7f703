import type { TrialRecord } from '../record/trial-record.ts'
import { methodTotals } from '../totals/method-totals.ts'

/** From which part of a season's weeks on, closed under each method, its figures are told and not only so far. */
export const leastClosed = 0.9

/** Whether enough weeks of a season are closed under each of the methods that lie in it. */
export function isClosed(
  record: TrialRecord,
  seasonId: string,
  methodIds: readonly string[],
  what: 'weightsClosed' | 'hoursClosed' = 'weightsClosed',
): boolean {
  const totals = methodTotals(record, seasonId)
  return methodIds.every((id) => {
    const own = totals.get(id)
    return own === undefined || own[what] >= leastClosed * own.weeks
  })
}

/** The seasons that are; all of them where none is, and what they say is so far. */
export function closedSeasons(record: TrialRecord, seasonIds: readonly string[], methodIds: readonly string[]) {
  const closed = seasonIds.filter((id) => isClosed(record, id, methodIds))
  return closed.length > 0 ? closed : seasonIds
}
