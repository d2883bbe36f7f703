import { dayNumber, type IsoDate } from '../quantities/dates.ts'

/**
 * "Tu", "Tu 5", "5.5.", "5 May", "5/5", "5" or "2026-05-05" as one of these seven days; undefined where it is none of
 * them.
 */
export function dayTyped(text: string, days: readonly IsoDate[], locale: string): IsoDate | undefined {
  const plain = text
    .trim()
    .toLowerCase()
    .replace(/(?<![:,])[:,]+$/, '')
    .trim()
  if (/^\d{4}-\d{2}-\d{2}$/.test(plain)) return days.find((day) => day === plain)
  const parts = plain.split(/[\s./]+|(?<=\d)-|-(?=\d)/).filter(Boolean)
  const said = parts.map((part) => meaningOf(part, locale))
  if (said.length === 0 || said.some((one) => one === undefined)) return undefined
  const dotted = /\d\.\s*\d/.test(plain)
  const fitting = days.filter((day) => fits(day, said as Meaning[], dotted))
  return fitting.length === 1 ? fitting[0] : undefined
}

type Meaning = { readonly number: number } | { readonly weekday: number } | { readonly month: number }

function fits(day: IsoDate, said: readonly Meaning[], dotted: boolean): boolean {
  const [month, date] = [Number(day.slice(5, 7)), Number(day.slice(8))]
  const numbers = said.flatMap((one) => ('number' in one ? [one.number] : []))
  const words = said.every((one) => {
    if ('weekday' in one) return (((dayNumber(day) + 3) % 7) + 7) % 7 === one.weekday
    return 'month' in one ? one.month === month : true
  })
  if (!words || numbers.length > 2) return false
  const [first, second] = numbers
  if (second === undefined) return first === undefined || first === date
  // With a point the day comes first everywhere; with a stroke the two orders are both in use.
  return (first === date && second === month) || (!dotted && first === month && second === date)
}

function meaningOf(part: string, locale: string): Meaning | undefined {
  if (/^\d{1,2}$/.test(part)) return { number: Number(part) }
  const plain = part.replace(/^(\d{1,2})(st|nd|rd|th)$/, '$1')
  if (/^\d{1,2}$/.test(plain)) return { number: Number(plain) }
  if (part.length < 2) return undefined
  const names = namesIn(locale)
  const weekday = names.weekdays.findIndex((all) => all.some((name) => name.startsWith(part)))
  if (weekday >= 0) return { weekday }
  const month = names.months.findIndex((all) => part.length >= 3 && all.some((name) => name.startsWith(part)))
  return month >= 0 ? { month: month + 1 } : undefined
}

interface Names {
  /** Monday first; long and short, in the locale and in English. */
  readonly weekdays: readonly (readonly string[])[]
  readonly months: readonly (readonly string[])[]
}

const known = new Map<string, Names>()

function namesIn(locale: string): Names {
  const found = known.get(locale)
  if (found) return found
  const named = (options: Intl.DateTimeFormatOptions, at: Date) =>
    [locale, 'en'].map((one) => new Intl.DateTimeFormat(one, { ...options, timeZone: 'UTC' }).format(at).toLowerCase())
  // 5 January 2026 is a Monday.
  const monday = Date.UTC(2026, 0, 5)
  const names = {
    weekdays: Array.from({ length: 7 }, (_, i) => named({ weekday: 'long' }, new Date(monday + i * 86_400_000))),
    months: Array.from({ length: 12 }, (_, i) => named({ month: 'long' }, new Date(Date.UTC(2026, i, 5)))),
  }
  known.set(locale, names)
  return names
}
