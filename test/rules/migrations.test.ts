import { createHash } from 'node:crypto'
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

/** What an installation may have run never changes: a line is added here with a release, and none is ever corrected. */
const released = {
  '0000_tables': '0e12d02d4a6b51aac9a5d6f10c9828ec5f0d9d96f4af99c687679341d5decb2e',
  '0001_walls_and_functions': 'cccfe7b17c27222478d71295af7332b6891cf52a1099aedc1ad7c0a648ea7646',
  '0002_ground_with_dates': '02f8294e0cf75dd5ab3e194d563b929aead2a79c4de15649457fb9a77fcc5341',
  '0003_ground_fits': 'dab6d153b12346058930880672f9593e63d2e6bda03a496f364ebefd0e90d44b',
  '0004_the_state_that_counts': '8cfd6334fbc6a04240f0bb93f4264d653d1e4a4745b9758d7b5ac446a24fceb2',
}

it('a migration that was released stays to the letter', () => {
  for (const [tag, kept] of Object.entries(released)) {
    const now = createHash('sha256')
      .update(readFileSync(`migrations/${tag}.sql`))
      .digest('hex')
    expect([tag, now]).toEqual([tag, kept])
  }
})
