import { sql } from 'drizzle-orm'
import { drizzle, NodePgSession, NodePgTransaction } from 'drizzle-orm/node-postgres'
import { PgDialect } from 'drizzle-orm/pg-core'
import pg from 'pg'
import { firstOf } from '../lookups/nth.ts'
import { atOnce } from './at-once.ts'
import { isAway } from './away.ts'
import type { Around, Database, Tx } from './database.ts'
import { GatheringSocket } from './gathering-socket.ts'
import { runMigrations } from './migrating.ts'
import { OneTransaction } from './one-transaction.ts'
import { rowsRead } from './rows-read.ts'

/** Chosen once, at random: the number of the lock under which one of several starting processes migrates. */
const migrationLock = 720_616_284

/**
 * Opens a pool on a PostgreSQL server, 15 or later. Statements that are asked together go out one behind the other,
 * before the first is answered: where each waits for its answer, a sheet of a week waits 27 times. Not every pooler
 * takes that: without `pipeline` each waits.
 */
export async function openServer(url: string, { pipeline = true } = {}): Promise<Database> {
  const together = pipeline ? { pipeline, stream: () => new GatheringSocket() } : {}
  const pool = new pg.Pool({ connectionString: url, max: 10, connectionTimeoutMillis: 10_000, ...together })
  const database = databaseOver(pool)
  await pool.query('select 1')
  return database
}

/** A statement of a page that takes longer than this is asked of the primary in its place. */
const msOfStatement = 10_000

/** A pool on a server that may not be there, now or later: nothing is asked of it before somebody reads. */
export function openWithoutAsking(url: string, msToConnect: number): Database {
  const waits = { connectionTimeoutMillis: msToConnect, query_timeout: msOfStatement }
  return databaseOver(new pg.Pool({ connectionString: url, max: 10, ...waits }))
}

function databaseOver(pool: pg.Pool): Database {
  // A connection that is lost while it rests is dropped by the pool; one that is lost between two statements has nobody
  // else who listens, and an error without a listener would end the process.
  pool.on('error', () => undefined)
  pool.on('connect', (client) => client.on('error', () => undefined))
  return {
    kind: 'server',
    drizzle: drizzle(pool) as unknown as Database['drizzle'],
    transaction: (work, how) => inTransaction(pool, work, how),
    migrate: (folder, say = () => undefined) =>
      inTransaction(pool, async (tx) => {
        await alone(tx, say)
        await runMigrations(tx, folder)
      }),
    close: () => pool.end(),
  }
}

/** One for all: it remembers the columns of each table that it has met. */
const dialect = new PgDialect()

/** On a connection that goes back to the pool whatever happens, also where not even "begin" went through. */
async function inTransaction<T>(pool: pg.Pool, work: (tx: Tx) => Promise<T>, how: Around = {}): Promise<T> {
  const client = await pool.connect()
  const one = new OneTransaction(client, { together: pool.options.pipeline === true })
  const session = new NodePgSession(one.client, dialect, undefined)
  const tx = new NodePgTransaction(dialect, session, undefined) as unknown as Tx
  let lost = false
  try {
    // Sent at once, so that nothing comes before it: the first statement may be what binds the role.
    const begun = one.client.query(['begin', ...modeOf(how)].join(' '))
    await atOnce([begun, how.first && tx.execute(how.first)])
    const done = await work(tx)
    // What is asked last goes out first.
    await atOnce([how.last?.(tx), tx.execute(sql`commit`)])
    return done
  } catch (error) {
    lost = isAway(error)
    // What went wrong is told, and not that a connection which is gone takes nothing back.
    await one.takeBack().catch(() => {
      lost = true
    })
    throw error
  } finally {
    client.release(lost)
  }
}

const modeOf = ({ isolationLevel, accessMode }: Around) => [
  ...(isolationLevel ? [`isolation level ${isolationLevel}`] : []),
  ...(accessMode ? [accessMode] : []),
]

/**
 * The lock is of the transaction: one of the session would stay behind with a pooler that lends connections by
 * transaction, and every later start would wait for it in silence.
 */
async function alone(tx: Tx, say: (line: string) => void): Promise<void> {
  const tried = sql`select pg_try_advisory_xact_lock(${migrationLock}::bigint) as taken`
  if (firstOf(await rowsRead(tx, tried, ({ taken }) => taken === true))) return
  const holders = sql`select a.pid, a.usename, a.client_addr::text as address, a.state,
      to_char(a.backend_start at time zone 'UTC', 'YYYY-MM-DD HH24:MI') as since
    from pg_locks l join pg_stat_activity a on a.pid = l.pid
    where l.locktype = 'advisory' and l.database = (select oid from pg_database where datname = current_database())
      and l.objid = ${migrationLock} and l.granted`
  for (const { pid, usename, address, state, since } of await rowsRead(tx, holders, (row) => row)) {
    const from = `of ${usename} from ${address ?? 'this machine'}, ${state}, since ${since} UTC`
    say(`Waiting for another start that prepares the database: the connection with pid ${pid} (${from}).`)
  }
  await tx.execute(sql`select pg_advisory_xact_lock(${migrationLock}::bigint)`)
}
