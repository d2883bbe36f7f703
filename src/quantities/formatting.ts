import { asShown } from '../lookups/unsaid.ts'
import { thousandsMark } from './locale-marks.ts'
import { decimalsOf } from './money.ts'

/**
 * Writers in the group's locale: its decimal separator, thousands kept apart by a thin space, so that no figure of the
 * service can be read as another one, and a minus that is no hyphen. Rounding happens here, once.
 */
export function formatNumber(value: number, locale: string, decimals: number): string {
  const fixed = { minimumFractionDigits: decimals, maximumFractionDigits: decimals }
  return grouped(formatOf(locale, fixed).formatToParts(value))
}

/** A decimal as the database keeps it, with as many decimals as were written down. */
export const formatAsWritten = (value: string, locale: string): string =>
  formatNumber(Number(value), locale, asShown(value.split('.')[1]).length)

function grouped(parts: readonly Intl.NumberFormatPart[]): string {
  const printed = (type: string, value: string) =>
    type === 'integer' ? inThousands(value) : type === 'minusSign' ? value.replace('-', '−') : value
  return parts.map(({ type, value }) => printed(type, value)).join('')
}

function inThousands(digits: string): string {
  const groups: string[] = []
  for (let end = digits.length; end > 0; end -= 3) groups.unshift(digits.slice(Math.max(0, end - 3), end))
  return groups.join(thousandsMark)
}

const formats = new Map<string, Intl.NumberFormat>()

/** Making a format takes longer than a hundred numbers do. */
function formatOf(locale: string, options: Intl.NumberFormatOptions): Intl.NumberFormat {
  const key = `${locale} ${options.currency ?? options.minimumFractionDigits}`
  const made =
    formats.get(key) ?? new Intl.NumberFormat(locale, { ...options, useGrouping: false, numberingSystem: 'latn' })
  formats.set(key, made)
  return made
}

export const formatKilograms = (grams: number, locale: string) =>
  `${formatNumber(grams / 1000, locale, grams % 100 ? 3 : 1)} kg`

export const formatHours = (minutes: number, locale: string) => `${formatNumber(minutes / 60, locale, 2)} h`

export const formatArea = (cm2: number, locale: string) => `${formatNumber(cm2 / 10_000, locale, 1)} m²`

export function formatMoney(minor: number, locale: string, currency: string): string {
  const format = formatOf(locale, { style: 'currency', currency })
  return grouped(format.formatToParts(minor / 10 ** decimalsOf(currency)))
}

/** "Sunday 28 March 2027": a day that is chosen from a list. */
export function formatWeekday(date: string, locale: string): string {
  const at = new Date(`${date}T00:00:00Z`)
  return dayFormatOf(locale, 'full').format(at)
}

/** "28 March 2027" in the locale's way; the day is a calendar day, so no zone moves it. */
export function formatDay(date: string, locale: string): string {
  return dayFormatOf(locale, 'long').format(new Date(`${date}T00:00:00Z`))
}

/** Made once for each locale: to make one costs many times what it then does. */
function dayFormatOf(locale: string, dateStyle: 'full' | 'long'): Intl.DateTimeFormat {
  const key = `${dateStyle} ${locale}`
  const format = dayFormats.get(key) ?? new Intl.DateTimeFormat(locale, { dateStyle, timeZone: 'UTC' })
  dayFormats.set(key, format)
  return format
}

const dayFormats = new Map<string, Intl.DateTimeFormat>()
