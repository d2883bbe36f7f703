/** The part of a long list that stands on one page, with where it lies in the whole. */
export interface InPages<T> {
  readonly rows: readonly T[]
  /** Of all rows, from 1 on: the first and the last of these. */
  readonly from: number
  readonly to: number
  readonly of: number
  readonly page: number
  readonly last: number
}

/** So many a page at most. */
const mostRows = 100

/** That page of a list, from 1 on; behind the last one the last. */
export function inPages<T>(rows: readonly T[], asked: number): InPages<T> {
  const last = Math.max(1, Math.ceil(rows.length / mostRows))
  const page = Math.min(asked, last)
  const from = (page - 1) * mostRows
  const shown = rows.slice(from, from + mostRows)
  return { rows: shown, from: from + 1, to: from + shown.length, of: rows.length, page, last }
}
