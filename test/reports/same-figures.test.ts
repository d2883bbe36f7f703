import { parse } from 'csv-parse/sync'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
let keeper: Client
let base: string
let seasons: string[]
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.person()
  base = (await keeper.post('/demo/copy')).location
  const page = (await wholeCompare(keeper, `${base}/compare`)).text
  seasons = [...new Set([...page.matchAll(/compare\?season=([0-9a-f-]{36}|all)/g)].map((found) => found[1] ?? ''))]
})
afterAll(() => place.close())

interface Figures {
  readonly methods: readonly {
    readonly methodId: string
    readonly method: string
    readonly figures: readonly { readonly key: string; readonly value: number | null; readonly limit: string | null }[]
  }[]
  readonly matched: readonly Matched[]
  readonly commonMix: Matched['byMethod']
}
interface Matched {
  readonly crop: string
  readonly byMethod: readonly { readonly methodId: string; readonly kgPerM2: number }[]
}
type Row = Record<string, string>

/** The cells of the table of that name, row by row, as a reader sees them. */
function tableOf(html: string, name: string): string[][] {
  const table = html.split(`aria-label="${name}"`)[1]?.split('</table>')[0] ?? ''
  const rows = [...table.matchAll(/<tr[^>]*>(.*?)<\/tr>/gs)].slice(1)
  return rows.map((row) => [...(row[1] ?? '').matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map((cell) => shown(cell[1])))
}
/** What a cell says before what it rests on. */
const shown = (cell = '') => plain(cell.split('<span class="rests">')[0] ?? '')

/** What the page shows of a figure of that key: hundredths of money as money, a part as a percentage. */
const onPage: Record<string, number> = { costPerKg: 1 / 100, costPerBed: 1 / 100, lostArea: 100 }

/** The number in a cell and the half of its last place. */
function numberIn(cell: string): { value: number; half: number } {
  const digits = /\d+(\.\d+)?/.exec(cell.replace(/(\d)\s(?=\d{3})/g, '$1'))?.[0] ?? ''
  return { value: Number(digits), half: 0.5 * 10 ** -(digits.split('.')[1]?.length ?? 0) }
}
const isRounded = (cell: string, figure: number) =>
  /\d/.test(cell) && Math.abs(numberIn(cell).value - figure) <= numberIn(cell).half * (1 + 1e-9)

const name = (figures: Figures, id: string) => figures.methods.find((one) => one.methodId === id)?.method ?? ''
const rowsIn = (csv: string) => parse(csv, { columns: true }) as Row[]

/** The figures of the methods and of the matched crops, as they stand in the JSON. */
const flat = (figures: Figures) => [
  ...figures.methods.flatMap(({ method, figures: all }) =>
    all.map((one) => [method, one.key, String(one.value ?? ''), one.limit ?? '']),
  ),
  ...[...figures.matched, { crop: 'common mix', byMethod: figures.commonMix }].flatMap(({ crop, byMethod }) =>
    byMethod.map((one) => [name(figures, one.methodId), crop, String(one.kgPerM2), '']),
  ),
]
const flatCsv = (methods: string, matched: string) => [
  ...rowsIn(methods).map((row) => [row.method, row.figure, row.value, row.limit]),
  ...rowsIn(matched).map((row) => [row.method, row.crop, row.value, '']),
]

/** Walks every figure of both tables of a page beside the JSON; how many were walked. */
function walk(html: string, figures: Figures): number {
  const words = catalogue.comparison
  const whole = tableOf(html, words.allCrops)
  const matched = tableOf(html, words.matched)
  let walked = 0
  figures.methods.forEach(({ figures: all }, column) => {
    all.forEach(({ key, value }, row) => {
      const cell = whole[row]?.[column + 1] ?? ''
      const same = value === null ? !/\d/.test(cell) : isRounded(cell, value * (onPage[key] ?? 1))
      expect([key, cell, value, same]).toEqual([key, cell, value, true])
      walked++
    })
  })
  figures.matched.forEach(({ crop, byMethod }) => {
    const cells = matched.find((row) => row[0] === crop) ?? []
    for (const { methodId, kgPerM2 } of byMethod) {
      const column = figures.methods.findIndex((one) => one.methodId === methodId)
      const cell = cells[column + 1] ?? ''
      expect([crop, cell, kgPerM2, isRounded(cell, kgPerM2)]).toEqual([crop, cell, kgPerM2, true])
      walked++
    }
  })
  return walked
}

it('each figure of the example is the same on the page, in the CSV, in the JSON and in a frozen report', async () => {
  expect(seasons).toHaveLength(4)
  for (const season of seasons) {
    const address = (file: string) => `${base}/compare${file}?season=${season}`
    const figures = await keeper.json<Figures>(address('.json'))
    const page = (await wholeCompare(keeper, address(''))).text
    expect(walk(page, figures)).toBeGreaterThan(5 * 9 + 5 * 8)
    const csv = async (table: string) => (await keeper.get(`${address('.csv')}&table=${table}`)).text
    expect(flatCsv(await csv('methods'), await csv('matched-crops'))).toEqual(flat(figures))

    const id = newId()
    const form = { id, title: 'What was seen', words: '', season, sections: [...sectionKeys], keeps: 'frozen' }
    await keeper.post(`${base}/reports`, { ...form, step: 'finish' })
    const shared = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
    const link = /\/r\/[\w-]+/.exec(shared.text)?.[0] ?? ''
    const guest = place.guest()
    const frozen = (await guest.json<{ figures: Figures }>(`${link}.json`)).figures
    expect(flat(frozen)).toEqual(flat(figures))
    expect(walk((await guest.get(link)).text, frozen)).toBe(walk(page, figures))
    const file = async (table: string) => (await guest.get(`${link}.csv?table=${table}`)).text
    expect(flatCsv(await file('methods'), await file('matched-crops'))).toEqual(flat(frozen))
  }
}, 240_000)

it('a report says on how many changes after closing its figures rest, whatever parts it has', async () => {
  const [first = '', second = ''] = seasons
  const told: boolean[] = []
  for (const season of [first, second]) {
    const id = newId()
    const form = { id, title: 'Only measures', words: '', season, sections: ['measures'], keeps: 'frozen' }
    await keeper.post(`${base}/reports`, { ...form, step: 'finish' })
    const text = plain((await keeper.get(`${base}/reports/${id}`)).text)
    told.push(text.includes('These figures rest on 1 entry that was written or changed after their season had closed.'))
  }
  // The example holds one such change, in its first season.
  expect(told).toEqual([true, false])
})

it('the walk sees a figure that stands otherwise', async () => {
  const figures = await keeper.json<Figures>(`${base}/compare.json?season=all`)
  const page = (await wholeCompare(keeper, `${base}/compare?season=all`)).text
  expect(walk(page, figures)).toBeGreaterThan(5 * 9)
  const [before = '', ...after] = page.split(new RegExp(`(?=aria-label="${catalogue.comparison.allCrops}")`))
  const lastDigit = (_: string, first: string, last: string) => `>${first}${(Number(last) + 1) % 10}<`
  const changed = before + after.join('').replace(/>(\d+\.\d)(\d)</, lastDigit)
  expect(changed).not.toBe(page)
  expect(() => walk(changed, figures)).toThrow()
  expect(isRounded('$0.40', 0.4051)).toBe(false)
  expect(isRounded('at least 1\u202f234.5', 1234.54)).toBe(true)
})
