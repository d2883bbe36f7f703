import fc from 'fast-check'
import { expect, it } from 'vitest'
import { entriesTyped, lossesTyped, timesTyped } from '../../src/diary/cell-typed.ts'
import { dayTyped } from '../../src/diary/days-typed.ts'
import { addDays } from '../../src/quantities/dates.ts'
import { daysOf, weekOf } from '../../src/quantities/iso-week.ts'

const one = (day: string, good: string[], bad: string[] = [], why = '') => ({ day, good, bad, why })

it.each([
  ['-30 % pest', [['', '30', 'pest']], ''],
  ['1.2; Tu 5 -30%', [['Tu 5', '30', '']], '1.2'],
  ['5.5.: - 100 % did not come up', [['5.5.', '100', 'did not come up']], ''],
  ['2.5 / 0.4 forked', [], '2.5 / 0.4 forked'],
])('of %s it knows what is a loss', (text, losses, rest) => {
  const read = lossesTyped(text)
  expect(read.losses.map(({ day, percent, cause }) => [day, percent, cause])).toEqual(losses)
  expect(read.rest).toBe(rest)
})

it.each([
  ['1.5', [one('', ['1.5'])]],
  ['850 g', [one('', ['850 g'])]],
  ['3 lb 4 oz', [one('', ['3 lb 4 oz'])]],
  ['2 kg 200 g', [one('', ['2 kg', '200 g'])]],
  ['2 kg 200 g+0.3', [one('', ['2 kg', '200 g', '0.3'])]],
  ['1.5+0.7', [one('', ['1.5', '0.7'])]],
  ['2.5 / 0.4 forked', [one('', ['2.5'], ['0.4'], 'forked')]],
  ['2.5/400 g damaged by slugs', [one('', ['2.5'], ['400 g'], 'damaged by slugs')]],
  ['/ 0.4 split', [one('', [], ['0.4'], 'split')]],
  ['Tu 1.2; Fr 0.9', [one('Tu', ['1.2']), one('Fr', ['0.9'])]],
  ['Tu 5 1.2', [one('Tu 5', ['1.2'])]],
  ['5.5.: 1.2', [one('5.5.', ['1.2'])]],
  ['5 May: 1.2 / 0.1 small', [one('5 May', ['1.2'], ['0.1'], 'small')]],
  ['', []],
  [' ; ', []],
])('"%s"', (text, entries) => {
  expect(entriesTyped(text)).toEqual(entries)
})

it.each([
  ['5.5. 1.2', [one('5.5.', ['1.2'])]],
  ['5 May 1.2', [one('5 May', ['1.2'])]],
  ['Tu 5.5. 1.2', [one('Tu 5.5.', ['1.2'])]],
  ['2026-05-05 1.2', [one('2026-05-05', ['1.2'])]],
  ['3 pounds 4 oz', [one('', ['3 pounds 4 oz'])]],
  ['5/5: 1.2 / 0.3 small', [one('5/5', ['1.2'], ['0.3'], 'small')]],
])('"%s" of weights has the day that it says', (text, entries) => {
  expect(entriesTyped(text)).toEqual(entries)
})

it.each([
  ['1:30', [['', '1:30']]],
  ['Tu 1:30', [['Tu', '1:30']]],
  ['Tu 5 1:30', [['Tu 5', '1:30']]],
  ['5.5. 2 h', [['5.5.', '2 h']]],
  ['5 May 0:45', [['5 May', '0:45']]],
  ['5. Mai 0:45', [['5. Mai', '0:45']]],
  ['5/5 1.5', [['5/5', '1.5']]],
  ['2026-05-05 90 min', [['2026-05-05', '90 min']]],
  ['Tu: 2 x 1:30', [['Tu', '2 x 1:30']]],
  ['Tu 2 x 1:30; Fr 0:45', [...[['Tu', '2 x 1:30']], ['Fr', '0:45']]],
  ['1 h 30', [['', '1 h 30']]],
  ['90 min', [['', '90 min']]],
])('"%s" of hours', (text, times) => {
  expect(timesTyped(text).map(({ day, time }) => [day, time])).toEqual(times)
})

const week = daysOf('2026-W19')

it.each([
  ['Tu', 'en-NZ', '2026-05-05'],
  ['Tu 5', 'en-NZ', '2026-05-05'],
  ['Tuesday 5 May', 'en-NZ', '2026-05-05'],
  ['5.5.', 'de-AT', '2026-05-05'],
  ['Di 5.', 'de-AT', '2026-05-05'],
  ['5 May', 'en-NZ', '2026-05-05'],
  ['5. Mai', 'de-AT', '2026-05-05'],
  ['5/5', 'en-US', '2026-05-05'],
  ['8', 'en-NZ', '2026-05-08'],
  ['2026-05-10', 'en-NZ', '2026-05-10'],
])('"%s" in %s is %s', (text, locale, day) => {
  expect(dayTyped(text, week, locale)).toBe(day)
})

it.each(['Tu 6', '12', '5.6.', '2026-05-11', 'T', 'May', 'carrot', '', '5 5 5'])(
  '"%s" is no day of that week',
  (text) => {
    expect(dayTyped(text, week, 'en-NZ')).toBeUndefined()
  },
)

it('every day of every week is read back as it is said, in many ways and languages', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 20_000 }),
      fc.constantFrom('en-NZ', 'en-GB', 'en-US', 'de-AT', 'fr-FR', 'pt-BR'),
      (days, locale) => {
        const day = addDays('2000-01-01' as Parameters<typeof addDays>[0], days)
        const at = new Date(`${day}T00:00:00Z`)
        const said = (options: Intl.DateTimeFormatOptions) =>
          new Intl.DateTimeFormat(locale, { ...options, timeZone: 'UTC' }).format(at)
        const ways = [
          day,
          said({ weekday: 'long' }),
          `${Number(day.slice(8))}`,
          `${Number(day.slice(8))}.${Number(day.slice(5, 7))}.`,
        ]
        for (const way of ways) expect([way, dayTyped(way, daysOf(weekOf(day)), locale)]).toEqual([way, day])
      },
    ),
    { numRuns: 300 },
  )
})
