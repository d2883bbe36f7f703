import { drizzle } from 'drizzle-orm/node-postgres'
import { migrate } from 'drizzle-orm/node-postgres/migrator'
import pg from 'pg'
import type { Database } from './database.ts'

/** Chosen once, at random: the number of the lock under which one of several starting processes migrates. */
const migrationLock = 720_616_284

/** Opens a pool on a PostgreSQL server, 15 or later. */
export async function openServer(url: string): Promise<Database> {
  const pool = new pg.Pool({ connectionString: url, max: 10, connectionTimeoutMillis: 10_000 })
  pool.on('error', () => undefined)
  await pool.query('select 1')
  return {
    kind: 'server',
    drizzle: drizzle(pool) as unknown as Database['drizzle'],
    migrate: (migrationsFolder) => migrateAlone(pool, migrationsFolder),
    close: () => pool.end(),
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
