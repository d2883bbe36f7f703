import { type Reading, read, readDecimal, unreadable } from './decimals.ts'

export type Grams = number & { readonly unit: 'g' }
export type WeightUnit = 'g' | 'kg' | 'oz' | 'lb'

/** Exact by definition: the avoirdupois pound (NIST Special Publication 811, appendix B). */
const gramsPer: Record<WeightUnit, number> = { g: 1, kg: 1000, lb: 453.59237, oz: 28.349523125 }
const most = 20_000_000

/** Reads "1,5 kg", "850 g", "3 lb 4 oz" to whole grams; a number alone is in `unitWithout`. */
export function readWeight(text: string, unitWithout: WeightUnit): Reading<Grams> {
  const poundsAndOunces = /^\s*(.+?)\s*lbs?\s+(.+?)\s*oz\s*$/i.exec(text)
  if (poundsAndOunces) return inPoundsAndOunces(poundsAndOunces[1] ?? '', poundsAndOunces[2] ?? '')
  const parts = /^\s*([-−]?[\d.,\s\u00a0\u202f'’]*)\s*([^\d]*)$/.exec(text)
  if (!parts || (text.trim() && !parts[1])) return unreadable('not-a-number')
  const unit = parts[2]?.trim() ? unitNamed(parts[2]) : unitWithout
  const amount = readDecimal(parts[1] ?? '')
  if (amount.kind === 'refused') return amount
  return unit ? whole(amount.value * gramsPer[unit]) : unreadable('unknown-unit')
}

function inPoundsAndOunces(pounds: string, ounces: string): Reading<Grams> {
  const [lb, oz] = [readDecimal(pounds), readDecimal(ounces)]
  if (lb.kind === 'refused') return lb
  if (oz.kind === 'refused') return oz
  return whole(lb.value * gramsPer.lb + oz.value * gramsPer.oz)
}

function whole(grams: number): Reading<Grams> {
  return grams > most ? unreadable('too-large') : read(Math.round(grams) as Grams)
}

function unitNamed(word: string): WeightUnit | undefined {
  const plain = word
    .trim()
    .toLowerCase()
    .replace(/^(lbs|pounds?)$/, 'lb')
  return Object.hasOwn(gramsPer, plain) ? (plain as WeightUnit) : undefined
}
