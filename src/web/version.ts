import { existsSync, readFileSync } from 'node:fs'
import { join } from 'node:path'

// Built, all of the source lies in one folder beside package.json; as it is written, this lies one deeper.
const above = join(import.meta.dirname, '..')
const root = existsSync(join(above, 'package.json')) ? above : join(above, '..')

/** The version of the service that is running, as package.json says it. */
export const serviceVersion: string = (
  JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }
).version
