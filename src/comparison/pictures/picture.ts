import type { Write } from '../../drawing/axes.ts'
import type { Drawing } from '../../drawing/drawing.ts'
import { formatNumber } from '../../quantities/formatting.ts'
import { wordsFor } from '../../words/locales.ts'

interface PictureTable {
  readonly caption: string
  readonly head: readonly string[]
  /** As they are read; the first cell of each heads its row. */
  readonly rows: readonly (readonly string[])[]
  /** What its fold is called. */
  readonly name: string
}

/** What `views/drawing/picture.eta` reads. */
export interface Picture {
  /** Its own on the page: ids are made from it. */
  readonly id: string
  readonly title: string
  readonly how: string
  readonly drawing: Drawing
  /** The id of the table on the page that it was drawn from; null where its own table follows it. */
  readonly tableId: string | null
  readonly tableSays: string
  readonly table: PictureTable
  /** What the link to it as a file says, of a kind of file. */
  readonly takenAs: (kind: string) => string
}

/** Where and for whom a picture is drawn. */
export interface PictureTold {
  readonly id: string
  readonly locale: string
  readonly tableId?: string
}

interface Made {
  readonly title: string
  readonly how: string
  readonly drawing: Drawing
  readonly head: readonly string[]
  readonly rows: readonly (readonly string[])[]
}

/** What stands at pictures, in the language of a locale. */
export const wordsIn = (locale: string) => wordsFor(locale).pictures

export function pictureOf(told: PictureTold, { title, how, drawing, head, rows }: Made): Picture {
  const words = wordsIn(told.locale)
  return {
    id: told.id,
    title,
    how,
    drawing,
    tableId: told.tableId ?? null,
    tableSays: told.tableId !== undefined ? words.tableOnPage : words.tableBelow,
    table: { caption: title, name: words.theTable, head, rows },
    takenAs: (kind) => words.takenAs(kind, title),
  }
}

export const writeIn =
  (locale: string): Write =>
  (value, decimals) =>
    formatNumber(value, locale, decimals)

/** With its sign, rounded once; nothing is never "-0.00". */
export function signedIn(locale: string): (value: number | null) => string {
  return (value) => {
    if (value === null) return wordsIn(locale).unknown
    const rounded = Math.round(value * 100) / 100 + 0
    return `${rounded > 0 ? '+' : ''}${writeIn(locale)(rounded, 2)}`
  }
}

/** "1.24 (0.98 to 1.57)", or the figure and why it has no interval. */
export function withInterval(
  { value, low, high }: { value: number | null; low?: number | null; high?: number | null },
  { locale, none }: { locale: string; none: string },
): string {
  const [words, write] = [wordsIn(locale), writeIn(locale)]
  const end = (one: number | null | undefined, open: string) =>
    typeof one === 'number' && Number.isFinite(one) ? write(one, 2) : open
  const figure = value === null ? null : write(value, 2)
  if (typeof low !== 'number' && typeof high !== 'number') {
    return figure === null ? words.unknown : none === '' ? figure : words.withoutInterval(figure, none)
  }
  const [from, to] = [end(low, words.anyBelow), end(high, words.anyAbove)]
  return figure === null ? words.rangeOnly(from, to) : words.withInterval(figure, from, to)
}
