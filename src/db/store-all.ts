import { and, eq, inArray } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import type { RecordTable } from './amend.ts'
import { constraintOf } from './constraint.ts'
import type { Tx } from './database.ts'
import { insertNew } from './insert-all.ts'
import { type Stored, sameAs } from './store-once.ts'

interface Sent {
  readonly groupId: string
  readonly id: string
  readonly createdBy: string | null
}

/** As of `storeOnce`, or the name of the constraint of the database that refused this row alone. */
export type StoredOrRefused = Stored | { readonly constraint: string }

/**
 * Stores many rows of one table by one statement, each under its own id: a row that is sent twice is stored once. Where
 * the database refuses, the statement is taken back and the rows are tried one by one, so that only the refused ones
 * are left out.
 */
export async function storeAll(
  tx: Tx,
  table: RecordTable,
  rows: readonly Sent[],
): Promise<ReadonlyMap<string, StoredOrRefused>> {
  if (rows.length === 0) return new Map()
  try {
    return await tx.transaction((inner) => storeTogether(inner, table, rows))
  } catch (error) {
    const constraint = constraintOf(error)
    const [only] = rows
    if (!constraint) throw error
    if (rows.length === 1 && only) return new Map([[only.id, { constraint }]])
    const stored = new Map<string, StoredOrRefused>()
    for (const row of rows) for (const [id, answer] of await storeAll(tx, table, [row])) stored.set(id, answer)
    return stored
  }
}

async function storeTogether(tx: Tx, table: RecordTable, rows: readonly Sent[]): Promise<Map<string, Stored>> {
  const plain: PgTable = table
  const made = await insertNew(tx, table, rows)
  const stored = new Map<string, Stored>(made.map((id) => [id, 'stored']))
  const others = rows.filter((row) => !stored.has(row.id))
  if (others.length === 0) return stored
  const [{ groupId } = { groupId: '' }] = others
  const ids = others.map((row) => row.id)
  const found = await tx
    .select()
    .from(plain)
    .where(and(eq(table.groupId, groupId), inArray(table.id, ids)))
  const standing = new Map(found.map((row) => [String(row.id), row]))
  for (const row of others) stored.set(row.id, sameAs(row, standing.get(row.id)) ? 'there' : 'another')
  return stored
}
