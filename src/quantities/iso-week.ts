import { addDays, dateOf, dayNumber, type IsoDate, isoDateOf, isYearOfRecord } from './dates.ts'

/** A week of ISO 8601: Monday first, week 1 holds the first Thursday of the year. Written "2027-W05". */
export type IsoWeek = `${number}-W${number}`

/** Reads "2027-W05"; undefined where that year has no such week (2025-W53 does not exist) or is none of a record. */
export function readIsoWeek(text: string): IsoWeek | undefined {
  const found = /^(\d{4})-W(\d{2})$/.exec(text)
  if (!found) return undefined
  const [year, week] = [Number(found[1]), Number(found[2])]
  return isYearOfRecord(year) && week >= 1 && week <= weeksInYear(year) ? (text as IsoWeek) : undefined
}

/**
 * A week as it was written down. Each is read once: ten years have five hundred of them, and tens of thousands of rows.
 *
 * @throws RangeError where it is none
 */
export function weekWritten(text: string): IsoWeek {
  const known = weeksRead.get(text)
  if (known) return known
  const week = readIsoWeek(text)
  if (week === undefined) throw new RangeError(`${text} is no week.`)
  if (weeksRead.size >= mostRead) weeksRead.clear()
  weeksRead.set(text, week)
  return week
}

const mostRead = 5000
const weeksRead = new Map<string, IsoWeek>()

export function weekOf(date: IsoDate): IsoWeek {
  const day = dayNumber(date)
  const thursday = isoDateOf(day + 3 - weekday(day))
  const year = Number(thursday.slice(0, 4))
  const week = Math.floor((dayNumber(thursday) - dayNumber(dateOf(year, 1, 1))) / 7) + 1
  return `${String(year).padStart(4, '0')}-W${String(week).padStart(2, '0')}` as IsoWeek
}

/** Monday to Sunday. The weeks asked for last are kept: a file asks for the same few with each of its lines. */
export function daysOf(week: IsoWeek): readonly IsoDate[] {
  const known = lastDays.get(week)
  if (known) return known
  const monday = mondayOf(week)
  const days = Array.from({ length: 7 }, (_, days) => addDays(monday, days))
  if (lastDays.size >= mostKept) lastDays.clear()
  lastDays.set(week, days)
  return days
}

const mostKept = 500
const lastDays = new Map<string, readonly IsoDate[]>()

export function mondayOf(week: IsoWeek): IsoDate {
  const fourth = dateOf(Number(week.slice(0, 4)), 1, 4)
  return addDays(fourth, 7 * (Number(week.slice(6)) - 1) - weekday(dayNumber(fourth)))
}

export const sundayOf = (week: IsoWeek): IsoDate => addDays(mondayOf(week), 6)

export const thursdayOf = (week: IsoWeek): IsoDate => addDays(mondayOf(week), 3)

/** The day of what says none: the Thursday of its week, or today where that Thursday is still to come. */
export function dayUnsaid(week: IsoWeek, today: IsoDate): IsoDate {
  const thursday = thursdayOf(week)
  return thursday > today && mondayOf(week) <= today ? today : thursday
}

/** "48" of 2026-W48: as a week is called beside its year. */
export const weekNumber = (week: string): string => week.slice(6).replace(/^0/, '')

export const weekAfter = (week: IsoWeek, weeks: number): IsoWeek => weekOf(addDays(mondayOf(week), 7 * weeks))

/** The weeks whose Thursday lies in the span: each week belongs to the one side of a border that holds most of it. */
export function weeksBetween(first: IsoDate, last: IsoDate): IsoWeek[] {
  const weeks: IsoWeek[] = []
  const from = dayNumber(first)
  // Counted by days: beyond the year 9999 no week can be written, and none would follow.
  for (let thursday = from + 3 - weekday(from); thursday <= dayNumber(last); thursday += 7) {
    if (thursday >= from) weeks.push(weekOf(isoDateOf(thursday)))
  }
  return weeks
}

export function weeksInYear(year: number): number {
  const lastWeek = weekOf(dateOf(year, 12, 28))
  return Number(lastWeek.slice(6))
}

/** Monday is 0. Day 0 of the count, 1 January 1970, was a Thursday. */
function weekday(day: number): number {
  return (((day + 3) % 7) + 7) % 7
}
