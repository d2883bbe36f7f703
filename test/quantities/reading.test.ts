import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { readArea } from '../../src/quantities/areas.ts'
import { addDays, dayIn, type IsoDate, readDate } from '../../src/quantities/dates.ts'
import { formatNumber } from '../../src/quantities/formatting.ts'
import { daysOf, dayUnsaid, readIsoWeek, weekOf, weeksBetween, weeksInYear } from '../../src/quantities/iso-week.ts'
import { readMoney } from '../../src/quantities/money.ts'
import { splitExactly } from '../../src/quantities/split-exactly.ts'
import { readLabour } from '../../src/quantities/times.ts'
import { readWeight } from '../../src/quantities/weights.ts'

const outcome = (reading: { kind: string; value?: unknown; reason?: string }) =>
  reading.kind === 'answer' ? reading.value : reading.reason

describe('a weight is read as it was typed', () => {
  it.each([
    ['1.5', 1500],
    ['1,5', 1500],
    ['1,5 kg', 1500],
    ['850 g', 850],
    ['850g', 850],
    ['3 lb 4 oz', 1474],
    ['1 lb', 454],
    ['12oz', 340],
    ['1.234,5 g', 1235],
    ["1'234.5 g", 1235],
    ['1,234', 'two-readings'],
    ['1,200 g', 'two-readings'],
    ['5.000', 'two-readings'],
    ['0,250', 250],
    ['.250', 250],
    ['1,234,567 g', 1_234_567],
    ['1,23,456 g', 'not-a-number'],
    ['1 234 g', 1234],
    ['12 345 g', 12_345],
    ['0', 0],
    ['2 stone', 'unknown-unit'],
    ['-1', 'negative'],
    ['', 'empty'],
    ['a crate', 'not-a-number'],
    ['1.2.3', 'not-a-number'],
    ['99999 kg', 'too-large'],
  ])('%s', (text, expected) => {
    expect(outcome(readWeight(text, 'kg'))).toBe(expected)
  })
})

it.each([
  ['en-NZ', '1.250', 1250],
  ['en-NZ', '1,250', 'two-readings'],
  ['de-AT', '1,250', 1250],
  ['de-AT', '1.250', 'two-readings'],
  ['de-AT', '0.250', 250],
  ['de-AT', '1250,5 g', 1251],
])('in %s a scale that shows %s kg', (locale, text, expected) => {
  expect(outcome(readWeight(text, 'kg', locale))).toBe(expected)
})

it('asks with both readings in the way of the locale', () => {
  expect(readWeight('1,250 kg', 'kg', 'en-NZ')).toMatchObject({ readings: ['1.25', '1250'] })
  expect(readWeight('1.250 kg', 'kg', 'de-AT')).toMatchObject({ readings: ['1,25', '1250'] })
})

it('a text of whatever length is no weight, no area, no time and no money', () => {
  for (const filler of [' ', '1', '1,', 'a', 'x', ' 1', '1 ', 'oz']) {
    const text = `${filler.repeat(500_000)}x`
    expect([readWeight(text, 'kg'), readArea(text, 'm2'), readLabour(text), readMoney(text, 'NZD')]).toMatchObject(
      Array(4).fill({ kind: 'refused' }),
    )
  }
})

describe('a time is read as it was typed', () => {
  it.each([
    ['1.5', 1, 90],
    ['1,5', 1, 90],
    ['1:30', 1, 90],
    ['90 min', 1, 90],
    ['90m', 1, 90],
    ['1 h 30', 1, 90],
    ['1h30', 1, 90],
    ['2 x 1:30', 2, 180],
    ['2×1,5', 2, 180],
    ['3 * 20 min', 3, 60],
  ])('%s', (text, people, personMinutes) => {
    expect(readLabour(text)).toEqual({ kind: 'answer', value: { people, personMinutes } })
  })

  it.each([
    ['1:75', 'not-a-number'],
    ['0', 'zero'],
    ['-1', 'negative'],
    ['', 'empty'],
    ['2 days', 'unknown-unit'],
    ['500', 'too-large'],
    ['a while', 'not-a-number'],
  ])('%s is refused', (text, reason) => {
    expect(outcome(readLabour(text))).toBe(reason)
  })
})

describe('an area and money', () => {
  it.each([
    ['7,2', 72_000],
    ['7.2 m²', 72_000],
    ['1.2 x 6', 72_000],
    ['1,2 m x 6 m', 72_000],
    ['1 m by 8 m', 80_000],
    ['about 40', 400_000],
    ['~ 40 m2', 400_000],
    ['about', 'not-a-number'],
    ['100 ft2', 92_903],
    ['2 a', 2_000_000],
    ['0', 'zero'],
    ['5 acres', 'unknown-unit'],
  ])('%s', (text, expected) => {
    expect(outcome(readArea(text, 'm2'))).toBe(expected)
  })

  it.each([
    ['12.50', 'NZD', 1250],
    ['12,5', 'NZD', 1250],
    ['1.234,50', 'EUR', 123_450],
    ['980', 'JPY', 980],
    ['1.5', 'JPY', 'too-fine'],
    ['1.2340', 'KWD', 1234],
    ['1.234', 'KWD', 'two-readings'],
    ['NZD 3', 'NZD', 300],
    ['USD 3', 'NZD', 'not-a-number'],
  ])('%s in %s', (text, currency, expected) => {
    expect(outcome(readMoney(text, currency))).toBe(expected)
  })
})

describe('weeks of ISO 8601', () => {
  // Dates with their week dates as tabulated for ISO 8601 around the turns of years.
  it.each([
    ['2005-01-01', '2004-W53'],
    ['2005-12-31', '2005-W52'],
    ['2006-01-01', '2005-W52'],
    ['2007-01-01', '2007-W01'],
    ['2007-12-31', '2008-W01'],
    ['2008-12-29', '2009-W01'],
    ['2009-12-31', '2009-W53'],
    ['2010-01-03', '2009-W53'],
    ['2021-01-03', '2020-W53'],
    ['2024-12-30', '2025-W01'],
    ['2026-12-31', '2026-W53'],
    ['2027-01-03', '2026-W53'],
    ['2027-01-04', '2027-W01'],
  ] as const)('%s lies in %s', (date, week) => {
    expect(weekOf(date)).toBe(week)
  })

  it('knows the years of 53 weeks and refuses a week that does not exist', () => {
    const long = Array.from({ length: 40 }, (_, i) => 2000 + i).filter((year) => weeksInYear(year) === 53)
    expect(long).toEqual([2004, 2009, 2015, 2020, 2026, 2032, 2037])
    expect(readIsoWeek('2025-W53')).toBeUndefined()
    expect(readIsoWeek('2026-W53')).toBe('2026-W53')
  })

  it('holds each of its days, whatever the day', () => {
    fc.assert(
      fc.property(fc.integer({ min: -30_000, max: 60_000 }), (days) => {
        const date = addDays('2000-01-01', days)
        expect(daysOf(weekOf(date))).toContain(date)
      }),
    )
  })

  it('counts a week astride two seasons toward the one that holds its Thursday', () => {
    const [first, second] = [
      weeksBetween('2026-08-01', '2027-05-31'),
      weeksBetween('2027-06-01', '2027-07-31'),
    ] as const
    expect(first.at(-1)).toBe('2027-W21')
    expect(second[0]).toBe('2027-W22')
  })

  it('what says no day is of the Thursday, or of today while that is to come', () => {
    const of = (today: IsoDate) => dayUnsaid('2026-W48', today)
    // 26 November 2026 is the Thursday of that week.
    expect([of('2026-11-23'), of('2026-11-25')]).toEqual(['2026-11-23', '2026-11-25'])
    expect([of('2026-11-26'), of('2026-11-29'), of('2027-01-05')]).toEqual(Array(3).fill('2026-11-26'))
    // A week that has not begun is refused by its own rule: no day of it is today.
    expect(of('2026-11-22')).toBe('2026-11-26')
  })

  it('comes to an end in the last year that four digits can write', () => {
    const weeks = weeksBetween('9999-11-01', '9999-12-31')
    expect([weeks[0], weeks.at(-1), weeks.length]).toEqual(['9999-W44', '9999-W52', 9])
  })
})

it('reads the days and weeks of three centuries, and no further', () => {
  const days = ['1900-01-01', '2199-12-31', '1899-12-31', '2200-01-01', '0000-01-01', '9999-12-31'] as const
  expect(days.map(readDate)).toEqual(['1900-01-01', '2199-12-31', ...Array(4).fill(undefined)])
  const weeks = ['1900-W01', '2199-W52', '1899-W52', '2200-W01', '0000-W01', '9999-W52'] as const
  expect(weeks.map(readIsoWeek)).toEqual(['1900-W01', '2199-W52', ...Array(4).fill(undefined)])
})

it('knows the day in two time zones at one instant', () => {
  const instant = new Date('2026-12-31T12:30:00Z')
  expect(dayIn('Pacific/Auckland', instant)).toBe('2027-01-01')
  expect(dayIn('America/New_York', instant)).toBe('2026-12-31')
})

it('refuses a day that the calendar does not have', () => {
  expect(['2027-02-29', '2027-13-01', '28.3.2027', '2028-02-29'].map(readDate)).toEqual([
    undefined,
    undefined,
    undefined,
    '2028-02-29',
  ])
})

it('splits a crate so that no gram is lost', () => {
  const weights = fc.array(fc.nat({ max: 1_000_000 }), { minLength: 1, maxLength: 12 })
  fc.assert(
    fc.property(fc.nat({ max: 50_000_000 }), weights, (total, parts) => {
      const split = splitExactly(total, parts)
      const sum = parts.reduce((a, b) => a + b, 0)
      expect(split?.reduce((a, b) => a + b, 0)).toBe(sum === 0 ? undefined : total)
      split?.forEach((part, i) => {
        expect(Math.abs(part - (total * (parts[i] ?? 0)) / sum)).toBeLessThan(1)
      })
    }),
  )
})

it('splits alike by weights that a double holds and by the same ones so large that it does not', () => {
  const weights = fc.array(fc.nat({ max: 1_000_000 }), { minLength: 1, maxLength: 8 })
  fc.assert(
    fc.property(fc.integer({ min: 1_000_000, max: 50_000_000 }), weights, (total, parts) => {
      const large = parts.map((part) => part * 2 ** 30)
      expect(splitExactly(total, large)).toEqual(splitExactly(total, parts))
    }),
  )
})

it.each(['en-NZ', 'de-DE', 'de-CH', 'fr-FR'])('reads back in %s what was written there', (locale) => {
  fc.assert(
    fc.property(fc.integer({ min: 100, max: 9_999_900 }), (grams) => {
      expect(outcome(readWeight(`${formatNumber(grams / 1000, locale, 3)} kg`, 'kg', locale))).toBe(grams)
    }),
  )
})
