import { readFileSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:net'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { firstOf } from '../lookups/nth.ts'
import { askedFrom, socketAddress } from './asked-from.ts'
import type { Database } from './database.ts'
import { type EmbeddedDatabase, openEmbedded } from './embedded.ts'
import { rowsRead } from './rows-read.ts'

/** What a database holds, as it is said of a backup. */
export interface Held {
  readonly groups: number
  readonly people: number
  /** Entries of the history of all groups. */
  readonly changes: number
}

export async function heldIn({ drizzle }: Pick<Database, 'drizzle'>): Promise<Held> {
  const counted = sql`select (select count(*) from groups)::int as groups, (select count(*) from people)::int as people,
    (select count(*) from changes)::int as changes`
  return firstOf(
    await rowsRead(drizzle, counted, (row) => ({
      groups: Number(row.groups),
      people: Number(row.people),
      changes: Number(row.changes),
    })),
  )
}

const door = 'backup-door'

/**
 * While the service runs it alone may open its folder, so whoever wants a backup asks it: on a socket within the
 * folder, which is the owner's alone. Each who connects is sent the whole database of one moment. Returns the stop.
 */
export function offerBackups(folder: string, { engine }: EmbeddedDatabase): () => void {
  const path = join(folder, door)
  rmSync(path, { force: true })
  const server = createServer((asking) => {
    asking.on('error', () => undefined)
    engine
      .dumpDataDir('gzip')
      .then(async (dump) => asking.end(Buffer.from(await dump.arrayBuffer())))
      .catch(() => asking.destroy())
  })
  server.on('error', () => undefined)
  server.listen(socketAddress(path))
  server.unref()
  return () => {
    server.close()
    rmSync(path, { force: true })
  }
}

/** The backup that the service makes which runs on a folder; null where none runs. */
export async function backupFromRunning(folder: string): Promise<Buffer | null> {
  const sent = await askedFrom(join(folder, door))
  if (sent !== null && sent.length === 0) throw new Error('the running service could not make a backup')
  return sent
}

/**
 * Keeps a backup under its name once it was opened, and says what it holds. It is written beside and then renamed, so
 * that neither a kill nor a backup that cannot be opened takes the place of one that can.
 */
export async function keepBackup(file: string, dump: Buffer): Promise<Held> {
  writeFileSync(`${file}.part`, dump, { mode: 0o600 })
  const held = await openedAs(null, `${file}.part`)
  renameSync(`${file}.part`, file)
  return held
}

/**
 * Opens a backup of the embedded engine, in a folder that is made for it or in memory, and says what it holds. Throws
 * where it cannot be opened.
 */
async function openedAs(folder: string | null, file: string): Promise<Held> {
  const database = await openEmbedded(folder, { template: new Blob([readFileSync(file)]) })
  try {
    return await heldIn(database)
  } finally {
    await database.close()
  }
}

/**
 * Puts a backup in the place of a folder's database, which is set aside under another name and not deleted; returns
 * that name, or null where there was none. It is opened beside it first: one that cannot be changes nothing.
 */
export async function restoreFolder(
  file: string,
  folder: string,
  now: Date,
): Promise<{ held: Held; aside: string | null }> {
  const [database, fresh] = [join(folder, 'database'), join(folder, 'database.restoring')]
  rmSync(fresh, { recursive: true, force: true })
  const held = await openedAs(fresh, file).catch((error: unknown) => {
    rmSync(fresh, { recursive: true, force: true })
    throw error
  })
  const stands = statSync(database, { throwIfNoEntry: false }) !== undefined
  const aside = stands ? `${database}.before-${now.toISOString().replace(/[:.]/g, '-')}` : null
  if (aside !== null) renameSync(database, aside)
  renameSync(fresh, database)
  return { held, aside }
}
