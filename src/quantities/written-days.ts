import { type IsoDate, readDate } from './dates.ts'

/** The order in which a locale writes day, month and year in figures. */
export type DayOrder = 'day first' | 'month first' | 'year first'

/** As the locale's own calendar data (Unicode CLDR, through Intl) say it. */
export function dayOrderOf(locale: string): DayOrder {
  const parts = new Intl.DateTimeFormat(locale, { calendar: 'gregory' }).formatToParts(Date.UTC(2026, 0, 15))
  const first = parts.find((part) => ['day', 'month', 'year'].includes(part.type))?.type
  return first === 'year' ? 'year first' : first === 'month' ? 'month first' : 'day first'
}

/** How a whole column writes its days: as ISO 8601 has them, or in one order with one mark between. */
export type WrittenAs = { readonly order: DayOrder | 'iso'; readonly mark: string }

const written = /^(\d{1,4})([./-])(\d{1,2})\2(\d{1,4})\.?$/

/**
 * The one way in which all cells of a column can be read as days; undefined where there is none. ISO days come first;
 * after them only the group's own order is tried, with the same mark in every cell, so that 03/04/2026 is never
 * guessed.
 */
export function writtenAs(cells: readonly string[], order: DayOrder): WrittenAs | undefined {
  const full = cells.map((cell) => cell.trim()).filter((cell) => cell !== '')
  if (full.every((cell) => readDate(cell) !== undefined)) return { order: 'iso', mark: '-' }
  const mark = full.map((cell) => written.exec(cell)?.[2])[0]
  if (mark === undefined) return undefined
  const way = { order, mark }
  return full.every((cell) => dayWritten(cell, way) !== undefined) ? way : undefined
}

/** The day that a cell says, in the way in which its column is written. */
export function dayWritten(cell: string, { order, mark }: WrittenAs): IsoDate | undefined {
  if (order === 'iso') return readDate(cell)
  const [, a = '', between, b = '', c = ''] = written.exec(cell.trim()) ?? []
  if (between !== mark) return undefined
  const [year, month, day] = order === 'year first' ? [a, b, c] : order === 'month first' ? [c, a, b] : [c, b, a]
  if (year.length !== 4 || month.length > 2 || day.length > 2) return undefined
  return readDate(`${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`)
}
