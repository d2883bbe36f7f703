import type { AreaUnit } from './areas.ts'

/** What a person would have typed for a stored whole number: reading it again gives that number. */
export const areaAsTyped = (cm2: number, unit: AreaUnit): string =>
  unit === 'm2' ? `${cm2 / 10_000} m2` : `${decimals(cm2 / 929.0304)} ft2`

export function weightAsTyped(grams: number, unit: 'kg' | 'lb'): string {
  return unit === 'kg' ? `${grams / 1000} kg` : `${decimals(grams / 453.59237)} lb`
}

export const labourAsTyped = (personMinutes: number, people: number): string =>
  people > 1 ? `${people} x ${personMinutes / people} min` : `${personMinutes} min`

export const moneyAsTyped = (minor: number, decimalsOfCurrency: number): string =>
  (minor / 10 ** decimalsOfCurrency).toFixed(decimalsOfCurrency)

const decimals = (value: number) => String(Math.round(value * 10_000) / 10_000)
