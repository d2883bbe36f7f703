import { formatMoney, formatNumber } from '../../quantities/formatting.ts'
import type { Unit } from './figures.ts'

export interface InLocale {
  readonly locale: string
  readonly currency: string
}

const twoDecimals = (value: number, { locale }: InLocale) => formatNumber(value, locale, 2)
const money = (minor: number, { locale, currency }: InLocale) => formatMoney(minor, locale, currency)

const inUnit: Record<Unit, (value: number, given: InLocale) => string> = {
  'kg/m2': twoDecimals,
  'h/m2': twoDecimals,
  'h/kg': twoDecimals,
  'minor/kg': money,
  'minor/m2': money,
  'm2/m2': twoDecimals,
  '1': (part, { locale }) => `${formatNumber(100 * part, locale, 0)} %`,
  of: twoDecimals,
}

/** A figure as it is read wherever it stands: rounded once, in the unit that its measure declares. */
export const figureWritten = (value: number, unit: Unit, given: InLocale): string => inUnit[unit](value, given)
