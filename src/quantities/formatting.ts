import { decimalsOf } from './money.ts'

/** Writers in the group's locale. Rounding happens here, once. */
export function formatNumber(value: number, locale: string, decimals: number): string {
  return new Intl.NumberFormat(locale, { minimumFractionDigits: decimals, maximumFractionDigits: decimals }).format(
    value,
  )
}

export const formatKilograms = (grams: number, locale: string) =>
  `${formatNumber(grams / 1000, locale, grams % 100 ? 3 : 1)} kg`

export const formatHours = (minutes: number, locale: string) => `${formatNumber(minutes / 60, locale, 2)} h`

export const formatArea = (cm2: number, locale: string) => `${formatNumber(cm2 / 10_000, locale, 1)} m²`

export function formatMoney(minor: number, locale: string, currency: string): string {
  return new Intl.NumberFormat(locale, { style: 'currency', currency }).format(minor / 10 ** decimalsOf(currency))
}

/** "Sunday 28 March 2027": a day that is chosen from a list. */
export function formatWeekday(date: string, locale: string): string {
  const at = new Date(`${date}T00:00:00Z`)
  return new Intl.DateTimeFormat(locale, { dateStyle: 'full', timeZone: 'UTC' }).format(at)
}

/** "28 March 2027" in the locale's way; the day is a calendar day, so no zone moves it. */
export function formatDay(date: string, locale: string): string {
  return new Intl.DateTimeFormat(locale, { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(`${date}T00:00:00Z`))
}
