import { existsSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { offerBackups } from './db/backup.ts'
import type { Database } from './db/database.ts'
import { type EmbeddedDatabase, openEmbedded } from './db/embedded.ts'
import { lockFolder } from './db/folder-lock.ts'
import { keepFolderPrivate, keepPrivate } from './db/private-files.ts'
import { openServer } from './db/server.ts'
import { keepUp } from './db/upkeep.ts'
import type { Settings } from './settings.ts'

const say = (line: string) => process.stdout.write(`${line}\n`)

/**
 * The server that the settings name, or the embedded engine with its folder locked; ends the process where it is in
 * use.
 */
export async function openDatabase(
  settings: Settings,
  root: string,
): Promise<{ database: Database; release: () => void }> {
  if (settings.databaseUrl)
    return { database: await openServer(settings.databaseUrl, settings), release: () => undefined }
  return openFolder(settings, root)
}

/** The embedded engine on its folder, which is this process's alone until it is released. */
export async function openFolder(
  settings: Settings,
  root: string,
): Promise<{ database: EmbeddedDatabase; release: () => void }> {
  process.umask(0o077)
  const lock = await lockFolder(settings.dataFolder)
  if (lock.kind === 'refused') {
    process.stderr.write(
      `The folder ${settings.dataFolder} is in use by ${lock.owner ?? 'a process that does not answer'}.\n`,
    )
    process.stderr.write('Stop that process, or set EVENGROUND_DATA to another folder.\n')
    process.exit(2)
  }
  const [folder, backups] = [join(settings.dataFolder, 'database'), join(settings.dataFolder, 'backups')]
  // The engine sets its own modes on what it makes: at a start, and later while it runs, behind a folder that is
  // closed.
  const close = () => {
    for (const made of [folder, backups]) keepPrivate(made)
  }
  keepFolderPrivate(settings.dataFolder)
  close()
  const database = await openOrPrepare(folder, root)
  close()
  const offered = offerBackups(settings.dataFolder, database)
  const stop = keepUp(database, backups, close, (trouble) => say(`Upkeep failed: ${trouble}`))
  const release = () => {
    stop()
    offered()
    lock.release()
  }
  return { database, release }
}

/** What was answered is on the disk and is found at the next start; what was not answered is not. */
function onPanic({ message }: Error): void {
  process.stderr.write(`The built-in database cannot go on: ${message}.\n`)
  process.stderr.write('Look at the disk and start the service again: what was answered as saved is there.\n')
  process.exit(1)
}

/**
 * A folder whose preparation was cut off by a kill still has its mark beside it: it holds nothing yet and is made anew.
 */
async function openOrPrepare(folder: string, root: string): Promise<EmbeddedDatabase> {
  const unfinished = `${folder}.unfinished`
  if (existsSync(unfinished)) rmSync(folder, { recursive: true, force: true })
  if (existsSync(folder)) return openEmbedded(folder, { onPanic })
  say('Preparing the database for the first time; this takes some seconds.')
  writeFileSync(unfinished, '')
  const database = await openEmbedded(folder, { onPanic })
  await database.migrate(join(root, 'migrations'))
  rmSync(unfinished)
  return database
}
