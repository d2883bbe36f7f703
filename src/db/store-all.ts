import { and, eq, inArray, type SQL, sql } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import type { RecordTable } from './amend.ts'
import { atOnce } from './at-once.ts'
import { constraintOf } from './constraint.ts'
import type { Tx } from './database.ts'
import { newIdsIn, newOf } from './insert-all.ts'
import { type Stored, sameAs } from './store-once.ts'

interface Sent {
  readonly groupId: string
  readonly id: string
  readonly createdBy: string | null
}

interface Rows {
  readonly table: RecordTable
  readonly rows: readonly Sent[]
}

/** As of `storeOnce`, or the name of the constraint of the database that refused this row alone. */
export type StoredOrRefused = Stored | { readonly constraint: string }

/**
 * Stores many rows of some tables by one statement, each under its own id: a row that is sent twice is stored once.
 * Where the database refuses, the statement is taken back and tried again table by table, and row by row in the one
 * that it refuses, so that only the refused ones are left out.
 */
export async function storeAll(tx: Tx, sets: readonly Rows[]): Promise<ReadonlyMap<string, StoredOrRefused>> {
  const filled = sets.filter(({ rows }) => rows.length > 0)
  const [one, ...others] = filled
  if (one === undefined) return new Map()
  try {
    return await storeTogether(tx, filled)
  } catch (error) {
    const constraint = constraintOf(error)
    if (!constraint) throw error
    const [only, ...more] = one.rows
    if (only && others.length + more.length === 0) return new Map([[only.id, { constraint }]])
    const parts = others.length > 0 ? filled : one.rows.map((row) => ({ table: one.table, rows: [row] }))
    const stored = new Map<string, StoredOrRefused>()
    for (const part of parts) for (const [id, answer] of await storeAll(tx, [part])) stored.set(id, answer)
    return stored
  }
}

async function storeTogether(tx: Tx, sets: readonly Rows[]): Promise<Map<string, Stored>> {
  const made = newIdsIn(await orTakenBack(tx, newOf(sets)), sets.length)
  const stored = new Map<string, Stored>()
  for (const [i, { table, rows }] of sets.entries()) {
    const ids = made[i] ?? new Set()
    const others = rows.filter((row) => !ids.has(row.id))
    const standing = await standingUnder(tx, table, others)
    for (const { id } of rows) stored.set(id, 'stored')
    for (const row of others) stored.set(row.id, sameAs(row, standing.get(row.id)) ? 'there' : 'another')
  }
  return stored
}

/** What a statement answers; where it fails, it is as if it had not been asked. All goes to a server at once. */
async function orTakenBack(tx: Tx, statement: SQL): Promise<unknown> {
  try {
    const [, answer] = await atOnce([
      tx.execute(sql`savepoint storing`),
      tx.execute(statement),
      tx.execute(sql`release savepoint storing`),
    ])
    return answer
  } catch (error) {
    await tx.execute(sql`rollback to savepoint storing`)
    throw error
  }
}

async function standingUnder(tx: Tx, table: RecordTable, rows: readonly Sent[]) {
  const [first] = rows
  if (first === undefined) return new Map<string, Readonly<Record<string, unknown>>>()
  const plain: PgTable = table
  const ids = rows.map((row) => row.id)
  const found = await tx
    .select()
    .from(plain)
    .where(and(eq(table.groupId, first.groupId), inArray(table.id, ids)))
  return new Map(found.map((row) => [String(row.id), row]))
}
