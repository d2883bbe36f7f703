import { type SQL, sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { codeOf } from '../../src/db/constraint.ts'
import type { Database, Tx } from '../../src/db/database.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
afterAll(() => database.close())

async function asked(statement: SQL): Promise<unknown> {
  const { rows } = (await database.drizzle.execute(statement)) as unknown as { rows: Record<string, unknown>[] }
  return rows[0]?.value
}

const odd = `a "quoted" \\ back, {brace}, O'Brien, ü, 👩‍🌾, NULL`

it.each([
  ['a text', sql`select ${odd}::text as value`, odd],
  ['no value', sql`select ${null}::text as value`, null],
  ['a number', sql`select ${42}::int as value`, 42],
  ['a large number, as text', sql`select ${'9007199254740993'}::bigint as value`, '9007199254740993'],
  ['yes', sql`select ${true}::boolean as value`, true],
  ['no', sql`select ${false}::boolean as value`, false],
  ['bytes', sql`select encode(${Buffer.from([0, 255, 92, 39])}::bytea, 'hex') as value`, '00ff5c27'],
  ['a moment', sql`select extract(epoch from ${new Date(86_400_500)}::timestamptz)::text as value`, '86400.500000'],
  ['an object', sql`select ${JSON.stringify({ odd })}::jsonb as value`, { odd }],
  [
    'a list',
    sql`select array_to_json(${sql.param([odd, null, '', 'NULL'])}::text[]) as value`,
    [odd, null, '', 'NULL'],
  ],
  [
    'a list of lists',
    sql`select array_to_json(${sql.param([
      [1, 2],
      [3, 4],
    ])}::int[]) as value`,
    [
      [1, 2],
      [3, 4],
    ],
  ],
  ['an empty list', sql`select cardinality(${sql.param([])}::text[]) as value`, 0],
])('%s goes into a statement and comes out of it as it was', async (_, statement, value) => {
  expect(await asked(statement)).toEqual(value)
})

it('what was refused says why, and the next is answered', async () => {
  const refused = await database.drizzle.execute(sql`select ${'x'}::int`).catch((error: unknown) => error)
  expect(codeOf(refused)).toBe('22P02')
  expect(await asked(sql`select 2 as value`)).toBe(2)
  const within = database.transaction(async (tx) => {
    await tx.transaction((inner) => inner.execute(sql`select nonsense`)).catch(() => undefined)
    return tx.execute(sql`select 3 as value`)
  })
  expect(await within).toMatchObject({ rows: [{ value: 3 }] })
})

it.skipIf(process.env.TEST_DATABASE_URL)('a transaction that is over answers nothing more', async () => {
  const kept: Tx[] = []
  await database.transaction(async (tx) => void kept.push(tx))
  await expect(kept[0]?.execute(sql`select 1`)).rejects.toThrow()
})
