import { sql } from 'drizzle-orm'
import request from 'supertest'
import { afterEach, expect, it } from 'vitest'
import { buildApp } from '../../src/app.ts'
import { isAway } from '../../src/db/away.ts'
import type { Database } from '../../src/db/database.ts'
import { asDoor } from '../../src/db/transaction.ts'
import { openTestDatabase } from '../support/database.ts'

const closing: (() => Promise<void>)[] = []
afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close()
})

async function opened(): Promise<Database> {
  const database = await openTestDatabase()
  closing.push(() => database.close())
  return database
}

const wrapped = (cause: object) => new Error('Failed query', { cause: Object.assign(new Error('inside'), cause) })

/** One that answers nothing, within a transaction or outside of one, for this reason. */
function failing(database: Database, code: string): Database {
  const fails = () => Promise.reject(wrapped({ code }))
  const drizzle = { execute: fails } as unknown as Database['drizzle']
  return { ...database, drizzle, transaction: fails }
}

it('tells a database that is away from one that refuses', () => {
  const codes = ['57P01', '57P02', '57P03', '08006', '53300', 'ECONNREFUSED', 'ECONNRESET']
  expect(codes.filter((code) => !isAway(wrapped({ code })))).toEqual([])
  expect(isAway(new Error('Connection terminated unexpectedly'))).toBe(true)
  expect(['23505', '22P02', '40001', '57014'].filter((code) => isAway(wrapped({ code })))).toEqual([])
  expect(isAway(new Error('Something else'))).toBe(false)
})

it('a page says that the database is away, and when to come back', async () => {
  const database = await opened()
  const gone = failing(database, 'ECONNREFUSED')
  const options = { root: process.cwd(), secureCookies: false, trustProxy: 'none', demo: true } as const
  const app = await buildApp({ ...options, database: gone })
  closing.push(() => app.close())
  await app.ready()
  const answer = await request(app.server).get('/g/a-group/week').set('Cookie', 'evenground=anything')
  expect([answer.status, answer.headers['retry-after']]).toEqual([503, '5'])
  expect(answer.text).toContain('The database does not answer')
})

it('a page says that the disk is full, and a device keeps what it sent', async () => {
  const database = await opened()
  for (const code of ['53100', 'ENOSPC']) {
    const full = failing(database, code)
    const options = { root: process.cwd(), secureCookies: false, trustProxy: 'none', demo: true } as const
    const app = await buildApp({ ...options, database: full })
    closing.push(() => app.close())
    await app.ready()
    const answer = await request(app.server).get('/g/a-group/week').set('Cookie', 'evenground=anything')
    expect(answer.status).toBe(507)
    expect(answer.text).toContain('There is no room left')
    const asked = request(app.server)
      .get('/g/a-group/week')
      .set({ cookie: 'evenground=anything', accept: 'application/json' })
    expect((await asked).body).toMatchObject({ problem: 'no-room' })
  }
})

// The embedded engine has no connection that could be lost.
it.skipIf(!process.env.TEST_DATABASE_URL)('a connection lost in the middle of a transaction ends nothing', async () => {
  const database = await opened()
  for (const _again of Array.from({ length: 15 })) {
    const lost = asDoor(database, async (tx) => {
      const found = (await tx.execute(sql`select pg_backend_pid() as pid`)) as unknown as { rows: { pid: number }[] }
      await database.drizzle.execute(sql`select pg_terminate_backend(${found.rows[0]?.pid})`)
      await new Promise((resolve) => setTimeout(resolve, 50))
      return tx.execute(sql`select 1`)
    })
    expect(await lost.then(() => 'went on', isAway)).toBe(true)
  }
  expect(await asDoor(database, async () => 'there')).toBe('there')
})
