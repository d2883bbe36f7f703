import type { PgTransactionConfig } from 'drizzle-orm/pg-core'
import { drizzle } from 'drizzle-orm/node-postgres'
import { migrate } from 'drizzle-orm/node-postgres/migrator'
import pg from 'pg'
import { isAway } from './away.ts'
import type { Database, Tx } from './database.ts'

/** Chosen once, at random: the number of the lock under which one of several starting processes migrates. */
const migrationLock = 720_616_284

/** Opens a pool on a PostgreSQL server, 15 or later. */
export async function openServer(url: string): Promise<Database> {
  const pool = new pg.Pool({ connectionString: url, max: 10, connectionTimeoutMillis: 10_000 })
  // A connection that is lost while it rests is dropped by the pool; one that is lost between two statements has nobody
  // else who listens, and an error without a listener would end the process.
  pool.on('error', () => undefined)
  pool.on('connect', (client) => client.on('error', () => undefined))
  await pool.query('select 1')
  return {
    kind: 'server',
    drizzle: drizzle(pool) as unknown as Database['drizzle'],
    transaction: (work, mode) => inTransaction(pool, work, mode),
    migrate: (migrationsFolder) => migrateAlone(pool, migrationsFolder),
    close: () => pool.end(),
  }
}

/** On a connection that goes back to the pool whatever happens, also where not even "begin" went through. */
async function inTransaction<T>(pool: pg.Pool, work: (tx: Tx) => Promise<T>, mode?: PgTransactionConfig): Promise<T> {
  const client = await pool.connect()
  let lost = false
  try {
    return await drizzle(client).transaction((tx) => work(tx as unknown as Tx), mode)
  } catch (error) {
    lost = isAway(error)
    throw error
  } finally {
    client.release(lost)
  }
}

async function migrateAlone(pool: pg.Pool, migrationsFolder: string): Promise<void> {
  const client = await pool.connect()
  try {
    await client.query('select pg_advisory_lock($1)', [migrationLock])
    await migrate(drizzle(client), { migrationsFolder })
  } finally {
    // Ending the connection lets go of the lock, also after a migration that failed.
    client.release(true)
  }
}
