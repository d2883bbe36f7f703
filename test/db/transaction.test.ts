import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import type { Database, Tx } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { asDoor, asMember } from '../../src/db/transaction.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
afterAll(() => database.close())

it('a transaction inside another throws at once, where it would wait for itself', async () => {
  await expect(asDoor(database, () => asDoor(database, async () => 1))).rejects.toThrow('inside another')
})

it('a deadlock is tried again, and given up after the third time', async () => {
  const deadlock = () => Object.assign(new Error('deadlock detected'), { code: '40P01' })
  let tries = 0
  const twice = await asDoor(database, async () => {
    tries += 1
    if (tries < 3) throw deadlock()
    return tries
  })
  expect(twice).toBe(3)
  tries = 0
  const never = asDoor(database, async () => {
    tries += 1
    throw deadlock()
  })
  await expect(never).rejects.toThrow('deadlock')
  expect(tries).toBe(3)
})

it('no transaction is compiled just in time', async () => {
  const shown = () => sql`select current_setting('jit') as jit`
  const jit = async (work: (ask: (tx: Tx) => Promise<string>) => Promise<string>) =>
    work(async (tx) => ((await tx.execute(shown())) as unknown as { rows: { jit: string }[] }).rows[0]?.jit ?? '')
  expect(await jit((ask) => asDoor(database, ask))).toBe('off')
  expect(await jit((ask) => asMember(database, { personId: null, groupId: newId(), readOnly: true }, ask))).toBe('off')
})

it('another error is not tried again', async () => {
  let tries = 0
  const failing = asDoor(database, async () => {
    tries += 1
    throw new Error('no')
  })
  await expect(failing).rejects.toThrow('no')
  expect(tries).toBe(1)
})
