import { and, eq } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import type { RecordTable } from './amend.ts'
import type { Tx } from './database.ts'

/** Written now; there already as it was sent; or another one stands under this id, or one that was removed since. */
export type Stored = 'stored' | 'there' | 'another'

interface Sent {
  readonly groupId: string
  readonly id: string
  readonly createdBy: string | null
}

/**
 * Stores a form's row under the form's id. One that is sent twice is stored once; a different one is never taken for
 * it.
 */
export async function storeOnce(tx: Tx, table: RecordTable, row: Sent): Promise<Stored> {
  const plain: PgTable = table
  const made = await tx
    .insert(plain)
    .values(row)
    .onConflictDoNothing({ target: [table.groupId, table.id] })
    .returning({ id: table.id })
  if (made.length === 1) return 'stored'
  return (await standsUnder(tx, table, row)) === 'there' ? 'there' : 'another'
}

/** What stands under the id of a row that was sent, before or instead of storing it. */
export async function standsUnder(tx: Tx, table: RecordTable, row: Sent): Promise<'nothing' | 'there' | 'another'> {
  const plain: PgTable = table
  const [found] = await tx
    .select()
    .from(plain)
    .where(and(eq(table.groupId, row.groupId), eq(table.id, row.id)))
  if (!found) return 'nothing'
  return sameAs(row, found) ? 'there' : 'another'
}

/** Whether a row that stands says what was sent under its id, and was not removed since. */
export function sameAs(row: Sent, stored: Readonly<Record<string, unknown>> | undefined): boolean {
  if (stored === undefined || stored.removedAt !== null) return false
  const { createdBy: _whoever, ...sent } = row
  return Object.entries(sent).every(([name, value]) => value === undefined || String(value) === String(stored[name]))
}
