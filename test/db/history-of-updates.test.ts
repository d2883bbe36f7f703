import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { asMember } from '../../src/db/transaction.ts'
import { largeGroup } from '../benchmark/large-group.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
let group: Awaited<ReturnType<typeof largeGroup>>
beforeAll(async () => {
  database = await openTestDatabase()
  group = await largeGroup(database, { seasons: 1, harvests: 900, labour: 30 })
})
afterAll(() => database.close())

const read = <T>(query: ReturnType<typeof sql>, of: (row: Readonly<Record<string, unknown>>) => T) =>
  rowsRead(database.drizzle, query, of)

it('each row of one update has its own state before and after', async () => {
  const { personId, groupId } = group
  const [before = 0] = await read(sql`select changes from group_counters`, (row) => Number(row.changes))
  await asMember(database, { personId, groupId }, async (tx) => {
    await tx.execute(sql`update harvests set marketable_g = marketable_g + 7 where unmarketable_g = 0`)
  })
  const written = await read(
    sql`select row_id, (after ->> 'marketable_g')::int - (before ->> 'marketable_g')::int as more,
      before ->> 'id' = row_id and after ->> 'id' = row_id as own from changes where number > ${before}`,
    (row) => ({ id: row.row_id, more: row.more, own: row.own }),
  )
  const [meant = 0] = await read(sql`select count(*) from harvests where unmarketable_g = 0`, (row) =>
    Number(row.count),
  )
  expect(meant).toBeGreaterThan(600)
  expect(new Set(written.map(({ id }) => id)).size).toBe(meant)
  expect(written).toHaveLength(meant)
  expect(written.every(({ more, own }) => more === 7 && own === true)).toBe(true)
})

it('they are joined by a hash, whatever the first update had', async () => {
  const settings = read(
    sql`select proconfig::text as set from pg_proc where proname = 'write_history'`,
    (row) => row.set,
  )
  expect(String(await settings)).toContain('enable_nestloop=off')
})
