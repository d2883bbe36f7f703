import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { engineFree } from '../support/engine-free.ts'

const free = engineFree().filter((file) => !file.endsWith('rules/engine-free.test.ts'))

it('what a run on a server leaves out opens no database there, nor a copy of one', () => {
  expect(free.length).toBeGreaterThan(50)
  const text = new Map(free.map((file) => [file, readFileSync(file, 'utf8')]))
  expect(free.filter((file) => /openPlace|openServer\(server|inject\('template'\)/.test(text.get(file) ?? ''))).toEqual(
    [],
  )
})

it('and leaves nothing out that does, by itself or through what it imports', () => {
  for (const file of ['rules/access', 'process/backup', 'process/starting', 'db/migrating', 'diary/week', 'db/upkeep'])
    expect(free).not.toContain(`test/${file}.test.ts`)
  expect(free).toContain('test/statistics/layouts.test.ts')
})
