import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readArea } from '../../src/quantities/areas.ts'
import {
  areaAsTyped,
  labourAsTyped,
  moneyAsTyped,
  thousandthsAsTyped,
  weightAsTyped,
} from '../../src/quantities/as-typed.ts'
import { dayNumber, isoDateOf, readDate } from '../../src/quantities/dates.ts'
import { readAsPrinted, readDecimal, readSigned } from '../../src/quantities/decimals.ts'
import { formatArea, formatHours, formatKilograms, formatMoney, formatNumber } from '../../src/quantities/formatting.ts'
import { readLength } from '../../src/quantities/lengths.ts'
import { readMeasured } from '../../src/quantities/measured.ts'
import { decimalsOf, readMoney } from '../../src/quantities/money.ts'
import { readLabour } from '../../src/quantities/times.ts'
import { readWeight } from '../../src/quantities/weights.ts'

const outcome = (reading: { kind: string; value?: unknown; reason?: string }) =>
  reading.kind === 'answer' ? reading.value : reading.reason

/** Every language that Intl knows by a code of two letters, and countries that write numbers in a way of their own. */
const letters = [...'abcdefghijklmnopqrstuvwxyz']
const languages = letters.flatMap((one) => letters.map((other) => one + other))
const locales = [
  ...Intl.NumberFormat.supportedLocalesOf(languages),
  ...['en-NZ', 'en-GB', 'en-IN', 'en-ZA', 'de-AT', 'de-CH', 'de-LI', 'es-MX', 'es-AR', 'fr-CA', 'fr-CH', 'it-CH'],
  ...['pt-PT', 'nl-BE', 'ar-EG', 'ar-MA', 'az-Arab', 'zh-TW', 'sr-Latn', 'uz-Arab', 'pa-Arab', 'en-US-u-nu-thai'],
]
const locale = fc.constantFrom(...locales)
const written = (value: number, place: string, decimals: number) => formatNumber(value, place, decimals)

describe('what is written is read again as the same', () => {
  it('weights, in every locale and unit, and as the form shows them', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 19_000_000 }), locale, (grams, place) => {
        expect(outcome(readWeight(`${written(grams / 1000, place, 3)} kg`, 'lb', place))).toBe(grams)
        expect(outcome(readWeight(`${written(grams / 453.59237, place, 6)} lb`, 'kg', place))).toBe(grams)
        expect(outcome(readWeight(formatKilograms(grams, place), 'lb', place))).toBe(grams)
        expect(outcome(readWeight(`${written(grams, place, 0)} g`, 'lb', place))).toBe(grams)
        expect(outcome(readWeight(weightAsTyped(grams, 'kg'), 'lb', place))).toBe(grams)
        expect(outcome(readWeight(weightAsTyped(grams, 'lb'), 'kg', place))).toBe(grams)
        expect(outcome(readWeight(weightAsTyped(grams, 'kg'), 'lb'))).toBe(grams)
        expect(outcome(readWeight(`${grams}g`, 'kg'))).toBe(grams)
      }),
    )
  })

  it('pounds and ounces add up', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 900 }), fc.integer({ min: 1, max: 15 }), (lb, oz) => {
        const grams = Math.round(lb * 453.59237 + oz * 28.349523125)
        expect(outcome(readWeight(`${lb} lb ${oz} oz`, 'kg'))).toBe(grams)
        expect(outcome(readWeight(`${lb}lbs ${oz}oz`, 'g'))).toBe(grams)
      }),
    )
  })

  it('times, alone and for several people', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 10_000 }), fc.integer({ min: 1, max: 200 }), (minutes, people) => {
        const clock = `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`
        const spoken = `${Math.floor(minutes / 60)} h ${minutes % 60}`
        for (const text of [clock, spoken, `${minutes} min`, `${minutes}m`, labourAsTyped(minutes, 1)]) {
          expect(readLabour(text)).toEqual({ kind: 'answer', value: { people: 1, personMinutes: minutes } })
        }
        const all = { people, personMinutes: people * minutes }
        for (const text of [`${people} x ${clock}`, `${people}×${minutes} min`]) {
          expect(readLabour(text)).toEqual({ kind: 'answer', value: all })
        }
        expect(outcome(readLabour(labourAsTyped(people * minutes, people)))).toEqual(all)
      }),
    )
  })

  it('areas, as the form shows them and as two sides', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1_900_000_000 }), locale, (cm2, place) => {
        expect(outcome(readArea(areaAsTyped(cm2, 'm2'), 'ft2', place))).toBe(cm2)
        expect(outcome(readArea(areaAsTyped(cm2, 'ft2'), 'm2', place))).toBe(cm2)
        expect(outcome(readArea(`${written(cm2 / 10_000, place, 4)} m²`, 'ft2', place))).toBe(cm2)
        const tenths = 1000 * Math.ceil(cm2 / 1000)
        expect(outcome(readArea(formatArea(tenths, place), 'ft2', place))).toBe(tenths)
      }),
    )
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9_999 }), fc.integer({ min: 1, max: 9_999 }), (a, b) => {
        expect(outcome(readArea(`${a / 100} x ${b / 100} m`, 'm2'))).toBe(a * b)
        expect(outcome(readArea(`${String(a / 100).replace('.', ',')} × ${b / 100}`, 'm2'))).toBe(a * b)
      }),
    )
  })

  it('money, with no, two and three decimals', () => {
    const currency = fc.constantFrom('NZD', 'EUR', 'JPY', 'KWD')
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1_000_000_000 }), currency, locale, (minor, code, place) => {
        const decimals = decimalsOf(code)
        expect(outcome(readMoney(moneyAsTyped(minor, decimals), code, place))).toBe(minor)
        expect(outcome(readMoney(formatMoney(minor, place, code), code, place))).toBe(minor)
        const grouped = written(minor / 10 ** decimals, place, decimals)
        expect(outcome(readMoney(`${grouped} ${code}`, code, place))).toBe(minor)
        expect(outcome(readMoney(`${code.toLowerCase()} ${grouped}`, code, place))).toBe(minor)
      }),
    )
  })

  it('hours, lengths, quantities and bare numbers, as pages write them', () => {
    const quarters = fc.integer({ min: 1, max: 600 })
    fc.assert(
      fc.property(quarters, fc.integer({ min: 1, max: 1_999_999_999 }), locale, (quarter, thousandths, place) => {
        const time = readLabour(formatHours(15 * quarter, place), place)
        expect(outcome(time)).toEqual({ people: 1, personMinutes: 15 * quarter })
        expect(outcome(readLength(`${written(quarter, place, 0)} mm`, 'cm', place))).toBe(quarter)
        const shown = written(thousandths / 1000, place, 3)
        expect(outcome(readMeasured(`${shown} barrows`, place))).toEqual({ thousandths, word: 'barrows' })
        const typed = `${thousandthsAsTyped(thousandths)} m3`
        expect(outcome(readMeasured(typed, place))).toEqual({ thousandths, word: 'm3' })
        expect(outcome(readDecimal(shown, place))).toBe(thousandths / 1000)
        expect(outcome(readSigned(written(-thousandths / 1000, place, 3), place))).toBe(-thousandths / 1000)
        expect(outcome(readAsPrinted(shown, place))).toBe((thousandths / 1000).toFixed(3))
      }),
    )
  })

  it('asks about three digits behind one separator, and both readings that it offers are read as themselves', () => {
    const whole = fc.integer({ min: 1, max: 999 })
    fc.assert(
      fc.property(whole, fc.integer({ min: 0, max: 999 }), locale, fc.boolean(), (before, after, place, known) => {
        const where = known ? place : undefined
        const digits = String(after).padStart(3, '0')
        for (const mark of ['.', ',']) {
          const [found, alone] = [
            readDecimal(`${before}${mark}${digits}`, where),
            readDecimal(`0${mark}${digits}`, where),
          ]
          expect(outcome(alone)).toBe(after / 1000)
          if (where !== undefined && formatNumber(1.5, where, 1).includes(mark)) {
            expect(outcome(found)).toBe(Number(`${before}.${digits}`))
            continue
          }
          if (found.kind === 'answer') throw new Error(`${before}${mark}${digits} was guessed`)
          expect(found.reason).toBe('two-readings')
          expect(found.readings?.map((one) => outcome(readDecimal(one, where)))).toEqual([
            Number(`${before}.${digits}`),
            Number(`${before}${digits}`),
          ])
        }
      }),
    )
  })

  it('days, and no day that the calendar does not have', () => {
    const [firstDay, lastDay] = [dayNumber('1900-01-01'), dayNumber('2199-12-31')] as const
    fc.assert(
      fc.property(fc.integer({ min: firstDay, max: lastDay }), (number) => {
        const day = isoDateOf(number)
        expect(readDate(day)).toBe(day)
        expect(readDate(` ${day} `)).toBe(day)
        expect(dayNumber(day)).toBe(number)
      }),
    )
    const wrong = fc.tuple(fc.integer({ min: 1900, max: 2100 }), fc.integer({ min: 1, max: 12 }))
    fc.assert(
      fc.property(wrong, ([year, month]) => {
        const last = new Date(Date.UTC(year, month, 0)).getUTCDate()
        const text = (day: number) => `${year}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`
        expect(readDate(text(last))).toBe(text(last))
        expect(readDate(text(last + 1))).toBeUndefined()
        expect(readDate(text(0))).toBeUndefined()
        expect(readDate(`${last}.${month}.${year}`)).toBeUndefined()
        expect(readDate(`${month}/${last}/${year}`)).toBeUndefined()
      }),
    )
  })
})

describe('what is refused', () => {
  const readers = {
    weight: (text: string) => readWeight(text, 'kg'),
    time: (text: string) => readLabour(text),
    area: (text: string) => readArea(text, 'm2'),
    money: (text: string) => readMoney(text, 'NZD'),
  }
  const names = Object.keys(readers) as (keyof typeof readers)[]

  it.each(names)('a %s below zero, of no digit, or in a unit that nobody knows', (name) => {
    const read = readers[name]
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9_999 }), fc.constantFrom('-', '−', '- '), (amount, sign) => {
        expect(read(`${sign}${amount}`).kind).toBe('refused')
      }),
    )
    fc.assert(
      fc.property(fc.stringMatching(/^[a-z ,.]{0,12}$/), (text) => {
        expect(read(text).kind).toBe('refused')
      }),
    )
    const units = fc.constantFrom(
      'bushels',
      'stone',
      'pints',
      'acres',
      'days',
      'weeks',
      'USD',
      'EUR',
      '%',
      '°C',
      'kgs/m2',
    )
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99 }), units, (amount, unit) => {
        expect(read(`${amount} ${unit}`).kind).toBe('refused')
      }),
    )
  })

  it.each(names)('nothing makes the reader of a %s throw, or answer with anything but whole units', (name) => {
    fc.assert(
      fc.property(fc.oneof(fc.string({ unit: 'grapheme' }), fc.stringMatching(/^[-\d.,:x×a-z ²]{0,14}$/)), (text) => {
        const found = readers[name](text)
        if (found.kind === 'refused') {
          expect(found.reason).toMatch(/^[a-z-]+$/)
          return
        }
        const value = typeof found.value === 'number' ? found.value : found.value.personMinutes
        expect(Number.isSafeInteger(value) && value >= 0).toBe(true)
      }),
      { numRuns: 2000 },
    )
  })

  it.each(Object.getOwnPropertyNames(Object.prototype))('%s is no unit of anything', (word) => {
    expect(names.map((name) => readers[name](`3 ${word}`).kind)).toEqual(names.map(() => 'refused'))
    expect(readArea(`3 x 4 ${word}`, 'm2').kind).toBe('refused')
    expect(readLength(`3 ${word}`, 'cm').kind).toBe('refused')
  })

  it('more than the record can hold', () => {
    expect(['20001 kg', '999999999999 g', '1e9'].map((text) => readWeight(text, 'kg').kind)).toEqual(
      Array(3).fill('refused'),
    )
    expect(['169', '10081 min', '201 x 1', '0 x 1'].map((text) => readLabour(text).kind)).toEqual(
      Array(4).fill('refused'),
    )
    expect(['200001', '1001 x 1000', '21 ha'].map((text) => readArea(text, 'm2').kind)).toEqual(
      Array(3).fill('refused'),
    )
    expect(['10000000000.01', '1.005', '1,234.567'].map((text) => readMoney(text, 'NZD').kind)).toEqual(
      Array(3).fill('refused'),
    )
  })
})
