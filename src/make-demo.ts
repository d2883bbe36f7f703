import { join } from 'node:path'
import { makeDemo } from './demo/making.routes.ts'
import { openDatabase } from './open-database.ts'
import { readSettings } from './settings.ts'

const root = join(import.meta.dirname, '..')
const read = readSettings()
if (read.kind === 'refused') {
  process.stderr.write(`A setting is not right:\n${read.sentences.join('\n')}\n`)
  process.exit(2)
}
const { database, release } = await openDatabase(read.settings, root)
await database.migrate(join(root, 'migrations'))
const slug = await makeDemo(database, read.settings.demoDay)
await database.close()
release()
process.stdout.write(
  `The demo group stands at http://${read.settings.host}:${read.settings.port}/g/${slug}; start the service to ` +
    'see it.\n',
)
