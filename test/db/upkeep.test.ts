import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, inject, it, vi } from 'vitest'
import { people } from '../../src/accounts/accounts.table.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { newId } from '../../src/db/new-id.ts'
import { asDoor } from '../../src/db/transaction.ts'
import { afterManyRows, aloneAmongAll, backUp, lookAgain, tidy } from '../../src/db/upkeep.ts'
import { openTestDatabase } from '../support/database.ts'

// Only the embedded engine is kept up here; a server has its own ways.
const onServer = process.env.TEST_DATABASE_URL !== undefined

it.skipIf(onServer)(
  'a backup gives the record back, one a day is written and seven are kept, whatever the clock',
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'evenground-backups-'))
    const database = await openEmbedded(null, { template: new Blob([readFileSync(inject('template'))]) })
    const ada = { id: newId(), email: 'ada@example.org', name: 'Ada Rook', passwordHash: 'none' }
    await asDoor(database, (tx) => tx.insert(people).values(ada))
    await tidy(database)
    // What earlier days left, and one day more.
    for (let day = 1; day <= 8; day++) writeFileSync(join(folder, `evenground-2026-01-0${day}.tar.gz`), 'earlier')
    await backUp(database, folder, '2026-01-09')
    await asDoor(database, (tx) => tx.delete(people))
    await backUp(database, folder, '2026-01-09')
    // A clock that was seventy days ahead for longer than the backups are kept.
    for (let day = 1; day <= 8; day++) writeFileSync(join(folder, `evenground-2026-03-2${day}.tar.gz`), 'to come')
    await backUp(database, folder, '2026-01-10')
    await database.close()

    const names = readdirSync(folder).sort()
    expect([names.length, names[0], names.at(-1)]).toEqual([
      7,
      'evenground-2026-01-04.tar.gz',
      'evenground-2026-01-10.tar.gz',
    ])
    const again = await openEmbedded(null, { template: new Blob([readFileSync(join(folder, names.at(-2) ?? ''))]) })
    const back = await asDoor(again, (tx) => tx.select({ name: people.name }).from(people))
    await again.close()
    rmSync(folder, { recursive: true })
    expect(back).toEqual([{ name: 'Ada Rook' }])
  },
  60_000,
)

it.skipIf(onServer)('after many rows the tables are looked at one by one, and others are let in between', async () => {
  const database = await openTestDatabase()
  const asked: string[] = []
  let [turns, isOver] = [0, false]
  const turn = () => {
    turns += 1
    if (!isOver) setImmediate(turn)
  }
  setImmediate(turn)
  const looking = afterManyRows(database).then(() => asked.push('looked'))
  await database.drizzle.execute('select 1')
  asked.push('answered')
  await looking
  isOver = true
  await database.close()
  expect(asked).toEqual(['answered', 'looked'])
  expect(turns).toBeGreaterThan(40)
})

it('looks a minute after the start, then every hour whatever went wrong, and no more once it is stopped', async () => {
  vi.useFakeTimers()
  try {
    let looks = 0
    const troubles: unknown[] = []
    const look = async () => {
      looks += 1
      if (looks === 1) throw new Error('the disk is full')
    }
    const stop = lookAgain(look, (trouble) => troubles.push(trouble))
    expect(looks).toBe(0)
    await vi.advanceTimersByTimeAsync(60_000)
    expect([looks, String(troubles)]).toEqual([1, 'Error: the disk is full'])
    await vi.advanceTimersByTimeAsync(2 * 3_600_000)
    expect([looks, troubles.length]).toEqual([3, 1])
    stop()
    await vi.advanceTimersByTimeAsync(24 * 3_600_000)
    expect(looks).toBe(3)
  } finally {
    vi.useRealTimers()
  }
})

it.skipIf(!onServer)('of several processes one at a time keeps a server up, and the next may after it', async () => {
  const database = await openTestDatabase()
  const done: string[] = []
  try {
    await aloneAmongAll(database, async () => {
      await aloneAmongAll(database, async () => void done.push('beside'))
      done.push('first')
    })
    await aloneAmongAll(database, async () => void done.push('after'))
  } finally {
    await database.close()
  }
  expect(done).toEqual(['first', 'after'])
})
