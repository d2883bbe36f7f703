import { asShown, sent } from '../lookups/unsaid.ts'
import { dayIn, readDate } from '../quantities/dates.ts'
import {
  formatArea,
  formatDay,
  formatHours,
  formatKilograms,
  formatMoney,
  formatNumber,
} from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { isMoney, isQuantity, unitOf } from './units.ts'

const words = catalogue.history
type Doc = Readonly<Record<string, unknown>>

interface Change {
  readonly number: number
  readonly tableName: string
  readonly rowId: string
  readonly changedAt: Date
  readonly personId: string | null
  readonly person: string | null
  readonly reason: string | null
  readonly before: Doc | null
  readonly after: Doc | null
}

export interface Telling {
  readonly slug: string
  readonly locale: string
  readonly timeZone: string
  readonly currency: string
  readonly names: ReadonlyMap<string, string>
}

/** Changes by the day on which they were made in the group's time zone. */
export function historyPage(changes: readonly Change[], at: Telling) {
  const days: { day: string; changes: ReturnType<typeof lineOf>[] }[] = []
  for (const change of changes) {
    const day = formatDay(dayIn(at.timeZone, change.changedAt), at.locale)
    if (days.at(-1)?.day !== day) days.push({ day, changes: [] })
    days.at(-1)?.changes.push(lineOf(change, at))
  }
  return { days, none: days.length === 0 }
}

function lineOf(change: Change, at: Telling) {
  const kind = kindOf(change)
  const fields = kind === 'added' ? [] : fieldsOf(change, at)
  return {
    number: String(change.number),
    time: timeOf(change, at),
    who: whoOf(change),
    what: words.row(tableNamed(change.tableName), nameOf(change, at)),
    href: `/g/${at.slug}/history/${change.tableName}/${change.rowId}`,
    kind: words.kinds[kind],
    fields: fields.map((field) => words.fromTo(field.label, field.before, field.after)),
    reason: asShown(change.reason),
  }
}

/** One row from when it was written down, each change field by field. */
export function rowPage(changes: readonly Change[], at: Telling) {
  const [last] = changes.slice(-1)
  return {
    what: last ? words.row(tableNamed(last.tableName), nameOf(last, at)) : '',
    changes: changes.map((change) => ({
      heading: words.heading(
        String(change.number),
        words.kinds[kindOf(change)],
        `${formatDay(dayIn(at.timeZone, change.changedAt), at.locale)}, ${timeOf(change, at)}`,
      ),
      by: words.by(whoOf(change)),
      because: change.reason ? words.because(change.reason) : '',
      fields: fieldsOf(change, at),
    })),
  }
}

export const tableNamed = (table: string): string => words.tables[table] ?? plainly(table)
const plainly = (column: string) => column.replaceAll('_', ' ')

function kindOf({ before, after }: Change): keyof typeof words.kinds {
  if (before === null) return after === null ? 'stayed' : 'added'
  if (after === null) return 'removed'
  const [was, is] = [before.removed_at ?? null, after.removed_at ?? null]
  if (was === null && is !== null) return 'removed'
  return was !== null && is === null ? 'back' : 'corrected'
}

const whoOf = ({ personId, person }: Change) => person ?? (personId === null ? words.nobody : words.gone)

function timeOf({ changedAt }: Change, { locale, timeZone }: Telling): string {
  return new Intl.DateTimeFormat(locale, { timeStyle: 'short', timeZone }).format(changedAt)
}

/** What the row is called, or what it speaks of, and its day. */
function nameOf({ tableName, before, after, rowId }: Change, at: Telling): string {
  const doc = after ?? before ?? {}
  if (tableName === 'members') return at.names.get(rowId) ?? words.gone
  if (tableName === 'invitations') return told('role', doc.role, at)
  const own = doc.name ?? doc.title ?? at.names.get(rowId)
  if (typeof own === 'string' && at.names.get(rowId) === undefined) return own
  if (own !== undefined) return at.names.get(rowId) ?? String(own)
  const of = ['planting_id', 'bed_id', 'garden_id', 'input_id', 'site_id', 'season_id']
    .map((column) => at.names.get(sent(doc[column])))
    .find((name) => name !== undefined)
  const days = ['harvested_on', 'lost_on', 'delivered_on', 'applied_on', 'sampled_on', 'seen_on', 'day', 'iso_week']
  const day = days.map((column) => doc[column]).find((value) => typeof value === 'string')
  const when = typeof day === 'string' ? told('day', day, at) : undefined
  return [of, typeof doc.task === 'string' ? doc.task : undefined, when].filter(Boolean).join(', ') || String(rowId)
}

/** Columns that say nothing to a reader, or what the line says already. */
const silent = [
  'group_id',
  'id',
  'version',
  'created_at',
  'created_by',
  'colour_index',
  'is_demo',
  'token_hash',
  'passphrase_hash',
  'slug',
]

function fieldsOf({ before, after }: Change, at: Telling) {
  const columns = [...new Set([...Object.keys(before ?? {}), ...Object.keys(after ?? {})])]
  return columns
    .filter((column) => !silent.includes(column))
    .sort((a, b) => placeOf(a) - placeOf(b))
    .map((column) => ({ column, was: before?.[column] ?? null, is: after?.[column] ?? null }))
    .filter(({ was, is }) => JSON.stringify(was) !== JSON.stringify(is))
    .map(({ column, was, is }) => ({
      label: words.columns[column] ?? plainly(column),
      before: told(column, was, at),
      after: told(column, is, at),
    }))
}

/** In the order of the words: stored documents keep none. */
const placeOf = (column: string) => places.get(column) ?? places.size
const places = new Map(Object.keys(words.columns).map((column, place) => [column, place]))

const marks = [
  'interplanted',
  'stands_over_seasons',
  'counts_when_picked',
  'regrows',
  'counts',
  'outside_method',
  'own_made',
  'is_uniform_year',
  'touches_soil',
  'rows_agreed',
  'asks_factor',
  'agreed',
]

const ofPeople = ['person_id', 'used_by', 'closed_by']

/** A stored value as its pages would show it. */
function told(column: string, value: unknown, at: Telling): string {
  if (value === null || value === undefined || value === '') return words.blank
  if (typeof value === 'number') return numberTold(column, value, at)
  if (typeof value !== 'string') return words.long
  const word = words.values[column]?.[value] ?? at.names.get(value)
  if (word) return word
  if (ofPeople.includes(column)) return words.gone
  if (readDate(value)) return formatDay(value, at.locale)
  if (/^\d{4}-\d\d-\d\dT\d\d:\d\d/.test(value)) {
    const instant = new Date(value)
    // A history that was brought in may hold a time that is none.
    if (Number.isNaN(instant.getTime())) return value
    const style = { dateStyle: 'long', timeStyle: 'short', timeZone: at.timeZone } as const
    return new Intl.DateTimeFormat(at.locale, style).format(instant)
  }
  return value
}

function numberTold(column: string, value: number, at: Telling): string {
  if (marks.includes(column)) return value === 0 ? words.no : words.yes
  if (column === 'raw_manure') return catalogue.inputs.rawShown[value] ?? words.no
  if (isMoney(column)) return formatMoney(value, at.locale, at.currency)
  if (isQuantity(column)) return formatNumber(value / 1000, at.locale, value % 1000 ? 3 : 0)
  if (column === 'share_permille') return `${formatNumber(value / 10, at.locale, value % 10 ? 1 : 0)} %`
  const unit = unitOf(column)
  if (unit === 'g') return formatKilograms(value, at.locale)
  if (unit === 'cm2') return formatArea(value, at.locale)
  if (unit === 'min') return formatHours(value, at.locale)
  if (unit === 'mm' || unit === '%') return `${value} ${unit}`
  return formatNumber(value, at.locale, 0)
}
