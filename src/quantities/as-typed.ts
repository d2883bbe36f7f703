import type { AreaUnit } from './areas.ts'

/** What a person would have typed for a stored whole number: reading it again gives that number, in every locale. */
export const areaAsTyped = (cm2: number, unit: AreaUnit): string =>
  unit === 'm2' ? `${decimals(cm2 / 10_000)} m2` : `${decimals(cm2 / 929.0304)} ft2`

export function weightAsTyped(grams: number, unit: 'kg' | 'lb'): string {
  if (unit === 'kg') return grams % 10 === 0 || grams < 1000 ? `${grams / 1000} kg` : `${grams} g`
  return `${decimals(grams / 453.59237)} lb`
}

export const labourAsTyped = (personMinutes: number, people: number): string =>
  people > 1 ? `${people} x ${personMinutes / people} min` : `${personMinutes} min`

export const moneyAsTyped = (minor: number, decimalsOfCurrency: number): string =>
  (minor / 10 ** decimalsOfCurrency).toFixed(decimalsOfCurrency) + (decimalsOfCurrency === 3 ? '0' : '')

export const thousandthsAsTyped = (thousandths: number): string => decimals(thousandths / 1000)

/** Of milligrams on a m2, in kilograms on a hectare. */
export const perAreaAsTyped = (mgPerM2: number): string => `${decimals(mgPerM2 / 100)} kg/ha`

/** Of three decimals a fourth is written: three could be thousands where the comma is the decimal separator. */
function decimals(value: number): string {
  const text = String(Math.round(value * 10_000) / 10_000)
  return /\.\d{3}$/.test(text) ? `${text}0` : text
}
