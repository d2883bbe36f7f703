import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { type Held, heldIn, restoreFolder } from './db/backup.ts'
import { lockFolder } from './db/folder-lock.ts'
import { openServer } from './db/server.ts'
import { isEmpty, makeRoles, restoreServer } from './db/server-tools.ts'
import { inherited, readSettings } from './settings.ts'

const root = join(import.meta.dirname, '..')

function refuse(sentence: string): never {
  process.stderr.write(`${sentence}\n`)
  process.exit(2)
}

const told = ({ groups, people, changes }: Held) => `groups ${groups}, people ${people}, changes ${changes}`

async function intoFolder(file: string, folder: string): Promise<void> {
  process.umask(0o077)
  const lock = await lockFolder(folder)
  if (lock.kind === 'refused')
    refuse(`The folder ${folder} is in use by ${lock.owner ?? 'a process that does not answer'}. Stop it first.`)
  const { held, aside } = await restoreFolder(file, folder, new Date())
  lock.release()
  process.stdout.write(`${join(folder, 'database')} holds ${file}: ${told(held)}.\n`)
  if (aside !== null) process.stdout.write(`What stood there before is kept as ${aside}.\n`)
}

async function intoServer(file: string, url: string): Promise<void> {
  const database = await openServer(url, { pipeline: false })
  if (!(await isEmpty(database)))
    refuse('That database is not empty. Make a new one, name it in DATABASE_URL and restore into that.')
  await makeRoles(database, join(root, 'migrations'))
  await restoreServer({ url, env: inherited() }, file)
  process.stdout.write(`The database holds ${file}: ${told(await heldIn(database))}.\n`)
  await database.close()
}

const read = readSettings()
const [file] = process.argv.slice(2)
if (read.kind === 'refused') refuse(`A setting is not right:\n${read.sentences.join('\n')}`)
if (file === undefined || !existsSync(file))
  refuse('Name a backup that is there: npm run restore -- /somewhere/evenground.backup')
const { databaseUrl, dataFolder } = read.settings
try {
  await (databaseUrl ? intoServer(file, databaseUrl) : intoFolder(file, dataFolder))
  process.exit(0)
} catch (error) {
  refuse(`Nothing was restored: ${error instanceof Error ? error.message : String(error)}`)
}
