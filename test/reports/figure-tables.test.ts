import { parse } from 'csv-parse/sync'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'

let place: Place
let keeper: Client
let base: string
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.person()
  base = (await keeper.post('/demo/copy')).location
})
afterAll(() => place.close())

/** A report on a season of the example, frozen, and the link to it. */
async function shared(season: string): Promise<string> {
  const id = newId()
  const fields = {
    id,
    title: 'All of it',
    words: '',
    season,
    sections: [...sectionKeys],
    keeps: 'frozen',
    step: 'finish',
  }
  await keeper.post(`${base}/reports`, fields)
  const page = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
  return /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
}

async function firstSeason(): Promise<string> {
  const page = (await wholeCompare(keeper, `${base}/compare`)).text
  return /compare\?season=([0-9a-f-]{36})/.exec(page)?.[1] ?? ''
}

interface Figures {
  readonly tables: Readonly<Record<string, readonly (readonly (string | number)[])[]>>
}
const rowsIn = (csv: string) => parse(csv, { columns: true }) as Record<string, string>[]

it('every table of figures is listed on the report, and its file holds what its JSON does', async () => {
  for (const season of [await firstSeason(), 'all']) {
    const link = await shared(season)
    const guest = place.guest()
    const { figures } = await guest.json<{ figures: Figures }>(`${link}.json`)
    const page = (await guest.get(link)).text
    const listed = [...page.matchAll(/(?<!rows)\.csv\?table=([\w-]+)"/g)].map((found) => found[1])
    expect(listed).toEqual(['methods', 'matched-crops', 'totals', ...Object.keys(figures.tables)])
    for (const name of ['methods', 'matched-crops', 'totals', ...Object.keys(figures.tables)]) {
      const rows = rowsIn((await guest.get(`${link}.csv?table=${name}`)).text)
      expect(rows.length).toBeGreaterThan(0)
      const [, ...kept] = figures.tables[name] ?? []
      if (name in figures.tables)
        expect(rows.map((row) => Object.values(row))).toEqual(kept.map((row) => row.map((cell) => String(cell))))
    }
    const some = season === 'all' ? ['seasons', 'replicates'] : ['gaps', 'per-kg', 'all-methods']
    const both = ['findings', 'losses', 'labour', 'ground']
    for (const name of [...both, ...some.filter((one) => one !== 'per-kg')])
      expect(figures.tables).toHaveProperty([name])
    expect((await guest.get(`${link}.csv?table=constructor`)).status).toBe(404)
  }
})

it('the comparison of today gives the same tables as a report that was frozen today', async () => {
  const link = await shared('all')
  for (const name of ['findings', 'seasons', 'labour']) {
    const ours = (await keeper.get(`${base}/compare.csv?season=all&table=${name}`)).text
    expect(ours).toBe((await place.guest().get(`${link}.csv?table=${name}`)).text)
  }
})
