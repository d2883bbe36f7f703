import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { figurePage, figuresIndex } from '../../src/comparison/figures.page.ts'
import { figures } from '../../src/comparison/totals/figures.ts'
import { figureTableNames, figureTablesIn } from '../../src/reports/figure-tables.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { oddTrial } from '../reports/odd-trials.ts'
import { reportOn } from '../reports/recompute-folder.ts'
import { openPlace, type Place } from '../support/app.ts'

const words = catalogue.figures
const addresses = figuresIndex().groups.flatMap((group) => group.links.map((link) => link.address))

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

/** Trials that between them have every table and every kind of figure. */
const trials = [
  oddTrial({
    ...{ methods: 3, seasons: 3, laid: ['AA', 'BB', 'C', '..'], bare: 'C' },
    failing: 0.3,
    open: 0.05,
    seed: 3,
  }),
  oddTrial({ methods: 2, seasons: 3, laid: ['AA', 'BB'], open: 0.02, uniformYear: true, seed: 3 }),
  oddTrial({ methods: 3, seasons: 2, laid: ['ABC', 'ABC', 'CBA'], crops: ['carrot', 'potato'], seed: 3 }),
  oddTrial({ methods: 2, seasons: 3, laid: ['ABBAAB'], blocks: true, crops: ['carrot'], seed: 3 }),
]
const reports = trials.flatMap((trial) => [null, 's1'].map((season) => reportOn(trial, season).contents))

/** The keys of what goes out as JSON, without the tables: those are lists of rows. */
function keysIn(value: unknown): string[] {
  if (Array.isArray(value)) return value.flatMap(keysIn)
  if (value === null || typeof value !== 'object') return []
  return Object.entries(value).flatMap(([key, inner]) => [key, ...keysIn(inner)])
}
const namedIn = (cells: readonly (readonly string[])[]) =>
  new Set(cells.flatMap((row) => row.flatMap((cell) => cell.split(/[^\w -]+/).map((name) => name.trim()))))
const wordsIn = (cells: readonly (readonly string[])[]) =>
  new Set(cells.flatMap((row) => (row[0] ?? '').split(/[^\w]+/)))

describe('how the figures are made', () => {
  it('stands open to all: an index, and a page for each measure with what it is called there', async () => {
    const guest = place.guest()
    const index = await guest.get('/figures')
    expect(index.status).toBe(200)
    for (const { links } of figuresIndex().groups) {
      for (const { key, name, address } of links) {
        expect(index.text).toContain(`<li id="${key}"><a href="${address}">`)
        const page = await guest.get(address)
        expect([address, page.status]).toEqual([address, 200])
        expect(page.text.replaceAll('&#39;', "'")).toContain(name)
      }
    }
    expect(new Set(addresses).size).toBe(addresses.length)
    expect((await guest.get('/figures/no-such-measure')).status).toBe(404)
  })

  it('leads from every measure of the table of methods to a page of its own', () => {
    for (const { page } of reports) {
      for (const { key } of page.rows) {
        expect([key, addresses]).toEqual([key, expect.arrayContaining([`/figures/${figures[key].made}`])])
      }
    }
  })

  it('names every table as it is called, with its columns and the figures in it', () => {
    const told = new Map(words.tables.map(([name = '', figures = '']) => [name, namedIn([[figures]])]))
    const names = new Set(reports.flatMap(figureTableNames))
    expect(names.size).toBe(12)
    expect([...names].filter((name) => !told.has(name))).toEqual([])
    const missing = reports.flatMap((contents) =>
      [...figureTablesIn(contents)].flatMap(([name, [head = [], ...rows]]) => {
        const at = head.indexOf('figure')
        // The sums are told once, among the keys.
        const figures = at < 0 || ['methods', 'totals'].includes(name) ? [] : rows.map((row) => String(row[at]))
        const columns = head.map(String).filter((column) => !['unit', 'value', 'figure'].includes(column))
        return [...columns, ...figures].filter((one) => !told.get(name)?.has(one)).map((one) => `${name}: ${one}`)
      }),
    )
    expect([...new Set(missing)]).toEqual([])
  })

  it('names every key of the JSON as it is called', () => {
    const told = wordsIn(words.keys)
    const keys = reports.flatMap(({ table, units, currency, page }) =>
      keysIn({ ...table, units: Object.keys(units), currency, findings: page.said?.found ?? [] }),
    )
    expect([...new Set(keys)].filter((key) => !told.has(key))).toEqual([])
    expect(told.has('marketableG')).toBe(true)
  })

  it('keeps the tables of how often the intervals hold', () => {
    expect(figurePage('calibration', 'en')?.table?.rows.length).toBeGreaterThan(10)
    expect(figurePage('calibration-layouts', 'en')?.table?.rows.length).toBeGreaterThan(5)
  })
})
