import { decimalMarkOf } from './locale-marks.ts'

export type Reading<T> =
  | { readonly kind: 'answer'; readonly value: T }
  | { readonly kind: 'refused'; readonly reason: Unreadable; readonly readings?: TwoReadings | undefined }

type Unreadable =
  | 'empty'
  | 'not-a-number'
  | 'two-readings'
  | 'unknown-unit'
  | 'negative'
  | 'too-large'
  | 'too-fine'
  | 'zero'

/** What a number can mean that is asked about, each written so that it is read without a question. */
export type TwoReadings = readonly [asDecimal: string, asThousands: string]

export const read = <T>(value: T): Reading<T> => ({ kind: 'answer', value })
export const unreadable = (reason: Unreadable): Reading<never> => ({ kind: 'refused', reason })

/** A quantity with its unit is never longer; what is longer is not looked at. */
const longest = 120

/**
 * Reads a decimal as people type it, in one pass. Spaces and apostrophes between digits group thousands; where comma
 * and point both stand, the last is the decimal one. Exactly three digits after one separator are decimals where it is
 * the decimal one of the locale or a 0 stands before it ("1.250 kg" is what scales show, "0,250" can be nothing else);
 * otherwise both readings are asked about.
 */
export function readDecimal(text: string, locale?: string): Reading<number> {
  const found = readDigits(text, locale)
  return found.kind === 'refused' ? found : read(Number(`${found.value.whole || 0}.${found.value.fraction || 0}`))
}

interface Digits {
  readonly whole: string
  readonly fraction: string
}

/** The digits before and after the decimal separator. */
export function readDigits(text: string, locale?: string): Reading<Digits> {
  if (text.length > longest) return unreadable(text.trim() === '' ? 'empty' : 'not-a-number')
  const plain = withoutMarksOfDirection(text).trim()
  if (plain === '') return unreadable('empty')
  if (/^[-−]/.test(plain)) return unreadable('negative')
  const separators = plain.replace(/[^.,]/g, '')
  const last = Math.max(plain.lastIndexOf('.'), plain.lastIndexOf(','))
  const grouping = separators.length > 1 && new Set(separators).size === 1
  if (last < 0 || grouping) return ofParts(plain, '', grouping ? separators.charAt(0) : '')
  const [whole, fraction, mark] = [plain.slice(0, last), plain.slice(last + 1), plain.charAt(last)]
  const group = separators.length > 1 ? separators.charAt(0) : ''
  if (group === mark) return unreadable('not-a-number')
  const isAsked = separators.length === 1 && /^[1-9]\d{0,2}$/.test(whole) && /^\d{3}$/.test(fraction)
  if (isAsked && mark !== decimalMarkOf(locale)) return asked({ whole, fraction }, locale)
  return ofParts(whole, fraction, group)
}

function ofParts(grouped: string, fraction: string, group: string): Reading<Digits> {
  const whole = withoutGroups(grouped, group)
  const wrong = whole === undefined || !/^\d*$/.test(fraction) || whole + fraction === ''
  return wrong ? unreadable('not-a-number') : read({ whole, fraction })
}

/** Groups are of three digits and kept apart by one mark throughout. */
function withoutGroups(text: string, separator: string): string | undefined {
  const mark = separator || /[^\d]/.exec(text)?.[0]
  if (mark === undefined) return text
  const [first = '', ...groups] = text.split(mark)
  const isMark = separator !== '' || /[\s'’]/.test(mark)
  const inGroups = /^\d{1,3}$/.test(first) && groups.every((one) => /^\d{3}$/.test(one))
  return isMark && inGroups ? first + groups.join('') : undefined
}

function asked({ whole, fraction }: Digits, locale: string | undefined): Reading<never> {
  const short = fraction.replace(/0{1,3}$/, '')
  const decimals = short.length === 3 && locale === undefined ? `${short}0` : short
  const asDecimal = decimals === '' ? whole : whole + (decimalMarkOf(locale) ?? '.') + decimals
  return { kind: 'refused', reason: 'two-readings', readings: [asDecimal, whole + fraction] }
}

/** A locale that runs from the right sets them around a sign. */
export const withoutMarksOfDirection = (text: string) => text.replace(/[\u200e\u200f\u061c]/g, '')

/** As `readDecimal`, and a minus before the number is read too: a temperature can be under nothing. */
export function readSigned(text: string, locale?: string): Reading<number> {
  const { minus, rest } = signOf(text)
  const found = readDecimal(rest, locale)
  return minus && found.kind === 'answer' ? read(found.value === 0 ? 0 : -found.value) : found
}

/**
 * A decimal with the digits that stand on the paper: "5,0" is "5.0", since a laboratory that prints a zero has measured
 * it.
 */
export function readAsPrinted(text: string, locale?: string): Reading<string> {
  const { minus, rest } = signOf(text)
  const found = readDigits(rest, locale)
  if (found.kind === 'refused') return found
  const { whole, fraction } = found.value
  const value = Number(`${whole || 0}.${fraction || 0}`)
  if (value >= 1e12) return unreadable('too-large')
  if (fraction.length > 9) return unreadable('too-fine')
  return read((minus && value !== 0 ? -value : value).toFixed(fraction.length))
}

function signOf(text: string) {
  const plain = withoutMarksOfDirection(text).trim()
  const minus = /^[-−]/.test(plain)
  return { minus, rest: minus ? plain.slice(1).trim() : plain }
}

interface WithUnit {
  readonly amount: string
  readonly unit: string
}

/** Cuts "1,5 kg" before its first letter. */
export function cutUnit(text: string): WithUnit {
  const plain = text.trim()
  const at = plain.search(/\p{L}/u)
  return at < 0 ? { amount: plain, unit: '' } : { amount: plain.slice(0, at).trim(), unit: plain.slice(at).trim() }
}
