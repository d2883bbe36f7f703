import { sql } from 'drizzle-orm'
import { readMigrationFiles } from 'drizzle-orm/migrator'
import type { Tx } from './database.ts'

/** A database that a later release has written: this one would misread or spoil it. */
export class WrittenByLaterRelease extends Error {
  constructor() {
    super('the database was written by a later release than this one. Start that release, or a later one.')
  }
}

/** When the last migration of a folder was made: what a database that is up to date is at. */
export function lastMigration(folder: string): number {
  return Math.max(...readMigrationFiles({ migrationsFolder: folder }).map((one) => one.folderMillis))
}

/** Runs what is missing, in the table of drizzle's own migrator; within one transaction, so that it is all or nothing. */
export async function runMigrations(tx: Tx, folder: string): Promise<void> {
  await tx.execute(sql`create schema if not exists drizzle`)
  await tx.execute(sql`create table if not exists drizzle.__drizzle_migrations
    (id serial primary key, hash text not null, created_at bigint)`)
  const at = await migratedTo(tx)
  if (at > lastMigration(folder)) throw new WrittenByLaterRelease()
  for (const { folderMillis, hash, sql: statements } of readMigrationFiles({ migrationsFolder: folder })) {
    if (folderMillis <= at) continue
    for (const statement of statements) await tx.execute(sql.raw(statement))
    await tx.execute(sql`insert into drizzle.__drizzle_migrations (hash, created_at) values (${hash}, ${folderMillis})`)
  }
}

/** The last migration that the database has seen; 0 where none. */
export async function migratedTo(tx: Pick<Tx, 'execute'>): Promise<number> {
  const found = (await tx.execute(
    sql`select coalesce(max(created_at), 0)::text as at from drizzle.__drizzle_migrations`,
  )) as unknown as { rows: { at: string }[] }
  return Number(found.rows[0]?.at ?? 0)
}
