import { and, eq, gt, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { changes, groupCounters } from './accounts.table.ts'

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
  const [counter] = await tx.select().from(groupCounters).where(eq(groupCounters.groupId, groupId))
  const rows = await tx
    .select({ number: changes.number, tableName: changes.tableName })
    .from(changes)
    .where(
      and(
        eq(changes.groupId, groupId),
        // A group without a counter has written nothing yet.
        gt(changes.number, (counter?.changes ?? 0) - mostToTakeBack - 1),
        sql`${changes.changedAt} = now() and ${changes.personId} = public.current_person()`,
      ),
    )
  const numbers = rows.map((row) => row.number)
  if (numbers.length === 0 || numbers.length > mostToTakeBack) return null
  const tables = [...new Set(rows.map((row) => row.tableName))]
  return { first: Math.min(...numbers), last: Math.max(...numbers), tables }
}

/** How many changes the group's history holds: it counts up with everything that is written. */
export async function changesCounted(tx: Tx, groupId: string): Promise<number> {
  const [counter] = await tx.select().from(groupCounters).where(eq(groupCounters.groupId, groupId))
  // The same.
  return counter?.changes ?? 0
}
