import { type Reading, read, readDecimal, unreadable } from './decimals.ts'

/** Money in the smallest unit of its currency: cents, pence, yen. */
export type MinorUnits = number & { readonly unit: 'minor' }

const most = 1_000_000_000_000

/** Reads "12.50" or "12,50" to minor units by the currency's decimals (ISO 4217: NZD 2, JPY 0, KWD 3). */
export function readMoney(text: string, currency: string): Reading<MinorUnits> {
  const plain = text.trim().replace(new RegExp(`^${currency}\\s*|\\s*${currency}$`, 'i'), '')
  const amount = readDecimal(plain)
  if (amount.kind === 'refused') return amount
  const decimals = decimalsOf(currency)
  const typed = /[.,](\d+)$/.exec(plain)?.[1]?.length ?? 0
  if (typed > decimals) return unreadable('too-fine')
  const minor = Math.round(amount.value * 10 ** decimals)
  return minor > most ? unreadable('too-large') : read(minor as MinorUnits)
}

export function decimalsOf(currency: string): number {
  return new Intl.NumberFormat('en', { style: 'currency', currency }).resolvedOptions().maximumFractionDigits ?? 2
}
