import { sql } from 'drizzle-orm'
import pg from 'pg'
import { addPerson } from '../../src/accounts/members.queries.ts'
import type { Database } from '../../src/db/database.ts'
import { openServer } from '../../src/db/server.ts'
import { copyDemo } from '../../src/demo/making.routes.ts'
import type { OwnPostgres } from '../process/postgres.ts'
import { largeGroup, password, tenYears } from './large-group.ts'

export interface Held {
  readonly rows: number
  /** With its indexes and what is kept beside it. */
  readonly bytes: number
}
export type ByTable = ReadonlyMap<string, Held>

export interface Grown {
  readonly rows: number
  readonly bytes: number
  readonly seasons: number
}

/** Rows and bytes of each table as they are now. */
export async function bytesOf(database: Database): Promise<ByTable> {
  await database.drizzle.execute(sql`vacuum analyze`)
  const { rows } = (await database.drizzle.execute(sql`select relname as name, reltuples::float8 as rows,
    pg_total_relation_size(oid)::float8 as bytes from pg_class
    where relkind = 'r' and relnamespace = 'public'::regnamespace`)) as unknown as {
    rows: { name: string; rows: number; bytes: number }[]
  }
  return new Map(rows.map(({ name, rows: counted, bytes }) => [name, { rows: Math.max(0, counted), bytes }]))
}

export function grownBy(before: ByTable, after: ByTable): Map<string, Held> {
  return new Map(
    [...after].map(([name, held]) => {
      const { rows, bytes } = before.get(name) ?? { rows: 0, bytes: 0 }
      return [name, { rows: held.rows - rows, bytes: held.bytes - bytes }]
    }),
  )
}

/** What other groups take, each in a database of its own: the example, and one of ten years. */
export async function sizesOf(postgres: OwnPostgres): Promise<Map<string, Grown>> {
  const example = async (database: Database) => {
    const personId = await addPerson(database, { name: 'Bo Fen', email: 'bo@example.org', password })
    await copyDemo(database, personId)
  }
  const large = async (database: Database) => void (await largeGroup(database, tenYears))
  return new Map([
    ['the example', { ...(await grown(postgres, 'example', example)), seasons: 4 }],
    ['90,000 entries in ten years', { ...(await grown(postgres, 'large', large)), seasons: tenYears.seasons }],
  ])
}

async function grown(postgres: OwnPostgres, name: string, make: (database: Database) => Promise<void>) {
  const client = new pg.Client({ connectionString: postgres.url })
  await client.connect()
  await client.query(`create database ${name}`)
  await client.end()
  const url = new URL(postgres.url)
  url.pathname = `/${name}`
  const database = await openServer(url.href)
  await database.migrate('migrations')
  const before = await bytesOf(database)
  await make(database)
  const all = [...grownBy(before, await bytesOf(database)).values()]
  await database.close()
  const sum = (of: 'rows' | 'bytes') => all.reduce((total, one) => total + one[of], 0)
  return { rows: sum('rows'), bytes: sum('bytes') }
}
