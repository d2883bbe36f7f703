import { sql } from 'drizzle-orm'
import { type MigrationMeta, readMigrationFiles } from 'drizzle-orm/migrator'
import { firstOf } from '../lookups/nth.ts'
import type { Tx } from './database.ts'
import { rowsRead } from './rows-read.ts'

/** A database that a later release has written: this one would misread or spoil it. */
class WrittenByLaterRelease extends Error {
  constructor() {
    super('the database was written by a later release than this one. Start that release, or a later one.')
  }
}

/** A database that stands before the last migration of 0.1, whose steps are no longer carried. */
class WrittenByEarlierRelease extends Error {
  constructor() {
    super(
      'the database was written before the last version of release 0.1. Start that version on it once, then this one.',
    )
  }
}

/** The last migration of release 0.1: what it led to is what the first ones of 0.2 make, table for table. */
export const lastOf01 = {
  at: 1795890649286,
  hash: 'f758416fc5f9837661979d64fd2a467e7fcfeee0e278ebafa4337c3447bc6512',
} as const

/** The migrations of 0.2 that say in one what those of 0.1 said in 24. */
const sameAs01 = 2

/** When the last migration of a folder was made: what a database that is up to date is at. */
export function lastMigration(folder: string): number {
  return Math.max(...readMigrationFiles({ migrationsFolder: folder }).map((one) => one.folderMillis))
}

/**
 * Runs what is missing, in the table of drizzle's own migrator; within one transaction, so that it is all or nothing.
 */
export async function runMigrations(tx: Tx, folder: string): Promise<void> {
  await tx.execute(sql`create schema if not exists drizzle`)
  await tx.execute(sql`create table if not exists drizzle.__drizzle_migrations
    (id serial primary key, hash text not null, created_at bigint)`)
  const at = await migratedTo(tx)
  if (at > lastMigration(folder)) throw new WrittenByLaterRelease()
  const known = readMigrationFiles({ migrationsFolder: folder })
  const stamped =
    at > 0 && at < Number(known[0]?.folderMillis) ? await stampFrom01(tx, at, known.slice(0, sameAs01)) : at
  for (const { folderMillis, hash, sql: statements } of known) {
    if (folderMillis <= stamped) continue
    for (const statement of statements) await tx.execute(sql.raw(statement))
    await noteDown(tx, hash, folderMillis)
  }
}

/** Of a database at the end of 0.1 it is noted down that the first migrations are in it; none of them is run. */
async function stampFrom01(tx: Tx, at: number, same: readonly MigrationMeta[]): Promise<number> {
  const hashes = await rowsRead(
    tx,
    sql`select hash from drizzle.__drizzle_migrations where created_at = ${lastOf01.at}`,
    ({ hash }) => hash,
  )
  if (at !== lastOf01.at || hashes[0] !== lastOf01.hash) throw new WrittenByEarlierRelease()
  for (const { hash, folderMillis } of same) await noteDown(tx, hash, folderMillis)
  return Number(same.at(-1)?.folderMillis)
}

const noteDown = (tx: Tx, hash: string, at: number) =>
  tx.execute(sql`insert into drizzle.__drizzle_migrations (hash, created_at) values (${hash}, ${at})`)

/** The last migration that the database has seen; 0 where none. */
export async function migratedTo(tx: Pick<Tx, 'execute'>): Promise<number> {
  const last = sql`select coalesce(max(created_at), 0)::text as at from drizzle.__drizzle_migrations`
  return firstOf(await rowsRead(tx, last, ({ at }) => Number(at)))
}
