import { cutUnit, type Reading, read, readDecimal, unreadable } from './decimals.ts'

/** A number and the word that was typed behind it, if any: "12 barrows", "1,5 m3", "40". */
interface Measured {
  readonly thousandths: number
  readonly word: string | null
}

const most = 2_000_000_000

/** Reads a quantity in thousandths with the word behind it; what the word means is for the caller to know. */
export function readMeasured(text: string, locale?: string): Reading<Measured> {
  const { amount: typed, unit: word } = cutUnit(text)
  // "1e3" is the number of a machine, and no word.
  if ((word && !typed) || /^e[-+]?\d/i.test(word)) return unreadable('not-a-number')
  const amount = readDecimal(typed, locale)
  if (amount.kind === 'refused') return amount
  const thousandths = Math.round(amount.value * 1000)
  if (thousandths > most) return unreadable('too-large')
  if (thousandths === 0) return unreadable('zero')
  return read({ thousandths, word: word || null })
}
