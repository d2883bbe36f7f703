import { cutUnit, type Reading, read, readDecimal, unreadable } from './decimals.ts'

type Grams = number & { readonly unit: 'g' }
export type WeightUnit = 'g' | 'kg' | 'oz' | 'lb'

/** Exact by definition: the avoirdupois pound (NIST Special Publication 811, appendix B). */
const gramsPer: Record<WeightUnit, number> = { g: 1, kg: 1000, lb: 453.59237, oz: 28.349523125 }
const most = 20_000_000

/** Reads "1,5 kg", "850 g", "3 lb 4 oz" to whole grams; a number alone is in `unitWithout`. */
export function readWeight(text: string, unitWithout: WeightUnit, locale?: string): Reading<Grams> {
  const plain = text.trim().toLowerCase()
  const pounds = plain.indexOf('lb')
  if (pounds > 0 && plain.endsWith('oz')) return inPoundsAndOunces(plain, pounds, locale)
  const { amount: typed, unit: word } = cutUnit(plain)
  if (plain && !typed) return unreadable('not-a-number')
  const unit = word ? unitNamed(word) : unitWithout
  const amount = readDecimal(typed, locale)
  if (amount.kind === 'refused') return amount
  return unit ? whole(amount.value * gramsPer[unit]) : unreadable('unknown-unit')
}

function inPoundsAndOunces(plain: string, cut: number, locale: string | undefined): Reading<Grams> {
  const behind = plain.slice(cut + 2, -2)
  const ounces = behind.startsWith('s') ? behind.slice(1) : behind
  if (ounces.trim() === '') return unreadable('not-a-number')
  const [lb, oz] = [readDecimal(plain.slice(0, cut), locale), readDecimal(ounces, locale)]
  if (lb.kind === 'refused') return lb
  if (oz.kind === 'refused') return oz
  return whole(lb.value * gramsPer.lb + oz.value * gramsPer.oz)
}

function whole(grams: number): Reading<Grams> {
  return grams > most ? unreadable('too-large') : read(Math.round(grams) as Grams)
}

function unitNamed(word: string): WeightUnit | undefined {
  const plain = word.replace(/^(?:lbs|pounds?)$/, 'lb')
  return Object.hasOwn(gramsPer, plain) ? (plain as WeightUnit) : undefined
}
