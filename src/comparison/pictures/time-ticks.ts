import type { NamedTick } from '../../drawing/axes.ts'
import { addDays, dateOf, dayNumber, type IsoDate } from '../../quantities/dates.ts'
import { type IsoWeek, mondayOf, readIsoWeek } from '../../quantities/iso-week.ts'

/** First days of months between two days, as many as a narrow picture has room for: years alone over a long time. */
export function dayTicks(first: IsoDate, last: IsoDate, locale: string): NamedTick[] {
  const months = monthOf(last) - monthOf(first)
  const stride = [1, 3, 6, 12, 24, 60, 120].find((one) => months / one <= 4) ?? 240
  const from = Math.ceil(monthOf(first) / stride) * stride
  return Array.from({ length: Math.max(0, Math.floor((monthOf(last) - from) / stride) + 1) }, (_, i) => {
    const month = from + i * stride
    const day = dateOf(Math.floor(month / 12), (month % 12) + 1, 1)
    return { at: dayNumber(day), label: stride < 12 ? named(day, locale, true) : day.slice(0, 4) }
  }).filter((tick) => tick.at >= dayNumber(first) && tick.at <= dayNumber(last))
}

/** Weeks in which a month begins, counted from 0, every second one where there are many. */
export function weekTicks(weeks: readonly string[], locale: string): NamedTick[] {
  const starts = weeks.flatMap((text, at) => {
    const week: IsoWeek | undefined = readIsoWeek(text)
    const begins = week === undefined ? undefined : firstDayIn(mondayOf(week))
    return begins === undefined ? [] : [{ at, label: named(begins, locale, false) }]
  })
  return starts.filter((_, i) => starts.length < 8 || i % 2 === 0)
}

const monthOf = (day: string) => 12 * Number(day.slice(0, 4)) + Number(day.slice(5, 7)) - 1

const named = (day: string, locale: string, withYear: boolean) =>
  new Intl.DateTimeFormat(locale, { month: 'short', ...(withYear ? { year: 'numeric' } : {}), timeZone: 'UTC' }).format(
    new Date(`${day}T00:00:00Z`),
  )

function firstDayIn(monday: IsoDate): IsoDate | undefined {
  const days = Array.from({ length: 7 }, (_, i) => addDays(monday, i))
  return days.find((day) => day.endsWith('-01'))
}
