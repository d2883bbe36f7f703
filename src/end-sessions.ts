import { join } from 'node:path'
import { endSessionsOf } from './accounts/sessions.queries.ts'
import { openDatabase } from './open-database.ts'
import { readSettings } from './settings.ts'

const root = join(import.meta.dirname, '..')
const read = readSettings()
const whose = process.argv[2]?.trim().toLowerCase()

function refuse(sentence: string): never {
  process.stderr.write(`${sentence}\n`)
  process.exit(2)
}

if (read.kind === 'refused') refuse(`A setting is not right:\n${read.sentences.join('\n')}`)
if (!whose) refuse('Name the address of the account, or all: npm run end-sessions -- name@example.org | --everybody')
const { database, release } = await openDatabase(read.settings, root)
await database.migrate(join(root, 'migrations'))
const ended = await endSessionsOf(database, whose === '--everybody' ? null : whose)
await database.close()
release()
if (ended === null) refuse(`No account has the address ${whose}.`)
process.stdout.write(`Sessions that have ended: ${ended}. Whoever was signed in signs in again.\n`)
