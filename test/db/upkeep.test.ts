import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, inject, it, vi } from 'vitest'
import { people } from '../../src/accounts/accounts.table.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { newId } from '../../src/db/new-id.ts'
import { asDoor } from '../../src/db/transaction.ts'
import { backUp, keepUp, tidy } from '../../src/db/upkeep.ts'

// Only the embedded engine is kept up here; a server has its own ways.
const onServer = process.env.TEST_DATABASE_URL !== undefined

it.skipIf(onServer)(
  'a backup gives the record back, one a day is written and seven are kept',
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'evenground-backups-'))
    const database = await openEmbedded(null, new Blob([readFileSync(inject('template'))]))
    const ada = { id: newId(), email: 'ada@example.org', name: 'Ada Rook', passwordHash: 'none' }
    await asDoor(database, (tx) => tx.insert(people).values(ada))
    await tidy(database)
    for (let day = 1; day <= 9; day++) await backUp(database, folder, `2026-01-0${day}`)
    await asDoor(database, (tx) => tx.delete(people))
    await backUp(database, folder, '2026-01-09')
    await database.close()

    const names = readdirSync(folder).sort()
    expect([names.length, names[0], names.at(-1)]).toEqual([
      7,
      'evenground-2026-01-03.tar.gz',
      'evenground-2026-01-09.tar.gz',
    ])
    const again = await openEmbedded(null, new Blob([readFileSync(join(folder, names.at(-1) ?? ''))]))
    const back = await asDoor(again, (tx) => tx.select({ name: people.name }).from(people))
    await again.close()
    rmSync(folder, { recursive: true })
    expect(back).toEqual([{ name: 'Ada Rook' }])
  },
  120_000,
)

it.skipIf(onServer)(
  'looks a minute after the start, then every hour, and no more once it is stopped',
  async () => {
    const folder = mkdtempSync(join(tmpdir(), 'evenground-backups-'))
    const database = await openEmbedded(null, new Blob([readFileSync(inject('template'))]))
    const days = () => readdirSync(folder).flatMap((name) => /^evenground-(.*)\.tar\.gz$/.exec(name)?.[1] ?? [])
    const troubles: unknown[] = []
    vi.useFakeTimers({
      toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval', 'Date'],
      now: new Date('2026-03-01T21:30:00Z'),
    })
    try {
      const stop = keepUp(database, folder, (trouble) => troubles.push(trouble))
      vi.advanceTimersByTime(60_000)
      await vi.waitFor(() => expect(days()).toEqual(['2026-03-01']), { timeout: 50_000 })
      for (let hour = 1; hour <= 3; hour++) vi.advanceTimersByTime(3_600_000)
      await vi.waitFor(() => expect(days().sort()).toEqual(['2026-03-01', '2026-03-02']), { timeout: 50_000 })
      stop()
      expect(vi.getTimerCount()).toBe(0)
      expect(troubles).toEqual([])
    } finally {
      vi.useRealTimers()
      await database.close()
      rmSync(folder, { recursive: true })
    }
  },
  120_000,
)
