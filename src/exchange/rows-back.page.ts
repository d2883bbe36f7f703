import { dayIn } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import type { KindOfRows } from './row-kind.ts'

const words = catalogue.rows

interface Stored {
  readonly kind: KindOfRows
  readonly storedAt: Date
  readonly rows: number
}

interface Here {
  readonly locale: string
  readonly timeZone: string
}

/** The files that were stored last, each with the address of its own page. */
export const storedFilesPage = (files: readonly (Stored & { first: number })[], here: Here) =>
  files.map((file) => ({ first: file.first, said: storedSaid(file, here) }))

/** One stored file, with what of it still stands as it came. */
export function storedFilePage(file: Stored & { untouched: number; closed: boolean }, here: Here) {
  const rows = (count: number) => words.rowsOf(formatNumber(count, here.locale, 0))
  const changed = file.rows - file.untouched
  return {
    said: storedSaid(file, here),
    standing: words.asItCame(rows(file.untouched)),
    changed: changed > 0 ? words.changedSince(rows(changed)) : '',
    closed: file.closed,
    mayTakeBack: file.untouched > 0 && !file.closed,
    takeBack: words.takeBack(rows(file.untouched)),
  }
}

const storedSaid = ({ kind, storedAt, rows }: Stored, { locale, timeZone }: Here) =>
  words.storedOn(
    formatDay(dayIn(timeZone, storedAt), locale),
    words.kinds[kind],
    words.rowsOf(formatNumber(rows, locale, 0)),
  )
