import { and, eq, isNull } from 'drizzle-orm'
import type { AnyPgColumn, PgTable } from 'drizzle-orm/pg-core'
import type { Tx } from './database.ts'

/** Any table with the columns that every row of a group carries. */
export type RecordTable = PgTable & {
  readonly [K in 'groupId' | 'id' | 'version' | 'removedAt']: AnyPgColumn
}

interface Seen {
  readonly groupId: string
  readonly id: string
  /** The version that the writer saw; another one has been written over it where it no longer stands. */
  readonly version: number
}

const standing = (t: RecordTable, groupId: string, id: string) =>
  and(eq(t.groupId, groupId), eq(t.id, id), isNull(t.removedAt))

export async function rowOf<T extends RecordTable>(
  tx: Tx,
  table: T,
  groupId: string,
  id: string,
): Promise<T['$inferSelect'] | undefined> {
  const plain: PgTable = table
  const [row] = await tx
    .select()
    .from(plain)
    .where(standing(table, groupId, id))
  return row
}

/**
 * The row, kept from other writers until the end of the transaction: whoever wants to write it waits, and sees what was
 * written.
 */
export async function rowHeld<T extends RecordTable>(
  tx: Tx,
  table: T,
  groupId: string,
  id: string,
): Promise<T['$inferSelect'] | undefined> {
  const plain: PgTable = table
  const [row] = await tx
    .select()
    .from(plain)
    .where(standing(table, groupId, id))
    .for('no key update')
  return row
}

/** Writes over the version that was seen and no other; false where it has changed meanwhile or is gone. */
export async function amend(tx: Tx, table: RecordTable, seen: Seen, changes: object): Promise<boolean> {
  const plain: PgTable = table
  const written = await tx
    .update(plain)
    .set({ ...changes, version: seen.version + 1 })
    .where(and(standing(table, seen.groupId, seen.id), eq(table.version, seen.version)))
    .returning({ id: table.id })
  return written.length === 1
}

/** A removal is a mark with its reason; the row stays. */
export const markRemoved = (tx: Tx, table: RecordTable, seen: Seen, reason: string): Promise<boolean> =>
  amend(tx, table, seen, { removedAt: new Date(), removedReason: reason })

/** How a row of one table is found, written over and marked as removed. */
export const ofTable = <T extends RecordTable>(table: T) => ({
  find: (tx: Tx, groupId: string, id: string) => rowOf(tx, table, groupId, id),
  save: (tx: Tx, seen: Seen, given: object) => amend(tx, table, seen, given),
  remove: (tx: Tx, seen: Seen, reason: string) => markRemoved(tx, table, seen, reason),
})
