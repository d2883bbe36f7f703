import { expect, it } from 'vitest'
import { DayColumns, valuesReader, withIsoDays } from '../../src/exchange/line-values.ts'
import { readHeading } from '../../src/exchange/row-cells.ts'

const fields = [
  { name: 'day', isDay: true },
  { name: 'garden' },
  { name: 'weight', measure: 'weight' as const },
  { name: 'pieces' },
]
const readAs = { numbersIn: 'en-NZ', weightUnit: 'kg' as const, areaUnit: 'm2' as const }
const values = (heading: string, line: string) =>
  valuesReader(readHeading(heading.split(';'), fields, {}), { fields, readAs })(line.split(';'))

it.each([
  ['another order of columns', 'garden;day;weight', 'Long Bank;2026-01-26;3'],
  ['capitals and spaces', 'day;garden;weight', '2026-01-26;long  BANK ;3'],
  ['a longer number', 'day;garden;weight', '2026-01-26;Long Bank;3.00'],
  ['another unit', 'day;garden;weight (g)', '2026-01-26;Long Bank;3000'],
  ['the unit in the cell', 'day;garden;weight', '2026-01-26;Long Bank;3 kg'],
  ['a column that says nothing', 'day;garden;weight;pieces', '2026-01-26;Long Bank;3;'],
])('is the same line with %s', (_what, heading, line) => {
  expect(values(heading, line)).toBe(values('day;garden;weight (kg)', '2026-01-26;Long Bank;3'))
})

it.each([
  ['another day', 'day;garden;weight', '2026-01-27;Long Bank;3'],
  ['another weight', 'day;garden;weight', '2026-01-26;Long Bank;3.01'],
  ['pieces beside it', 'day;garden;weight;pieces', '2026-01-26;Long Bank;3;12'],
])('is another line with %s', (_what, heading, line) => {
  expect(values(heading, line)).not.toBe(values('day;garden;weight', '2026-01-26;Long Bank;3'))
})

it('reads the days of a column in the one way in which all of it can be read, and leaves a mixed one alone', () => {
  const heading = readHeading(['day', 'garden', 'sown'], [...fields, { name: 'sown', isDay: true }], {})
  const both = [...fields, { name: 'sown', isDay: true }]
  const lines = [
    ['26/01/2026', 'Long Bank', '01/10/2025'],
    ['27/01/2026', 'Long Bank', '2025-10-02'],
  ]
  const columns = new DayColumns()
  for (const line of lines) columns.see(line, heading, both)
  const ways = columns.ways('day first')
  expect(lines.map((line) => withIsoDays(line, ways))).toEqual([
    ['2026-01-26', 'Long Bank', '01/10/2025'],
    ['2026-01-27', 'Long Bank', '2025-10-02'],
  ])
})
