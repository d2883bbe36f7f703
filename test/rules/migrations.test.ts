import { readdirSync, readFileSync } from 'node:fs'
import { expect, it } from 'vitest'

const { entries } = JSON.parse(readFileSync('migrations/meta/_journal.json', 'utf8')) as {
  entries: { idx: number; tag: string; when: number }[]
}

it('every migration has its file and its line, in the order in which they were made', () => {
  const files = readdirSync('migrations').filter((name) => name.endsWith('.sql'))
  expect(files.sort()).toEqual(entries.map((one) => `${one.tag}.sql`))
  expect(entries.map((one) => one.idx)).toEqual(entries.map((_, i) => i))
  expect(entries.map((one) => one.when)).toEqual([...entries.map((one) => one.when)].sort((a, b) => a - b))
})

it('only the snapshot of the last one is kept: the next is made from it, and no other is ever read', () => {
  const last = String(entries.at(-1)?.idx).padStart(4, '0')
  expect(readdirSync('migrations/meta').sort()).toEqual([`${last}_snapshot.json`, '_journal.json'])
})
