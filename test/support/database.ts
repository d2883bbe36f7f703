import { readFileSync } from 'node:fs'
import { inject } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { newId } from '../../src/db/new-id.ts'
import { openServer } from '../../src/db/server.ts'
import { onServer } from './server.ts'

const server = process.env.TEST_DATABASE_URL

/** A migrated, empty database of its own: in memory, or on the server that TEST_DATABASE_URL names; gone when closed. */
export async function openTestDatabase(): Promise<Database> {
  if (!server) {
    return openEmbedded(null, new Blob([readFileSync(inject('template'))]))
  }
  return openCreated(server, ` template ${inject('template')}`)
}

/** An empty database in which no migration was run. */
export async function openBareDatabase(): Promise<Database> {
  return server ? openCreated(server) : openEmbedded(null)
}

async function openCreated(server: string, from = ''): Promise<Database> {
  const name = `evenground_test_${newId().replaceAll('-', '')}`
  await onServer(server, `create database ${name}${from}`)
  const url = new URL(server)
  url.pathname = `/${name}`
  const database = await openServer(url.href)
  return {
    ...database,
    close: async () => {
      await database.close()
      await onServer(server, `drop database ${name} with (force)`)
    },
  }
}
