import { cutUnit, type Reading, read, readDecimal, unreadable } from './decimals.ts'

/** 1 g/m2 is 10 kg/ha (exact); an acre is 4046.8564224 m2, a pound 453.59237 g. */
const mgPer: Readonly<Record<string, number>> = {
  'kg/ha': 100,
  'g/m2': 1000,
  'g/m²': 1000,
  'lb/acre': 453_592.37 / 4046.8564224,
  'lb/ac': 453_592.37 / 4046.8564224,
}
/** A tonne of one nutrient on a hectare, ten times over: no rule and no dressing means it. */
const most = 1_000_000

/**
 * Reads "170", "170 kg/ha", "17 g/m2", "150 lb/acre" to whole milligrams on a square metre; a number alone is kg/ha.
 * Nothing at all (0) is an amount too.
 */
export function readPerArea(text: string, locale?: string): Reading<number> {
  const { amount: typed, unit: word } = cutUnit(text)
  if (word && !typed) return unreadable('not-a-number')
  const amount = readDecimal(typed, locale)
  if (amount.kind === 'refused') return amount
  const unit = word.toLowerCase().replace(/\s/g, '') || 'kg/ha'
  const factor = Object.hasOwn(mgPer, unit) ? mgPer[unit] : undefined
  if (factor === undefined) return unreadable('unknown-unit')
  const mg = Math.round(amount.value * factor)
  return mg > most ? unreadable('too-large') : read(mg)
}
