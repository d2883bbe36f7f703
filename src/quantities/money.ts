import { type Reading, read, readDigits, unreadable, withoutMarksOfDirection } from './decimals.ts'

/** Money in the smallest unit of its currency: cents, pence, yen. */
type MinorUnits = number & { readonly unit: 'minor' }

const most = 1_000_000_000_000

/** Reads "12.50", "12,50", "NZ$ 12.50" to minor units by the currency's decimals (ISO 4217: NZD 2, JPY 0, KWD 3). */
export function readMoney(text: string, currency: string, locale?: string): Reading<MinorUnits> {
  const found = readDigits(withoutSymbol(text, currency, locale), locale)
  if (found.kind === 'refused') return found
  const decimals = decimalsOf(currency)
  const { whole, fraction } = found.value
  if (/[1-9]/.test(fraction.slice(decimals))) return unreadable('too-fine')
  const minor = Number(`${whole}${fraction.slice(0, decimals).padEnd(decimals, '0')}`)
  return minor > most ? unreadable('too-large') : read(minor as MinorUnits)
}

/** The currency's code or sign, before the amount or behind it. */
function withoutSymbol(text: string, currency: string, locale: string | undefined): string {
  const plain = withoutMarksOfDirection(text).trim()
  const low = plain.toLowerCase()
  for (const symbol of symbolsOf(currency, locale)) {
    if (low.startsWith(symbol)) return plain.slice(symbol.length)
    if (low.endsWith(symbol)) return plain.slice(0, -symbol.length)
  }
  return plain
}

const known = new Map<string, readonly string[]>()

/** Longest first: "$" is the end of "NZ$". */
function symbolsOf(currency: string, locale: string | undefined): readonly string[] {
  const key = `${currency} ${locale}`
  const found = known.get(key)
  if (found) return found
  const inWays = (['symbol', 'narrowSymbol', 'code'] as const).map((currencyDisplay) =>
    new Intl.NumberFormat(locale ?? 'en', { style: 'currency', currency, currencyDisplay })
      .formatToParts(1)
      .filter((part) => part.type === 'currency')
      .map((part) => withoutMarksOfDirection(part.value).toLowerCase())
      .join(''),
  )
  const symbols = [...new Set([...inWays, currency.toLowerCase()])].filter((one) => one !== '')
  symbols.sort((a, b) => b.length - a.length)
  known.set(key, symbols)
  return symbols
}

export function decimalsOf(currency: string): number {
  return new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2
}
