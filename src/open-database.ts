import { existsSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import type { Database } from './db/database.ts'
import { openEmbedded } from './db/embedded.ts'
import { lockFolder } from './db/folder-lock.ts'
import { openServer } from './db/server.ts'
import { keepUp } from './db/upkeep.ts'
import type { Settings } from './settings.ts'

const say = (line: string) => process.stdout.write(`${line}\n`)

/** The server that the settings name, or the embedded engine with its folder locked; ends the process where it is in use. */
export async function openDatabase(
  settings: Settings,
  root: string,
): Promise<{ database: Database; release: () => void }> {
  if (settings.databaseUrl) return { database: await openServer(settings.databaseUrl), release: () => undefined }
  const lock = lockFolder(settings.dataFolder)
  if (lock.kind === 'refused') {
    process.stderr.write(`The folder ${settings.dataFolder} is in use by the process ${lock.owner}.\n`)
    process.stderr.write('Stop that process, or set EVENGROUND_DATA to another folder.\n')
    process.exit(2)
  }
  const folder = join(settings.dataFolder, 'database')
  if (!existsSync(folder)) await prepare(folder, root)
  const database = await openEmbedded(folder)
  const stop = keepUp(database, join(settings.dataFolder, 'backups'), (trouble) => say(`Upkeep failed: ${trouble}`))
  const release = () => {
    stop()
    lock.release()
  }
  return { database, release }
}

/** A folder that was being prepared when the process was killed is made anew: only a whole one gets its name. */
async function prepare(folder: string, root: string): Promise<void> {
  say('Preparing the database for the first time; this takes some seconds.')
  const unfinished = `${folder}.unfinished`
  rmSync(unfinished, { recursive: true, force: true })
  const database = await openEmbedded(unfinished)
  await database.migrate(join(root, 'migrations'))
  await database.close()
  renameSync(unfinished, folder)
}
