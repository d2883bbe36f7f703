import { type Reading, read, readDecimal, unreadable } from './decimals.ts'

export type SquareCentimetres = number & { readonly unit: 'cm2' }
export type AreaUnit = 'm2' | 'ft2'

const cm2Per = new Map(Object.entries({ m2: 10_000, ft2: 929.0304, a: 1_000_000, ha: 100_000_000 }))
const cmPer = new Map(Object.entries({ m: 100, ft: 30.48, cm: 1 }))
const most = 2_000_000_000

/** Reads "7,2", "7.2 m2", "80 ft2", "1.2 x 6 m" to whole square centimetres; a number alone is in `unitWithout`. */
export function readArea(text: string, unitWithout: AreaUnit): Reading<SquareCentimetres> {
  const plain = withoutAbout(text)
  const sides = /^(.+?)\s*(?:[x×*]|\bby\b)\s*(.+)$/i.exec(plain)
  if (sides) return readSides(sides[1] ?? '', sides[2] ?? '', unitWithout === 'm2' ? 'm' : 'ft')
  const found = /^([-−]?[\d.,\s\u00a0\u202f'’]*?)\s*([a-z]+\s*[a-z]*[²2]?)?$/i.exec(plain)
  if (!found || (plain && !found[1])) return unreadable('not-a-number')
  const amount = readDecimal(found[1] ?? '')
  if (amount.kind === 'refused') return amount
  const per = cm2Per.get(unitNamed(found[2] ?? '') || unitWithout)
  return per ? whole(amount.value * per) : unreadable('unknown-unit')
}

/** An estimate may say that it is one. */
const withoutAbout = (text: string) => text.trim().replace(/^(about|around|roughly|approx\.?|ca\.?|~)\s*(?=\d)/i, '')

function readSides(one: string, other: string, unitWithout: string): Reading<SquareCentimetres> {
  const [a, b] = [sideOf(one), sideOf(other)]
  if (a.kind === 'refused') return a
  if (b.kind === 'refused') return b
  const shared = b.value.unit || a.value.unit || unitWithout
  const [perA, perB] = [cmPer.get(a.value.unit || shared), cmPer.get(b.value.unit || shared)]
  return perA && perB ? whole(a.value.length * perA * b.value.length * perB) : unreadable('unknown-unit')
}

function sideOf(text: string): Reading<{ length: number; unit: string }> {
  const found = /^([-−]?[\d.,]+)\s*([a-z]*)$/i.exec(text.trim())
  if (!found) return unreadable('not-a-number')
  const length = readDecimal(found[1] ?? '')
  return length.kind === 'refused' ? length : read({ length: length.value, unit: (found[2] ?? '').toLowerCase() })
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
