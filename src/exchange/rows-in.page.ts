import { sent } from '../lookups/unsaid.ts'
import { formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import type { FoundKept } from './found-kept.ts'
import { type KindOfRows, kindsOfRows } from './row-kind.ts'

const words = catalogue.rows
const wrongAtOnce = 500
const unmatchedAtOnce = 100

interface Reading {
  readonly id: string
  readonly kind: KindOfRows
  readonly state: 'reading' | 'read' | 'storing' | 'stored' | 'failed'
  readonly changed: boolean
  readonly first: number | null
  readonly found: FoundKept
}

/** Where a file stands: being read, as it would be stored, being stored, stored. */
export function readingPage({ id, kind, state, changed, first, found }: Reading, locale: string, from: number) {
  const count = (rows: number) => formatNumber(rows, locale, 0)
  const rowsSaid = words.rowsOf(count(found.fresh))
  const shown = found.wrong.slice(from, from + wrongAtOnce)
  const lines = new Set(found.wrong.map((one) => one.line)).size
  const working = state === 'reading' || state === 'storing'
  return {
    id,
    kind: words.kinds[kind],
    state,
    progress: state === 'storing' ? words.storing(count(found.lines)) : words.reading(count(found.lines)),
    refreshSeconds: working ? 2 : null,
    headingSaid: headingSaid(found.heading),
    unread: found.heading && found.heading.unread.length > 0 ? words.unread(found.heading.unread.join(', ')) : '',
    empty: !working && found.lines === 0 && found.wrong.length === 0,
    counts: words.counts(rowsSaid, count(found.there), words.rowsOf(count(lines))),
    changed,
    first,
    shows: words.shows[kind],
    preview: found.preview,
    wrong: shown.map(({ line, field, reason }) => ({ line: String(line), field, reason })),
    wrongPart: words.badPart(count(from + 1), count(from + shown.length), count(found.wrong.length)),
    earlier: from > 0 ? Math.max(0, from - wrongAtOnce) : null,
    later: from + wrongAtOnce < found.wrong.length ? from + wrongAtOnce : null,
    asks: found.asks.map(({ line, ask }) => ({ line: String(line), ask })),
    unmatched: found.unmatched
      .slice(0, unmatchedAtOnce)
      .map(({ line, name }) => words.unmatchedLine(String(line), name)),
    unmatchedSay: words.unmatchedSay(count(found.unmatched.length)),
    mayStore: state === 'read' && found.fresh > 0 && found.wrong.length === 0,
    nothingNew: state === 'read' && found.fresh === 0 && found.there > 0 && found.wrong.length === 0,
    confirm: words.confirm(rowsSaid),
    stored: words.stored(rowsSaid),
  }
}

function headingSaid(heading: FoundKept['heading']): string[] {
  if (!heading) return []
  return [
    ...(heading.missing.length > 0 ? [words.missing(heading.missing.join(', '))] : []),
    ...(heading.twice.length > 0 ? [words.twice(heading.twice.join(', '))] : []),
  ]
}

interface FieldsOfKind {
  readonly fields: readonly { readonly name: string; readonly required?: boolean }[]
}

/** The columns of each kind, as the page lists them. */
export function columnsPage(kinds: Readonly<Record<KindOfRows, FieldsOfKind>>) {
  return kindsOfRows.map((kind) => {
    const columns: Readonly<Record<string, { names: readonly string[]; say: string }>> = words.columns[kind]
    return {
      kind,
      name: words.kinds[kind],
      columns: kinds[kind].fields.map(({ name, required }) => ({
        name,
        names: (columns[name]?.names ?? []).filter((one) => one !== name).join(', '),
        needed: required ? words.yes : words.no,
        say: sent(columns[name]?.say),
      })),
    }
  })
}
