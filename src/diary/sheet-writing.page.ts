import { formatNumber } from '../quantities/formatting.ts'

/** "23 – 29 March 2026", as the locale writes a span. */
export function spanOf(monday: string, sunday: string, locale: string): string {
  const format = new Intl.DateTimeFormat(locale, { dateStyle: 'long', timeZone: 'UTC' })
  return format.formatRange(new Date(`${monday}T00:00:00Z`), new Date(`${sunday}T00:00:00Z`))
}

/** "Thu 26". */
export const weekdayShort = (day: string, locale: string) =>
  new Intl.DateTimeFormat(locale, { weekday: 'short', day: 'numeric', timeZone: 'UTC' }).format(
    new Date(`${day}T00:00:00Z`),
  )

export const dayShort = (day: string, locale: string) =>
  new Intl.DateTimeFormat(locale, { day: 'numeric', month: 'short', timeZone: 'UTC' }).format(
    new Date(`${day}T00:00:00Z`),
  )

/** "1.83": to ten grams, or to the gram where it was weighed so. */
export const kilograms = (grams: number, locale: string) => formatNumber(grams / 1000, locale, grams % 10 === 0 ? 2 : 3)

/** "1:30", as it can be typed. */
export const clock = (minutes: number) => `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`
