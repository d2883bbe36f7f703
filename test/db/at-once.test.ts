import { eq, sql } from 'drizzle-orm'
import { integer, pgTable } from 'drizzle-orm/pg-core'
import { afterAll, afterEach, beforeAll, beforeEach, expect, it } from 'vitest'
import { atOnce } from '../../src/db/at-once.ts'
import type { Database, Tx } from '../../src/db/database.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { openServer } from '../../src/db/server.ts'
import { openTestDatabase } from '../support/database.ts'

const crates = pgTable('crates_sent', { grams: integer().notNull() })

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
beforeEach(() => database.drizzle.execute(sql`create table crates_sent (grams integer not null check (grams > 0))`))
afterEach(() => database.drizzle.execute(sql`drop table crates_sent`))
afterAll(() => database.close())

const weighed = async (tx: Pick<Tx, 'execute'>) =>
  rowsRead(tx, sql`select grams from crates_sent order by grams`, ({ grams }) => grams)
const weigh = (tx: Tx, grams: number) => tx.insert(crates).values({ grams }).returning()

it('statements asked at once are each asked once, and each has its own answer', async () => {
  await database.transaction(async (tx) => {
    await weigh(tx, 7)
    const told = await atOnce([
      weigh(tx, 1),
      tx.select().from(crates).where(eq(crates.grams, 7)),
      'not asked',
      weigh(tx, 2),
    ])
    expect(told).toEqual([[{ grams: 1 }], [{ grams: 7 }], 'not asked', [{ grams: 2 }]])
  })
  expect(await weighed(database.drizzle)).toEqual([1, 2, 7])
})

it('what fails among them is told, and what comes next is not among them', async () => {
  await database.transaction(async (tx) => {
    const tried = tx.transaction((inner) => atOnce([weigh(inner, 1), weigh(inner, 0), weigh(inner, 2)]))
    await expect(tried).rejects.toMatchObject({ cause: { constraint: 'crates_sent_grams_check' } })
    await weigh(tx, 3)
  })
  expect(await weighed(database.drizzle)).toEqual([3])
  await expect(database.transaction((tx) => atOnce([weigh(tx, 4), weigh(tx, 0), weigh(tx, 5)]))).rejects.toThrow()
  expect(await weighed(database.drizzle)).toEqual([3])
})

it('a transaction begins with its first statement, which ends with it, and without it where that fails', async () => {
  const shown = (tx: Pick<Tx, 'execute'>) =>
    rowsRead(tx, sql`select current_setting('evenground.reason', true) as reason`, ({ reason }) => reason)
  const first = sql`select set_config('evenground.reason', 'hail', true)`
  expect(await database.transaction(shown, { first, accessMode: 'read only' })).toEqual(['hail'])
  expect(await shown(database.drizzle)).not.toEqual(['hail'])
  const unready = database.transaction((tx) => weigh(tx, 1), { first: sql`select 1 / 0` })
  await expect(unready).rejects.toMatchObject({ cause: { code: '22012' } })
  await expect(database.transaction((tx) => weigh(tx, 1), { accessMode: 'read only' })).rejects.toThrow()
  expect(await weighed(database.drizzle)).toEqual([])
})

it('what is asked last is asked within the transaction, and where it fails nothing is stored', async () => {
  let told: unknown
  const first = sql`select set_config('evenground.reason', 'hail', true)`
  const last = async (tx: Tx) => {
    told = await tx.select({ grams: crates.grams, why: sql`current_setting('evenground.reason')` }).from(crates)
  }
  await database.transaction((tx) => weigh(tx, 1), { first, last })
  expect(told).toEqual([{ grams: 1, why: 'hail' }])
  expect(await weighed(database.drizzle)).toEqual([1])
  const failing = async (tx: Tx) => {
    await tx.select({ none: sql`1 / (grams - 1)` }).from(crates)
  }
  const tried = database.transaction((tx) => weigh(tx, 2), { first, last: failing })
  await expect(tried).rejects.toMatchObject({ cause: { code: '22012' } })
  expect(await weighed(database.drizzle)).toEqual([1])
})

const server = process.env.TEST_DATABASE_URL
it.skipIf(!server)('behind a pooler that does not take them together each waits, and all is as it was', async () => {
  const [name] = await rowsRead(database.drizzle, sql`select current_database() as name`, (row) => String(row.name))
  const url = new URL(server ?? '')
  url.pathname = `/${name}`
  const waiting = await openServer(url.href, { pipeline: false })
  const warned: string[] = []
  const told = ({ message }: Error) => warned.push(message)
  process.on('warning', told)
  try {
    const first = sql`select set_config('evenground.reason', 'hail', true)`
    const last = async (tx: Tx) => {
      await tx.select().from(crates)
    }
    await waiting.transaction((tx) => atOnce([weigh(tx, 1), weigh(tx, 2), weighed(tx)]), { first, last })
    await expect(waiting.transaction((tx) => atOnce([weigh(tx, 3), weigh(tx, 0)]), { first })).rejects.toThrow()
    expect(await weighed(waiting.drizzle)).toEqual([1, 2])
    // The driver says so once where it is made to keep several waiting itself.
    expect(warned).toEqual([])
  } finally {
    process.off('warning', told)
    await waiting.close()
  }
})

it('a transaction that is over is not asked again, by whomever it was kept', async () => {
  const refused = { cause: { message: 'A transaction that is over was asked again.' } }
  const kept = await database.transaction(async (tx) => tx)
  await expect(weigh(kept, 1).execute()).rejects.toMatchObject(refused)
  let left: Promise<unknown> = Promise.resolve()
  const tried = database.transaction(async (tx) => {
    left = weigh(tx, 2)
      .execute()
      .then(() => new Promise((go) => setTimeout(go, 50)))
      .then(() => weigh(tx, 3).execute())
    left.catch(() => undefined)
    throw new Error('mine')
  })
  await expect(tried).rejects.toThrow('mine')
  await expect(left).rejects.toMatchObject(refused)
  expect(await weighed(database.drizzle)).toEqual([])
})

it.skipIf(!process.env.TEST_DATABASE_URL)(
  'what is asked last is one statement: a second would come behind the commit',
  async () => {
    const last = async (tx: Tx) => {
      await weigh(tx, 1)
      await weigh(tx, 2)
    }
    await expect(database.transaction((tx) => weigh(tx, 3), { last })).rejects.toMatchObject({
      cause: { message: 'A transaction that is over was asked again.' },
    })
    expect(await weighed(database.drizzle)).toEqual([1, 3])
  },
)
