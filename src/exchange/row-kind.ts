import { catalogue } from '../words/catalogue.ts'
import type { KnownRecord } from './known-record.ts'
import type { Cells, RowField } from './row-cells.ts'

export interface WrongCell {
  readonly field: string
  readonly reason: string
}

/** One line of a file as it would be stored, or each cell of it that is wrong. */
export type RowRead =
  | {
      readonly kind: 'answer'
      readonly row: Readonly<Record<string, unknown>>
      /** As the record would show it, under the kind's `shows`. */
      readonly shown: () => readonly string[]
      /** Out of the usual: stored all the same, but said. */
      readonly ask?: (() => string) | undefined
    }
  | { readonly kind: 'refused'; readonly wrong: readonly WrongCell[] }

export const kindsOfRows = ['harvests', 'labour', 'plantings', 'inputs', 'soil'] as const
export type KindOfRows = (typeof kindsOfRows)[number]

export interface RowKind {
  readonly name: KindOfRows
  /** The table that holds the rows. */
  readonly table: string
  readonly access: 'recorder' | 'keeper'
  readonly fields: readonly RowField[]
  /** Reads the lines of one file after each other: what one line takes is not there for the next. */
  reader(known: KnownRecord): (id: string, cells: Cells) => RowRead
}

export const refusedRow = (wrong: readonly WrongCell[]): RowRead => ({ kind: 'refused', wrong })
export const wrongAt = (field: string, reason: string): RowRead => refusedRow([{ field, reason }])

/**
 * The errors of a form under the names of the file's columns; where a list was to be chosen from, the words of that
 * list.
 */
export const wrongCells = (
  errors: Readonly<Record<string, string>>,
  columnOf: Readonly<Record<string, string>>,
): WrongCell[] =>
  Object.entries(errors).map(([name, reason]) => {
    const field = columnOf[name] ?? name
    const list = catalogue.rows.lists[field as keyof typeof catalogue.rows.lists]
    return { field, reason: list && (reason === catalogue.fields.notChosen || field === 'source') ? list : reason }
  })
