import fc from 'fast-check'
import { expect, it } from 'vitest'
import { addDays, daysBetween, type IsoDate } from '../../src/quantities/dates.ts'
import { carriedDays, sameDayOfYear, yearsBetween } from '../../src/seasons/carried-days.ts'
import { aDay } from '../support/calendar.ts'

const weekday = (day: string) => new Date(`${day}T00:00:00Z`).getUTCDay()

it.each([
  // A Wednesday; 1 April 2026 is a Wednesday too, and 1 April 2027 a Thursday.
  ['2026-04-01', 1, '2027-03-31'],
  ['2025-10-01', 1, '2026-09-30'],
  ['2024-02-29', 1, '2025-02-27'],
  ['2024-02-29', 4, '2028-03-02'],
  ['2026-12-31', 1, '2027-12-30'],
  ['2026-01-01', 1, '2026-12-31'],
  ['2026-04-01', 0, '2026-04-01'],
] as const)('%s is %i years on %s', (day, years, expected) => {
  expect(sameDayOfYear(day, years)).toBe(expected)
})

it('is always the same day of the week and at most three days from the same day of the year', () => {
  const day = fc.integer({ min: 0, max: 20_000 }).map((days) => addDays('1990-01-01', days))
  fc.assert(
    fc.property(day, fc.integer({ min: 0, max: 5 }), (from, years) => {
      const to = sameDayOfYear(from, years)
      expect(weekday(to)).toBe(weekday(from))
      const same = aDay(`${Number(from.slice(0, 4)) + years}${from.endsWith('02-29') ? '-02-28' : from.slice(4)}`)
      expect(Math.abs(daysBetween(same, to))).toBeLessThanOrEqual(3)
    }),
  )
})

it('counts the years between two seasons by their first days', () => {
  expect(yearsBetween({ startsOn: '2025-08-01' }, { startsOn: '2026-08-03' })).toBe(1)
  expect(yearsBetween({ startsOn: '2025-09-20' }, { startsOn: '2026-08-01' })).toBe(1)
  expect(yearsBetween({ startsOn: '2024-01-01' }, { startsOn: '2026-01-01' })).toBe(2)
})

it('where a first day of sowing is given, all keep their distance from the first', () => {
  const days = new Map<string, IsoDate>([
    ['peas', '2026-03-20'],
    ['beans', '2026-05-10'],
  ])
  expect(Object.fromEntries(carriedDays(days, 1, '2027-04-01'))).toEqual({ peas: '2027-04-01', beans: '2027-05-22' })
  expect(Object.fromEntries(carriedDays(days, 1, null))).toEqual({ peas: '2027-03-19', beans: '2027-05-09' })
})
