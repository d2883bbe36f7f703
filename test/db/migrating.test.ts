import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { lastMigration } from '../../src/db/migrating.ts'
import { openServer } from '../../src/db/server.ts'
import { openPlace, type Place } from '../support/app.ts'

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
