import { mkdirSync, readdirSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { keepBackup } from './backup.ts'
import type { Database } from './database.ts'
import type { EmbeddedDatabase } from './embedded.ts'
import { rowsRead } from './rows-read.ts'

const kept = 7
const msPerMinute = 60_000
const msPerHour = 60 * msPerMinute

/** The embedded engine has no autovacuum: without this, dead rows and its log stay for ever. */
export async function tidy({ engine }: EmbeddedDatabase): Promise<void> {
  await engine.exec('vacuum analyze')
  await engine.exec('checkpoint')
}

/**
 * After a great many rows at once. The embedded engine takes its tables for nearly empty until it looks at them anew,
 * and plans every question for that: of the example a week's ledger took eight times as long. A server looks by itself.
 */
export async function afterManyRows({ kind, drizzle }: Database): Promise<void> {
  if (kind !== 'embedded') return
  const named = sql`select format('%I', relname) as name from pg_class
    where relkind = 'r' and relnamespace = 'public'::regnamespace`
  // Without a name it looks at the engine's own tables too, which takes longer than all of these.
  const names = await rowsRead(drizzle, named, (row) => String(row.name))
  for (const name of names) {
    await drizzle.execute(sql.raw(`analyze ${name}`))
    // Whatever came meanwhile is answered before the next.
    await new Promise((done) => setImmediate(done))
  }
}

/**
 * Writes the day's backup, once a day, and keeps the last seven; the oldest goes only after the new one was opened.
 */
export async function backUp({ engine }: EmbeddedDatabase, folder: string, day: string): Promise<void> {
  mkdirSync(folder, { recursive: true })
  const name = `evenground-${day}.tar.gz`
  const backups = () => readdirSync(folder).filter((file) => /^evenground-\d{4}-\d{2}-\d{2}\.tar\.gz$/.test(file))
  if (backups().includes(name)) return
  const dump = await engine.dumpDataDir('gzip')
  await keepBackup(join(folder, name), Buffer.from(await dump.arrayBuffer()))
  // What bears a day to come is of a clock that was wrong, and goes before what was written since.
  const ahead = backups().filter((file) => file > name)
  const others = backups().filter((file) => file <= name)
  for (const old of [...ahead.sort(), ...others.sort()].slice(0, -kept)) rmSync(join(folder, old))
}

/** Keeps the database tidy, backed up and its files closed to others while the service runs. Returns the stop. */
export function keepUp(
  database: EmbeddedDatabase,
  backups: string,
  close: () => void,
  tell: (trouble: unknown) => void,
): () => void {
  const look = async () => {
    close()
    await backUp(database, backups, new Date().toISOString().slice(0, 10))
    await tidy(database)
  }
  // The service may end in the middle of a look: the next start makes up for it.
  return lookAgain(look, (trouble) => !database.engine.closed && tell(trouble))
}

/** Chosen once, at random: the number of the lock under which one of several processes keeps a database up. */
const upkeepLock = 392_118_657

/**
 * Does what one of all processes at a time may do with a database; nothing where another is at it. The lock is of a
 * transaction, as that of a start is (`server.ts`); what is done has transactions of its own. The embedded engine has
 * one process.
 */
export async function aloneAmongAll(database: Database, work: () => Promise<void>): Promise<void> {
  if (database.kind === 'embedded') return work()
  const tried = sql`select pg_try_advisory_xact_lock(${upkeepLock}::bigint) as taken`
  await database.transaction(async (tx) => {
    const taken = await rowsRead(tx, tried, (row) => row.taken === true)
    if (taken.every(Boolean)) await work()
  })
}

/**
 * Looks a minute after the start, since a machine may never run for an hour, and then every hour; what goes wrong is
 * told and tried again. Returns the stop.
 */
export function lookAgain(look: () => Promise<void>, tell: (trouble: unknown) => void): () => void {
  const lookOrTell = () => void look().catch(tell)
  const first = setTimeout(lookOrTell, msPerMinute)
  const timer = setInterval(lookOrTell, msPerHour)
  first.unref()
  timer.unref()
  return () => {
    clearTimeout(first)
    clearInterval(timer)
  }
}
