import { cutUnit, type Reading, read, readDecimal, unreadable } from './decimals.ts'

type SquareCentimetres = number & { readonly unit: 'cm2' }
export type AreaUnit = 'm2' | 'ft2'

const cm2Per = new Map(Object.entries({ m2: 10_000, ft2: 929.0304, a: 1_000_000, ha: 100_000_000 }))
const cmPer = new Map(Object.entries({ m: 100, ft: 30.48, cm: 1 }))
const most = 2_000_000_000

/** Reads "7,2", "7.2 m2", "80 ft2", "1.2 x 6 m" to whole square centimetres; a number alone is in `unitWithout`. */
export function readArea(text: string, unitWithout: AreaUnit, locale?: string): Reading<SquareCentimetres> {
  const plain = withoutAbout(text.trim())
  const cut = /[x×*]|\bby\b/i.exec(plain)
  const sides = cut && cut.index > 0 ? [plain.slice(0, cut.index), plain.slice(cut.index + cut[0].length)] : undefined
  if (sides) return readSides(sides, unitWithout === 'm2' ? 'm' : 'ft', locale)
  const { amount: typed, unit } = cutUnit(plain)
  if (plain && !typed) return unreadable('not-a-number')
  const amount = readDecimal(typed, locale)
  if (amount.kind === 'refused') return amount
  const per = cm2Per.get(unitNamed(unit) || unitWithout)
  return per ? whole(amount.value * per) : unreadable('unknown-unit')
}

/** An estimate may say that it is one. */
function withoutAbout(plain: string): string {
  const rest = plain.replace(/^(?:about|around|roughly|approx\.?|ca\.?|~)/i, '').trimStart()
  return /^\d/.test(rest) ? rest : plain
}

function readSides(sides: readonly string[], unitWithout: string, locale?: string): Reading<SquareCentimetres> {
  // A side that was left out reads as an empty one and is refused as such.
  const [a, b] = [sideOf(sides[0] ?? '', locale), sideOf(sides[1] ?? '', locale)]
  if (a.kind === 'refused') return a
  if (b.kind === 'refused') return b
  const shared = b.value.unit || a.value.unit || unitWithout
  const [perA, perB] = [cmPer.get(a.value.unit || shared), cmPer.get(b.value.unit || shared)]
  return perA && perB ? whole(a.value.length * perA * b.value.length * perB) : unreadable('unknown-unit')
}

function sideOf(text: string, locale: string | undefined): Reading<{ length: number; unit: string }> {
  const { amount, unit } = cutUnit(text)
  if (!amount) return unreadable('not-a-number')
  const length = readDecimal(amount, locale)
  return length.kind === 'refused' ? length : read({ length: length.value, unit: unit.toLowerCase() })
}

function whole(cm2: number): Reading<SquareCentimetres> {
  if (cm2 > most) return unreadable('too-large')
  return Math.round(cm2) === 0 ? unreadable('zero') : read(Math.round(cm2) as SquareCentimetres)
}

const unitNamed = (word: string) =>
  word
    .toLowerCase()
    .replace('²', '2')
    .replace(/\s/g, '')
    .replace(/^sq(ft|m)$/, '$12')
