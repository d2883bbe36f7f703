import { expect, it } from 'vitest'
import { dayOrderOf, dayWritten, writtenAs } from '../../src/quantities/written-days.ts'

it.each([
  ['en-NZ', 'day first'],
  ['de-DE', 'day first'],
  ['en-US', 'month first'],
  ['sv-SE', 'year first'],
  ['ja-JP', 'year first'],
])('%s writes the %s', (locale, order) => {
  expect(dayOrderOf(locale)).toBe(order)
})

const read = (cells: readonly string[], locale: string) => {
  const way = writtenAs(cells, dayOrderOf(locale))
  return way && cells.map((cell) => (cell === '' ? '' : dayWritten(cell, way)))
}

it.each([
  ['ISO days anywhere', ['2026-03-20', ''], 'de-DE', ['2026-03-20', '']],
  ['day first, with slashes', ['20/03/2026', '3/4/2026'], 'en-NZ', ['2026-03-20', '2026-04-03']],
  ['day first, with full stops', ['18.08.2026', '1.9.2026.'], 'de-DE', ['2026-08-18', '2026-09-01']],
  ['month first', ['03/20/2026', '4/3/2026'], 'en-US', ['2026-03-20', '2026-04-03']],
  ['year first', ['2026/3/20', '2026/12/01'], 'ja-JP', ['2026-03-20', '2026-12-01']],
])('%s', (_what, cells, locale, days) => {
  expect(read(cells, locale)).toEqual(days)
})

it.each([
  ['one cell that is a month first among days first', ['03/20/2026', '04/05/2026'], 'en-NZ'],
  ['two marks', ['20/03/2026', '20.03.2026'], 'en-NZ'],
  ['two ways', ['20/03/2026', '2026-03-20'], 'en-NZ'],
  ['a year of two figures', ['20/03/26'], 'en-NZ'],
  ['no such day', ['31/02/2026'], 'en-NZ'],
  ['words', ['in spring'], 'en-NZ'],
])('is not read: %s', (_what, cells, locale) => {
  expect(read(cells, locale)).toBeUndefined()
})
