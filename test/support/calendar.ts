import { type IsoDate, readDate } from '../../src/quantities/dates.ts'
import { type IsoWeek, readIsoWeek } from '../../src/quantities/iso-week.ts'

/** A day that a test puts together, read as the service reads one: a slip in it throws. */
export function aDay(text: string): IsoDate {
  const day = readDate(text)
  if (day === undefined) throw new Error(`"${text}" is no day.`)
  return day
}

export function aWeek(text: string): IsoWeek {
  const week = readIsoWeek(text)
  if (week === undefined) throw new Error(`"${text}" is no week.`)
  return week
}
