import { existsSync, renameSync, rmSync } from 'node:fs'
import { join } from 'node:path'
import { buildApp } from './app.ts'
import type { Database } from './db/database.ts'
import { openEmbedded } from './db/embedded.ts'
import { lockFolder } from './db/folder-lock.ts'
import { openServer } from './db/server.ts'
import { keepUp } from './db/upkeep.ts'
import { readSettings, type Settings } from './settings.ts'

const root = join(import.meta.dirname, '..')
const say = (line: string) => process.stdout.write(`${line}\n`)

function refuseToStart(sentences: string[]): never {
  process.stderr.write(`${sentences.join('\n')}\n`)
  process.exit(2)
}

async function openDatabase(settings: Settings): Promise<{ database: Database; release: () => void }> {
  if (settings.databaseUrl) return { database: await openServer(settings.databaseUrl), release: () => undefined }
  const lock = lockFolder(settings.dataFolder)
  if (lock.kind === 'refused') {
    refuseToStart([
      `The folder ${settings.dataFolder} is in use by the process ${lock.owner}.`,
      'Stop that process, or set EVENGROUND_DATA to another folder.',
    ])
  }
  const folder = join(settings.dataFolder, 'database')
  if (!existsSync(folder)) await prepare(folder)
  const database = await openEmbedded(folder)
  const stop = keepUp(database, join(settings.dataFolder, 'backups'), (trouble) => say(`Upkeep failed: ${trouble}`))
  const release = () => {
    stop()
    lock.release()
  }
  return { database, release }
}

/** A folder that was being prepared when the process was killed is made anew: only a whole one gets its name. */
async function prepare(folder: string): Promise<void> {
  say('Preparing the database for the first time; this takes some seconds.')
  const unfinished = `${folder}.unfinished`
  rmSync(unfinished, { recursive: true, force: true })
  const database = await openEmbedded(unfinished)
  await database.migrate(join(root, 'migrations'))
  await database.close()
  renameSync(unfinished, folder)
}

async function start(settings: Settings): Promise<void> {
  const { database, release } = await openDatabase(settings)
  await database.migrate(join(root, 'migrations'))
  const app = await buildApp({ ...settings, database, root, logs: true })
  let stopping = false
  const stop = async () => {
    if (stopping) return
    stopping = true
    // What is in flight is answered first; a kept-alive connection is closed as soon as it has its answer.
    const idle = setInterval(() => app.server.closeIdleConnections(), 50)
    await app.close()
    clearInterval(idle)
    await database.close()
    release()
    process.exit(0)
  }
  for (const signal of ['SIGTERM', 'SIGINT'] as const) process.on(signal, () => void stop())
  say(`Evenground is ready: ${await app.listen({ host: settings.host, port: settings.port })}`)
}

const read = readSettings()
if (read.kind === 'refused') refuseToStart(['A setting is not right:', ...read.sentences])
await start(read.settings).catch((error: unknown) => {
  refuseToStart([`Evenground could not start: ${error instanceof Error ? error.message : String(error)}`])
})
