import { readFileSync } from 'node:fs'
import { join } from 'node:path'

/** The version of the service that is running, as package.json says it. */
export const serviceVersion: string = (
  JSON.parse(readFileSync(join(import.meta.dirname, '..', '..', 'package.json'), 'utf8')) as { version: string }
).version
