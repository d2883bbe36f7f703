/**
 * The number of a cut among the days on which a planting was cut in a season, from 1; null for a day that is none of
 * them.
 */
export function cutNumber(days: readonly string[], day: string): number | null {
  const cuts = [...new Set(days)].sort()
  const at = cuts.indexOf(day)
  return at < 0 ? null : at + 1
}
