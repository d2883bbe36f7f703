import { cutUnit, type Reading, read, readDecimal, unreadable } from './decimals.ts'

type Millimetres = number & { readonly unit: 'mm' }
export type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'ft'

/** Exact by definition: the inch is 25.4 mm (NIST Special Publication 811, appendix B). */
const mmPer: Record<LengthUnit, number> = { mm: 1, cm: 10, m: 1000, in: 25.4, ft: 304.8 }
const most = 100_000

/** Reads "15", "15 cm", "150 mm", "6 in" to whole millimetres; a number alone is in `unitWithout`. */
export function readLength(text: string, unitWithout: LengthUnit, locale?: string): Reading<Millimetres> {
  const exact = readThickness(text, unitWithout, locale)
  if (exact.kind === 'refused') return exact
  const mm = Math.round(exact.value)
  return mm === 0 ? unreadable('zero') : read(mm as Millimetres)
}

/** The same in millimetres as they were typed, of which an inch has 25.4: a thin layer is half a millimetre too. */
export function readThickness(text: string, unitWithout: LengthUnit, locale?: string): Reading<number> {
  const { amount: typed, unit: word } = cutUnit(text)
  if (word && !typed) return unreadable('not-a-number')
  const amount = readDecimal(typed, locale)
  if (amount.kind === 'refused') return amount
  const unit = word.toLowerCase() || unitWithout
  if (!Object.hasOwn(mmPer, unit)) return unreadable('unknown-unit')
  const mm = amount.value * mmPer[unit as LengthUnit]
  if (mm > most) return unreadable('too-large')
  return mm === 0 ? unreadable('zero') : read(Math.round(1e6 * mm) / 1e6)
}

/** Reads a depth from the surface down, with or without its 0: "0-20 cm"; "10-20 cm" is another layer and refused. */
export function readDepth(text: string, unitWithout: LengthUnit, locale?: string): Reading<Millimetres> {
  const [top = '', bottom, ...rest] = text.split(/[-–—]|\bto\b|\bbis\b/)
  if (bottom === undefined) return readLength(text, unitWithout, locale)
  const isSurface = /^0+$/.test(cutUnit(top).amount.trim()) && rest.length === 0
  return isSurface ? readLength(bottom, unitWithout, locale) : unreadable('not-a-number')
}
