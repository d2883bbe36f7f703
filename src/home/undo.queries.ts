import { and, asc, between, eq, sql } from 'drizzle-orm'
import { changes } from '../accounts/accounts.table.ts'
import { mostToTakeBack } from '../accounts/saved.queries.ts'
import type { Tx } from '../db/database.ts'
import { rowsIn } from '../db/rows-read.ts'
import { weekClosings } from '../diary/diary.table.ts'

type Change = typeof changes.$inferSelect
type Stored = Record<string, unknown>

/** What one save did to one row, by the numbers that it has in the history. */
interface NetChange {
  readonly tableName: string
  readonly rowId: string
  /** The change that knows how the row was, and its columns then; null where the save made the row. */
  readonly before: { readonly number: number; readonly columns: readonly string[] } | null
  /** The change that knows how the save left it. */
  readonly after: number
}

/**
 * The save of this person that wrote these numbers of the history, within the last quarter of an hour; empty for any
 * other.
 */
export async function savedChanges(tx: Tx, groupId: string, personId: string | null, first: number, last: number) {
  if (personId === null || last < first || last - first >= mostToTakeBack) return []
  const recent = sql<boolean>`${changes.changedAt} > now() - interval '15 minutes'`
  const rows = await tx
    .select({ change: changes, recent })
    .from(changes)
    .where(and(eq(changes.groupId, groupId), between(changes.number, first, last)))
    .orderBy(asc(changes.number))
  const own = rows.every((row) => row.recent && row.change.personId === personId)
  return own ? rows.map((row) => row.change) : []
}

/** Latest first, so that what rests on something is taken back before it. */
export function netChanges(rows: readonly Change[]): NetChange[] {
  const byRow = new Map<string, NetChange>()
  for (const row of rows) {
    const key = `${row.tableName} ${row.rowId}`
    const before = row.before ? { number: row.number, columns: Object.keys(row.before) } : null
    const first = byRow.get(key)
    byRow.delete(key)
    byRow.set(key, {
      tableName: row.tableName,
      rowId: row.rowId,
      before: first ? first.before : before,
      after: row.number,
    })
  }
  return [...byRow.values()].reverse()
}

/**
 * Whether a week that these rows were written in has been closed since they were: then it must be opened again first.
 */
export async function closedSince(tx: Tx, groupId: string, rows: readonly Change[]): Promise<boolean> {
  const weeks = new Set(rows.flatMap((row) => [row.before, row.after].map((one) => (one as Stored | null)?.iso_week)))
  const since = rows[0]?.changedAt
  if (!since) return false
  const closings = await tx
    .select({
      id: weekClosings.id,
      isoWeek: weekClosings.isoWeek,
      closedAt: weekClosings.closedAt,
      reopenedAt: weekClosings.reopenedAt,
    })
    .from(weekClosings)
    .where(eq(weekClosings.groupId, groupId))
  const own = new Set(rows.filter((row) => row.tableName === 'week_closings').map((row) => row.rowId))
  return closings.some(
    (one) => !own.has(one.id) && weeks.has(one.isoWeek) && one.closedAt >= since && one.reopenedAt === null,
  )
}

/**
 * Writes back what stood before, or marks as removed what was new; false where the row has changed since. The database
 * reads its own history: on the way through a number of this language a printed 5.0 would come back as 5.
 */
export async function takeBack(tx: Tx, groupId: string, change: NetChange): Promise<boolean> {
  const table = sql.identifier(change.tableName)
  const kept = (side: 'before' | 'after', number: number) =>
    sql`(select c.${sql.identifier(side)} from ${changes} c where c.group_id = ${groupId} and c.number = ${number})`
  const asLeft = sql`t.group_id = ${groupId} and t.id = ${change.rowId}
    and to_jsonb(t.*) = ${kept('after', change.after)}`
  if (change.before === null) {
    // A closing that is taken back is an opening: marked as removed it would still bar a second closing of that week.
    const marked =
      change.tableName === 'week_closings'
        ? sql`reopened_at = now(), reopened_reason = 'undone'`
        : sql`removed_at = now(), removed_reason = 'undone'`
    const marking = sql`update ${table} t set ${marked}, version = t.version + 1`
    return touchedOne(await tx.execute(sql`${marking} where ${asLeft} returning t.id`))
  }
  const written = change.before.columns.filter((name) => !['group_id', 'id', 'version'].includes(name))
  const columns = written.map((name) => sql`${sql.identifier(name)} = stood.${sql.identifier(name)}`)
  const writing = sql`update ${table} t set ${sql.join(columns, sql`, `)}, version = t.version + 1`
  const stood = sql`jsonb_populate_record(null::${table}, ${kept('before', change.before.number)}) stood`
  return touchedOne(await tx.execute(sql`${writing} from ${stood} where ${asLeft} returning t.id`))
}

const touchedOne = (answer: unknown) => rowsIn(answer).length === 1
