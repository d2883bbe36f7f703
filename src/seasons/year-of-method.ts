import type { IsoDate } from '../quantities/dates.ts'

/** Years below this are a count of years; from it on a year of the calendar. */
const firstCalendarYear = 1900

/**
 * In which year a method is on its ground in a season that starts on a day: typed as that count, 1 for the first year,
 * or as the calendar year in which it was begun. A year after the season's start counts as the first.
 */
export function yearOfMethod(typed: number, seasonStartsOn: IsoDate): number {
  if (typed < firstCalendarYear) return typed
  return Math.max(1, Number(seasonStartsOn.slice(0, 4)) - typed + 1)
}

export const isYearOfMethod = (typed: number): boolean =>
  (typed >= 1 && typed <= 200) || (typed >= firstCalendarYear && typed <= 2200)
