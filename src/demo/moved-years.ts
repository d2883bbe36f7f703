import { nth } from '../lookups/nth.ts'
import { dateOf, type IsoDate, readDate } from '../quantities/dates.ts'
import { mondayOf, readIsoWeek, weekOf } from '../quantities/iso-week.ts'

/** The year in which the season that runs begins in the truth as it is written. */
const baseYear = 2026
/** From June on it is the coming season that stands. */
const firstMonth = 6

/** By how many years the truth is moved so that its running season is that of a day. */
export function yearsToMove(day: string): number {
  const year = Number(day.slice(0, 4))
  return (Number(day.slice(5, 7)) >= firstMonth ? year : year - 1) - baseYear
}

/**
 * Days, weeks and names of seasons within anything, moved by whole years; a week becomes that of its Monday's new day.
 */
export function movedYears<T>(told: T, years: number): T {
  if (years === 0) return told
  if (typeof told === 'string') return movedText(told, years) as T
  if (Array.isArray(told)) return told.map((one) => movedYears(one, years)) as T
  if (told === null || typeof told !== 'object') return told
  return Object.fromEntries(Object.entries(told).map(([key, one]) => [key, movedYears(one, years)])) as T
}

function movedText(text: string, years: number): string {
  const later = (year: string) => String(Number(year) + years)
  const season = /^(\d{4})\/\d\d$/.exec(text)
  if (season) return `${later(nth(season, 1))}/${later(String(Number(season[1]) + 1)).slice(2)}`
  const [week, day] = [readIsoWeek(text), readDate(text)]
  if (week) return weekOf(movedDay(mondayOf(week), years))
  return day ? movedDay(day, years) : text
}

/** The last of February stands for the 29th where the year has none. */
export function movedDay(day: IsoDate, years: number): IsoDate {
  const year = Number(day.slice(0, 4)) + years
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
  const [month, date] = [Number(day.slice(5, 7)), Number(day.slice(8))]
  return dateOf(year, month, month === 2 && date === 29 && !leap ? 28 : date)
}
