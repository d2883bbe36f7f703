import { and, eq, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { rowsRead } from '../db/rows-read.ts'
import { changes, groupCounters } from './accounts.table.ts'
import type { LastChange } from './last-kept.ts'

export interface Saved {
  readonly first: number
  readonly last: number
  readonly tables: readonly string[]
}

/** A longer save is not offered to be taken back: it would go row by row. */
export const mostToTakeBack = 1000

/**
 * What this transaction has written into the history so far: it holds the group's counter, so its numbers have no gap.
 * Null where it wrote nothing, or more than can be taken back as a whole.
 */
export async function savedBy(tx: Tx, groupId: string): Promise<Saved | null> {
  const counter = groupCounters
  const latest = sql`(select ${counter.changes} from ${counter} where ${counter.groupId} = ${groupId})`
  const bound = sql`${latest} - ${mostToTakeBack + 1}`
  // Its own are the last: looked for back to the first that is another's, and not among all that might be.
  const before = sql`(select c.number from ${changes} c where c.group_id = ${groupId} and c.number > ${bound}
    and c.changed_at <> now() order by c.number desc limit 1)`
  const [found] = await tx
    .select({
      count: sql<number>`count(*)::int`,
      first: sql<string>`min(${changes.number})`,
      last: sql<string>`max(${changes.number})`,
      tables: sql<string[]>`array_agg(distinct ${changes.tableName})`,
    })
    .from(changes)
    .where(
      and(
        eq(changes.groupId, groupId),
        sql`${changes.number} > coalesce(${before}, ${bound})`,
        sql`${changes.changedAt} = now() and ${changes.personId} = public.current_person()`,
      ),
    )
  if (!found || found.count === 0 || found.count > mostToTakeBack) return null
  return { first: Number(found.first), last: Number(found.last), tables: found.tables }
}

/** How many changes the group's history holds: it counts up with everything that is written. */
export async function changesCounted(tx: Tx, groupId: string): Promise<number> {
  const [counter] = await tx.select().from(groupCounters).where(eq(groupCounters.groupId, groupId))
  // A group without a counter has written nothing yet.
  return counter?.changes ?? 0
}

interface Written {
  /** The group's last change; null where it has none, or where this transaction has written already. */
  readonly last: LastChange | null
  /** The tables that were written since; null where the change is none of this history, or lies too far back. */
  readonly tables: ReadonlySet<string> | null
}

/** Further back nothing is looked through: to read anew takes no longer. */
const mostLookedThrough = 1000

/** None has this number. */
export const beforeFirst: LastChange = { number: 0, moment: '-infinity' }

/** What was written in a group since a change of its history, and which one is the last by now. */
export async function writtenSince(tx: Tx, groupId: string, { number, moment }: LastChange): Promise<Written> {
  const asked = sql`select g.changes, l.changed_at::text as moment,
      pg_current_xact_id_if_assigned() is null as unwritten,
      exists (select from ${changes} c where c.group_id = g.group_id and c.number = ${number}
        and c.changed_at = ${moment}::timestamptz) as known,
      array(select distinct c.table_name from ${changes} c where c.group_id = g.group_id and c.number > ${number}
        and c.number > g.changes - ${mostLookedThrough}) as tables
    from ${groupCounters} g join ${changes} l on l.group_id = g.group_id and l.number = g.changes
    where g.group_id = ${groupId}`
  const [found] = await rowsRead(tx, asked, ({ changes: latest, moment: at, unwritten, known, tables }) => ({
    last: unwritten === true ? { number: Number(latest), moment: String(at) } : null,
    tables:
      known === true && Number(latest) - number <= mostLookedThrough && Array.isArray(tables)
        ? new Set(tables.map(String))
        : null,
  }))
  return found ?? { last: null, tables: null }
}
