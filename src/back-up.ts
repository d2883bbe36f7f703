import { existsSync, renameSync, statSync } from 'node:fs'
import { join } from 'node:path'
import { backupFromRunning, type Held, heldIn, keepBackup } from './db/backup.ts'
import { openServer } from './db/server.ts'
import { dumpServer } from './db/server-tools.ts'
import { openFolder } from './open-database.ts'
import { inherited, readSettings, type Settings } from './settings.ts'

const root = join(import.meta.dirname, '..')

function refuse(sentence: string): never {
  process.stderr.write(`${sentence}\n`)
  process.exit(2)
}

/** Of the running service where there is one: it alone may open its folder. */
async function dumpOf(settings: Settings): Promise<Buffer> {
  const running = await backupFromRunning(settings.dataFolder)
  if (running !== null) return running
  const { database, release } = await openFolder(settings, root)
  const dump = await database.engine.dumpDataDir('gzip')
  await database.close()
  release()
  return Buffer.from(await dump.arrayBuffer())
}

/** Read to its end; what the database held is asked beside, and may be a little later. */
async function ofServer(url: string, file: string): Promise<Held> {
  await dumpServer({ url, env: inherited() }, `${file}.part`)
  renameSync(`${file}.part`, file)
  const database = await openServer(url, { pipeline: false })
  const held = await heldIn(database)
  await database.close()
  return held
}

const read = readSettings()
const [file] = process.argv.slice(2)
if (read.kind === 'refused') refuse(`A setting is not right:\n${read.sentences.join('\n')}`)
if (file === undefined) refuse('Name the file: npm run backup -- /somewhere/else/evenground.backup')
if (existsSync(file)) refuse(`${file} is there already. Name another file: a backup is never written over.`)
const { databaseUrl } = read.settings
try {
  const held = databaseUrl ? await ofServer(databaseUrl, file) : await keepBackup(file, await dumpOf(read.settings))
  const { groups, people, changes } = held
  const [checked, at] = databaseUrl ? ['read to its end', 'the database has'] : ['opened', 'it has']
  const has = `groups ${groups}, people ${people}, changes ${changes}`
  process.stdout.write(`${file}: ${statSync(file).size} bytes, ${checked}; ${at} ${has}.\n`)
  process.exit(0)
} catch (error) {
  refuse(`No backup was made: ${error instanceof Error ? error.message : String(error)}`)
}
