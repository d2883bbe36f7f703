import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join, relative } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, inject, it } from 'vitest'
import { type EmbeddedDatabase, openEmbedded } from '../../src/db/embedded.ts'

/** A disk that keeps what was forced onto it, and loses all else when the power goes. */
let root: string
let folder: string
let kept: string
let database: EmbeddedDatabase
const forced: string[] = []
let broken = false
const panics: string[] = []

function force(_file: number, path: string): void {
  if (broken) throw Object.assign(new Error('the disk is gone'), { code: 'EIO' })
  const name = relative(folder, path)
  forced.push(name)
  mkdirSync(dirname(join(kept, name)), { recursive: true })
  cpSync(path, join(kept, name), { recursive: true, force: true })
}

beforeAll(async () => {
  root = mkdtempSync(join(tmpdir(), 'evenground-forced-'))
  folder = join(root, 'database')
  kept = join(root, 'kept')
  database = await openEmbedded(folder, {
    template: new Blob([readFileSync(inject('folder'))]),
    force,
    onPanic: ({ message }) => panics.push(message),
  })
  // What stood there before the first commit was forced as a whole.
  cpSync(folder, kept, { recursive: true })
  await database.engine.exec('checkpoint')
  await database.drizzle.execute(sql`create table weights (grams integer)`)
})
afterAll(async () => {
  if (!database.engine.closed) await database.close().catch(() => undefined)
  rmSync(root, { recursive: true, force: true })
})

const write = (grams: number) => database.drizzle.execute(sql`insert into weights values (${grams})`)
const gramsIn = async (from: EmbeddedDatabase) =>
  (
    (await from.drizzle.execute(sql`select grams from weights order by grams`)) as unknown as {
      rows: { grams: number }[]
    }
  ).rows.map((row) => row.grams)

it('each commit is on the disk before it is answered, and what only reads forces nothing', async () => {
  for (let grams = 1; grams <= 20; grams++) {
    forced.length = 0
    await write(grams)
    expect(forced.filter((name) => name.startsWith('pg_wal/'))).not.toEqual([])
  }
  forced.length = 0
  expect(await gramsIn(database)).toHaveLength(20)
  expect(forced).toEqual([])
})

it('after a power cut all that was answered is there', async () => {
  await write(21)
  const restored = join(root, 'restored')
  cpSync(kept, restored, { recursive: true })
  const again = await openEmbedded(restored)
  expect(await gramsIn(again)).toEqual(Array.from({ length: 21 }, (_, i) => i + 1))
  await again.close()
})

it('a checkpoint forces what it wrote, and a power cut after it loses nothing either', async () => {
  forced.length = 0
  await database.engine.exec('checkpoint')
  expect(forced.some((name) => name.startsWith('base/'))).toBe(true)
  await write(22)
  const restored = join(root, 'restored-later')
  cpSync(kept, restored, { recursive: true })
  const again = await openEmbedded(restored)
  expect(await gramsIn(again)).toHaveLength(22)
  await again.close()
})

it('what the disk did not take is not answered as saved', async () => {
  broken = true
  await expect(write(23)).rejects.toThrow()
  // Whoever runs it is told before anything else is asked of the engine, and ends: it would answer nothing any more.
  expect(panics).toEqual([expect.stringContaining('could not fsync file')])
  broken = false
  const restored = join(root, 'restored-last')
  cpSync(kept, restored, { recursive: true })
  const again = await openEmbedded(restored)
  expect(await gramsIn(again)).toHaveLength(22)
  await again.close()
})
