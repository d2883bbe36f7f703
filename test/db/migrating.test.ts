import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { readMigrationFiles } from 'drizzle-orm/migrator'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { lastMigration, lastOf01 } from '../../src/db/migrating.ts'
import { openServer } from '../../src/db/server.ts'
import { openPlace, type Place } from '../support/app.ts'
import { openBareDatabase } from '../support/database.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const rows = async (query: ReturnType<typeof sql>) =>
  ((await place.database.drizzle.execute(query)) as unknown as { rows: unknown[] }).rows
const at = sql`drizzle.__drizzle_migrations`

it('a database up to date is ready, and being migrated again changes nothing', async () => {
  const before = await rows(sql`select count(*)::int as n from ${at}`)
  await place.database.migrate('migrations')
  expect(await rows(sql`select count(*)::int as n from ${at}`)).toEqual(before)
  const ready = await place.guest().get('/ready')
  expect([ready.status, JSON.parse(ready.text)]).toEqual([200, { ready: true }])
})

it('an older release refuses a database that a later one has written, and is not ready on it', async () => {
  const later = lastMigration('migrations') + 1
  await place.database.drizzle.execute(sql`insert into ${at} (hash, created_at) values ('of later', ${later})`)
  await expect(place.database.migrate('migrations')).rejects.toThrow('written by a later release')
  const ready = await place.guest().get('/ready')
  expect([ready.status, JSON.parse(ready.text)]).toEqual([503, { ready: false, why: 'schema' }])
  expect((await place.guest().get('/health')).status).toBe(200)
  await place.database.drizzle.execute(sql`delete from ${at} where hash = 'of later'`)
})

it('the process that lives is healthy without a database, and says that it is not ready', async () => {
  const { transaction } = place.database
  const lost = () => Promise.reject(new Error('Connection terminated unexpectedly'))
  Object.assign(place.database, { transaction: lost })
  const visitor = place.guest()
  try {
    expect((await visitor.get('/health')).status).toBe(200)
    expect(JSON.parse((await visitor.get('/ready')).text)).toEqual({ ready: false, why: 'database' })
  } finally {
    Object.assign(place.database, { transaction })
  }
})

it('a migration that fails leaves the database as it was', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-migrations-'))
  cpSync('migrations', folder, { recursive: true })
  const journal = join(folder, 'meta', '_journal.json')
  const known = JSON.parse(readFileSync(journal, 'utf8')) as { entries: object[] }
  const when = lastMigration('migrations') + 1
  known.entries.push({ idx: 99, version: '7', when, tag: '9999_fails', breakpoints: true })
  writeFileSync(journal, JSON.stringify(known))
  writeFileSync(join(folder, '9999_fails.sql'), 'create table half ();\n--> statement-breakpoint\nselect 1/0;')
  await expect(place.database.migrate(folder)).rejects.toThrow()
  expect(await rows(sql`select to_regclass('public.half') is null as gone`)).toEqual([{ gone: true }])
  rmSync(folder, { recursive: true })
})

/** The first two migrations alone: where release 0.1 had come to. */
function migrationsOf02(): string {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-migrations-'))
  cpSync('migrations', folder, { recursive: true })
  const journal = join(folder, 'meta', '_journal.json')
  const known = JSON.parse(readFileSync(journal, 'utf8')) as { entries: object[] }
  writeFileSync(journal, JSON.stringify({ ...known, entries: known.entries.slice(0, 2) }))
  return folder
}

/** One database without a table, which these leave so until the last migrates it: to make one takes seconds. */
let bareOne: Promise<Database> | null = null
const bare = () => (bareOne ??= openBareDatabase())
afterAll(async () => (await bareOne)?.close())

it.each([
  ['an earlier one', lastOf01.hash, lastOf01.at - 1],
  ['one of somebody else at the same moment', 'another', lastOf01.at],
])('a database before the end of 0.1 is refused with the way, and left as it was: %s', async (_, hash, when) => {
  const database = await bare()
  try {
    await database.drizzle.execute(sql`create schema drizzle`)
    await database.drizzle.execute(
      sql`create table ${at} (id serial primary key, hash text not null, created_at bigint)`,
    )
    await database.drizzle.execute(sql`insert into ${at} (hash, created_at) values (${hash}, ${when})`)
    await expect(database.migrate('migrations')).rejects.toThrow('Start that version on it once, then this one')
    const { rows: stands } = (await database.drizzle.execute(
      sql`select count(*)::int as noted, to_regclass('public.groups') is null as bare from ${at}`,
    )) as unknown as { rows: unknown[] }
    expect(stands).toEqual([{ noted: 1, bare: true }])
  } finally {
    await database.drizzle.execute(sql`drop schema drizzle cascade`)
  }
})

it('a database at the end of 0.1 is recognised and only stamped; what came later is run on it', async () => {
  const folder = migrationsOf02()
  const database = await bare()
  try {
    await database.migrate(folder)
    const noted = async () =>
      ((await database.drizzle.execute(sql`select hash from ${at} order by id`)) as unknown as { rows: unknown[] }).rows
    const of02 = await noted()
    expect(of02.length).toBe(2)
    await database.drizzle.execute(sql`truncate ${at}`)
    await database.drizzle.execute(sql`insert into ${at} (hash, created_at) values (${lastOf01.hash}, ${lastOf01.at})`)
    // Run again, "create table" would fail.
    await database.migrate(folder)
    expect(await noted()).toEqual([{ hash: lastOf01.hash }, ...of02])
    await database.migrate('migrations')
    expect((await noted()).length).toBe(1 + readMigrationFiles({ migrationsFolder: 'migrations' }).length)
  } finally {
    rmSync(folder, { recursive: true })
  }
})

// Only a server has several who start at a time.
it.skipIf(!process.env.TEST_DATABASE_URL)('a start that has to wait says for whom, and goes on after', async () => {
  const said: string[] = []
  let letGo = () => undefined as unknown
  let holds = () => undefined as unknown
  const held = new Promise((resolve) => {
    holds = () => resolve(null)
  })
  const holding = place.database.transaction(async (tx) => {
    await tx.execute(sql`select pg_advisory_xact_lock(720616284::bigint)`)
    holds()
    await new Promise((resolve) => {
      letGo = () => resolve(null)
    })
  })
  await held
  let [done] = [false]
  const waiting = place.database
    .migrate('migrations', (line) => {
      said.push(line)
      setTimeout(letGo, 200)
    })
    .then(() => {
      done = true
    })
  await holding
  await waiting
  expect([done, said.length]).toEqual([true, 1])
  expect(said[0]).toMatch(/^Waiting for another start that prepares the database: the connection with pid \d+ \(of /)
})

it('a server that is not there is told in one sentence', async () => {
  await expect(openServer('postgres://nobody@127.0.0.1:1/none')).rejects.toThrow('ECONNREFUSED')
})
