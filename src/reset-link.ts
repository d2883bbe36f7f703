import { join } from 'node:path'
import { addReset } from './accounts/resets.queries.ts'
import { openDatabase } from './open-database.ts'
import { readSettings } from './settings.ts'

const root = join(import.meta.dirname, '..')
const read = readSettings()
const address = process.argv[2]?.trim().toLowerCase()

function refuse(sentence: string): never {
  process.stderr.write(`${sentence}\n`)
  process.exit(2)
}

if (read.kind === 'refused') refuse(`A setting is not right:\n${read.sentences.join('\n')}`)
if (!address) refuse('Name the address of the account: npm run reset-link -- name@example.org')
const { database, release } = await openDatabase(read.settings, root)
await database.migrate(join(root, 'migrations'))
const withoutCodes = process.argv.includes('--without-codes')
const withoutPasskeys = process.argv.includes('--without-passkeys')
const token = await addReset(database, address, { withoutCodes, withoutPasskeys })
await database.close()
release()
if (!token) refuse(`No account has the address ${address}.`)
const { host, port } = read.settings
process.stdout.write(`This link lets ${address} choose another password, once and within an hour; then all sessions end.
http://${host}:${port}/reset/${token}
Put the address by which people reach the service in place of http://${host}:${port} where it is another.
`)
