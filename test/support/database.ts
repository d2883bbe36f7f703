import { readFileSync } from 'node:fs'
import pg from 'pg'
import { inject } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { newId } from '../../src/db/new-id.ts'
import { openServer } from '../../src/db/server.ts'

const server = process.env.TEST_DATABASE_URL

/** A migrated, empty database of its own: in memory, or on the server that TEST_DATABASE_URL names; gone when closed. */
export async function openTestDatabase(): Promise<Database> {
  if (!server) {
    return openEmbedded(null, new Blob([readFileSync(inject('template'))]))
  }
  const name = `evenground_test_${newId().replaceAll('-', '')}`
  await onServer(`create database ${name}`)
  const url = new URL(server)
  url.pathname = `/${name}`
  const database = await openServer(url.href)
  await database.migrate('migrations')
  return {
    ...database,
    close: async () => {
      await database.close()
      await onServer(`drop database ${name} with (force)`)
    },
  }
}

async function onServer(statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: server })
  await client.connect()
  await client.query(statement)
  await client.end()
}
