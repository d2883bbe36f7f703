/** A day of the calendar, "2027-03-28": no time, no zone. */
export type IsoDate = `${number}-${number}-${number}`

/** Days since 1 January 1970. */
type DayNumber = number & { readonly unit: 'day' }

const msPerDay = 86_400_000

/**
 * Whether a year can be one of a garden's record: 1900 to 2199. What is typed beyond them is a slip, and work without
 * end.
 */
export const isYearOfRecord = (year: number): boolean => year >= 1900 && year <= 2199

/** Reads "2027-03-28"; undefined where the calendar has no such day, or it lies outside the years of a record. */
export function readDate(text: string): IsoDate | undefined {
  const trimmed = text.trim()
  if (!/^\d{4}-\d{2}-\d{2}$/.test(trimmed) || !isYearOfRecord(Number(trimmed.slice(0, 4)))) return undefined
  const at = Date.parse(`${trimmed}T00:00:00Z`)
  return Number.isFinite(at) && new Date(at).toISOString().slice(0, 10) === trimmed ? (trimmed as IsoDate) : undefined
}

export function dayNumber(date: IsoDate): DayNumber {
  return (Date.parse(`${date}T00:00:00Z`) / msPerDay) as DayNumber
}

/** The day of a year, a month (1 to 12) and a day of it. */
export const dateOf = (year: number, month: number, day: number): IsoDate =>
  isoDateOf(Date.UTC(year, month - 1, day) / msPerDay)

export function isoDateOf(day: number): IsoDate {
  return new Date(day * msPerDay).toISOString().slice(0, 10) as IsoDate
}

export const addDays = (date: IsoDate, days: number): IsoDate => isoDateOf(dayNumber(date) + days)

export const daysBetween = (from: IsoDate, to: IsoDate): number => dayNumber(to) - dayNumber(from)

/** The day that it is at an instant in a time zone (IANA name). */
export function dayIn(timeZone: string, instant: Date): IsoDate {
  const parts = clockIn(timeZone)
    .formatToParts(instant)
    .reduce<Record<string, string>>((read, part) => Object.assign(read, { [part.type]: part.value }), {})
  return dateOf(Number(parts.year), Number(parts.month), Number(parts.day))
}

/** By their time zones, of which there are some 400: each takes longer to be made than to be asked a thousand times. */
const clocks = new Map<string, Intl.DateTimeFormat>()

function clockIn(timeZone: string): Intl.DateTimeFormat {
  const known = clocks.get(timeZone)
  if (known) return known
  const made = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' })
  clocks.set(timeZone, made)
  return made
}
