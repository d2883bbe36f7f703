import { addDays, dateOf, daysBetween, type IsoDate } from '../quantities/dates.ts'

/** How many calendar years lie between the first days of two seasons, to the nearest. */
export const yearsBetween = (before: { startsOn: IsoDate }, own: { startsOn: IsoDate }): number =>
  Math.round(daysBetween(before.startsOn, own.startsOn) / 365.25)

/**
 * The same day of the year so many years on, shifted by three days at most to the same day of the week: a Saturday's
 * sowing stays a Saturday's. The 29th of February is the 28th where there is none.
 */
export function sameDayOfYear(day: IsoDate, years: number): IsoDate {
  const [year = 0, month = 1, date = 1] = day.split('-').map(Number)
  const last = new Date(Date.UTC(year + years, month, 0)).getUTCDate()
  const same = dateOf(year + years, month, Math.min(date, last))
  const off = ((daysBetween(day, same) % 7) + 7) % 7
  return addDays(same, off > 3 ? 7 - off : -off)
}

/**
 * When each of several plantings comes into its bed in another season: on the same day of the year; or, where the first
 * day of sowing is given, each as many days after the first as it was before.
 */
export function carriedDays(
  days: ReadonlyMap<string, IsoDate>,
  years: number,
  first: IsoDate | null,
): ReadonlyMap<string, IsoDate> {
  const earliest = [...days.values()].sort()[0]
  const moved = (day: IsoDate): IsoDate => {
    if (first === null || earliest === undefined) return sameDayOfYear(day, years)
    return addDays(first, daysBetween(earliest, day))
  }
  return new Map([...days].map(([id, day]) => [id, moved(day)]))
}
