import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { pathToFileURL } from 'node:url'
import { beforeAll, expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { furtherTables } from '../../src/comparison/rows/figures-csv.ts'
import { tableMade } from '../../src/comparison/table-made.page.ts'
import { plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import { recordOf } from '../support/record.ts'

// The thread is of the built service alone.
beforeAll(() => void execFileSync('node', ['src/build-if-old.mjs'], { stdio: 'inherit' }))

const grown = (b: number) => ({ carrot: { m2: 4, a: 10, b: 10 * b }, leek: { m2: 2, a: 8, b: 9 } })
const given = {
  ...{ seasonIds: ['s0', 's1', 's2'], oneSeason: null, question: null, locale: 'en-GB', currency: 'EUR' },
  asked: { by: 'method', beside: undefined, reference: undefined, measures: plainMeasureRules, matched: {} },
} as const

type Aside = typeof import('../../src/web/aside.ts').aside
const threaded = async (): Promise<Aside> => (await import(pathToFileURL(resolve('dist/aside.js')).href)).aside
const module = 'table-made.page'

it('what the thread beside makes is what is made here, of whichever record', async () => {
  const table = (await threaded())({ module, name: 'tableMade' }, tableMade)
  const records = [1.2, 1.4, 0.9, 1.1, 1.3].map((b) => recordOf([grown(b), grown(1.5 * b), grown(1.35)]))
  const asked = [...records, ...records, ...records.toReversed()]
  const made = await Promise.all(asked.map((record) => table(record, given)))
  expect(made).toEqual(asked.map((record) => tableMade(record, given)))
  expect(new Set(made.map(({ said }) => JSON.stringify(said.found))).size).toBe(records.length)
})

it('so are the further figures of a report, which come out of the thread where it is built', async () => {
  const aside = await threaded()
  let madeHere = 0
  const tables = aside({ module: 'figures-csv', name: 'furtherTables' }, (record: TrialRecord, of: typeof asked) => {
    madeHere += 1
    return furtherTables(record, of)
  })
  const record = recordOf([grown(1.2), grown(1.8), grown(1.35)])
  const asked = { seasonIds: given.seasonIds, told: tableMade(record, given).said }
  const made = furtherTables(record, asked)
  expect(Object.keys(made)).toContain('seasons')
  expect([await tables(record, asked), madeHere]).toEqual([made, 0])
})

it('what goes wrong there is told to who asked, and to nobody else', async () => {
  const aside = await threaded()
  const table = aside({ module, name: 'tableMade' }, tableMade)
  const nothing = aside({ module, name: 'missing' }, () => 1)
  const [record, other] = [recordOf([grown(1.2)]), recordOf([grown(0.8)])]
  const asked = [nothing(record, null), table(other, { ...given, seasonIds: ['s0'] })]
  const [wrong, right] = await Promise.allSettled(asked)
  expect(String(wrong?.status === 'rejected' && wrong.reason)).toContain('has no missing')
  expect(right?.status).toBe('fulfilled')
})

it('whatever the sources ask of it is built for it, under the name they ask by', async () => {
  const files = readdirSync('src', { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.ts'))
  const sources = files.map((file) => readFileSync(join('src', file), 'utf8'))
  const asked = sources.flatMap((text) => [...text.matchAll(/aside\(\{ module: '([\w.-]+)', name: '(\w+)' \}/g)])
  expect(asked.length).toBeGreaterThan(3)
  for (const [, file = '', name = ''] of asked) {
    const built: Record<string, unknown> = await import(pathToFileURL(resolve(`dist/${file}.js`)).href)
    expect([file, typeof built[name]]).toEqual([file, 'function'])
  }
})
