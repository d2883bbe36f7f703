import { formatMoney, formatNumber } from '../../quantities/formatting.ts'
import { type Unit, units } from './figures.ts'

export interface InLocale {
  readonly locale: string
  readonly currency: string
}

const ways: Record<(typeof units)[Unit]['written'], (value: number, given: InLocale) => string> = {
  'two decimals': (value, { locale }) => formatNumber(value, locale, 2),
  money: (minor, { locale, currency }) => formatMoney(minor, locale, currency),
  'per cent': (part, { locale }) => `${formatNumber(100 * part, locale, 0)} %`,
}

/** A figure as it is read wherever it stands: rounded once, in the unit that its measure declares. */
export const figureWritten = (value: number, unit: Unit, given: InLocale): string =>
  ways[units[unit].written](value, given)
