import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { rowTableNames } from '../../src/reports/row-tables.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { choicesIn, setUpTrial } from '../support/trial.ts'
import { countAgain, hasR } from './recompute-folder.ts'
import { shareReport, weigh, writeReport } from './reports.ts'

let place: Place
let keeper: Client
let base: string
let folder: string
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'evenground-recompute-'))
  place = await openPlace()
  keeper = await place.person()
  base = (await keeper.post('/demo/copy')).location
})
afterAll(async () => {
  await place.close()
  rmSync(folder, { recursive: true, force: true })
})

async function shared(season: string, given: Record<string, string> = { rowsAgreed: 'yes' }): Promise<string> {
  const id = newId()
  const fields = { id, title: 'Counted again', words: '', season, sections: [...sectionKeys], keeps: 'frozen' }
  await keeper.post(`${base}/reports`, { ...fields, step: 'finish', ...given })
  const page = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
  return /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
}

/** The script of a report, saved; it reads from its link. */
async function scriptOf(link: string): Promise<string> {
  const { port } = place.app.server.address() as AddressInfo
  const script = (await place.guest().get(`${link}/recompute.R`)).text.replace(/127\.0\.0\.1:\d+/, `127.0.0.1:${port}`)
  const file = join(folder, `${newId()}.R`)
  writeFileSync(file, script)
  return file
}

async function seasonsOf(): Promise<string[]> {
  const page = (await wholeCompare(keeper, `${base}/compare`)).text
  return [...new Set([...page.matchAll(/compare\?season=([0-9a-f-]{36})/g)].map((found) => found[1] ?? ''))]
}

type Row = Record<string, string>
const rowsIn = (csv: string) => parse(csv, { columns: true }) as Row[]

interface Figures {
  readonly methods: readonly {
    readonly method: string
    readonly methodId: string
    readonly figures: readonly Figure[]
    readonly totals: Readonly<Record<string, number>>
  }[]
  readonly matched: readonly Matched[]
  readonly commonMix: Matched['byMethod']
  readonly tables: Readonly<Record<string, readonly (readonly (string | number)[])[]>>
}
interface Figure {
  readonly key: string
  readonly value: number | null
}
interface Matched {
  readonly crop: string
  readonly byMethod: readonly { readonly methodId: string; readonly kgPerM2: number }[]
}

/** Every figure of the JSON, by the table and what it is of; a name that stands twice has all its figures. */
function saidIn({ methods, matched, commonMix, tables }: Figures): Map<string, (number | null)[]> {
  const name = (id: string) => methods.find((one) => one.methodId === id)?.method ?? ''
  const said = new Map<string, (number | null)[]>()
  const say = (key: string, value: number | null) => said.set(key, [...(said.get(key) ?? []), value])
  for (const { method, figures, totals } of methods) {
    for (const { key, value } of figures) say(`methods | ${method} | ${key}`, value)
    for (const [key, value] of Object.entries(totals)) say(`totals | ${method} | ${key}`, value)
  }
  for (const { crop, byMethod } of [...matched, { crop: 'common mix', byMethod: commonMix }]) {
    for (const one of byMethod) say(`matched-crops | ${crop} | ${name(one.methodId)}`, one.kgPerM2)
  }
  for (const [table, [, ...rows]] of Object.entries(tables)) {
    for (const row of rows) say([table, ...row.slice(0, -2)].join(' | '), row.at(-1) as number)
  }
  return said
}

/** The rows do not say who wrote an entry, nor when it was changed. */
const beyondTheRows = /^ground .* \| writers$|changedAfterClosing$/

it('the rows go out only where the keeper ticked it, and no name of a person is in them', async () => {
  const [, second = ''] = await seasonsOf()
  const without = await shared(second, {})
  const guest = place.guest()
  for (const name of rowTableNames) expect((await guest.get(`${without}/rows.csv?table=${name}`)).status).toBe(404)
  expect((await guest.get(`${without}/recompute.R`)).status).toBe(404)
  const agreed = await shared(second)
  for (const name of rowTableNames) {
    const answer = await guest.get(`${agreed}/rows.csv?table=${name}`)
    expect([name, answer.status]).toEqual([name, 200])
    // The example spreads no raw manure.
    expect([name, answer.text.split('\r\n').length > 2]).toEqual([name, name !== 'manured'])
    expect(answer.text).not.toMatch(/Ada Rook|person_id|created_by|who/)
  }
  expect((await guest.get(`${agreed}/rows.csv?table=people`)).status).toBe(404)
})

describe.skipIf(!hasR)('with R at hand (Rscript is not on every machine)', () => {
  it.each([[0], [1], [2], ['all']] as const)(
    'whoever runs the script on the rows of season %s of the demo finds every figure of the report',
    async (which) => {
      const season = which === 'all' ? 'all' : ((await seasonsOf())[which] ?? '')
      const link = await shared(season)
      const guest = place.guest()
      const { figures } = await guest.json<{ figures: Figures }>(`${link}.json`)
      const { stdout, stderr, code, counted } = await countAgain(await scriptOf(link))
      expect([code, stderr]).toEqual([0, stderr])
      const said = new Map([...saidIn(figures)].filter(([key]) => !beyondTheRows.test(key)))
      const again = rowsIn(stdout)
      expect(new Set(again.map((row) => `${row.table} | ${row.of}`))).toEqual(new Set(said.keys()))
      for (const { table, of, value } of again) {
        const [expected = Number.NaN] = said.get(`${table} | ${of}`) ?? []
        if (expected === null) expect(value).toBe('')
        else expect(Math.abs(Number(value) - expected)).toBeLessThan(1e-9 * Math.max(1, Math.abs(expected)))
      }
      const inTable = (table: string) => again.filter((row) => row.table === table).length
      expect(counted).toEqual(new Map([...counted.keys()].map((table) => [table, inTable(table)])))
      expect(again.every((row) => counted.has(row.table ?? ''))).toBe(true)
      expect(again.length).toBeGreaterThan(500)
      expect(stderr).toContain(`${again.length} figures counted again; 0 unlike the report`)
      expect(stderr).toContain('Not counted again (5): how many people wrote hours down')
    },
    240_000,
  )

  it('and of two gardens, one with raw manure soon before its harvest, and next to nothing else written', async () => {
    const trial = await setUpTrial(place)
    const post = (form: string, fields: Record<string, unknown>) =>
      trial.keeper.post(`${trial.base}/inputs/${form}`, { id: newId(), ...fields })
    const delivery = { id: newId(), name: 'Cow manure', kind: 'manure', unit: 'm3', rawManure: 'raw', ownMade: 'own' }
    const came = {
      quantityThousandths: '2',
      deliveredOn: '2025-09-04',
      usefulLifeSeasons: '2',
      deliveryPriceMinor: '10',
    } as const
    expect((await post('deliveries', { ...delivery, ...came })).status).toBe(303)
    const at = { place: `garden:${trial.gardens.lower}`, seasonId: trial.season, phase: 'established' }
    const spread = { deliveryId: delivery.id, ...at, appliedOn: '2025-11-01', quantityThousandths: '1' } as const
    expect((await post('spreadings', spread)).status).toBe(303)
    expect((await weigh(trial, '5,25')).status).toBe(303)
    const { id } = await writeReport(trial, { rowsAgreed: 'yes' })
    const link = await shareReport(trial, id)
    const { figures } = await place.guest().json<{ figures: Figures }>(`${link}.json`)
    expect(figures.tables.ground).toContainEqual([
      ...['picked soon after raw manure', expect.stringMatching(/^carrot.*Lower Terrace$/), 'waited', 'd', 88],
    ])
    const { code, stderr, counted } = await countAgain(await scriptOf(link))
    expect([code, stderr]).toEqual([0, stderr])
    expect(counted.get('ground')).toBe((figures.tables.ground?.length ?? 0) - 1 - 3)
  }, 240_000)

  it('and of a group with a nursery, what was spread on it, and crops that overlap on purpose', async () => {
    const trial = await setUpTrial(place)
    const post = (path: string, fields: Record<string, unknown>) =>
      trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
    const choices = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
    const { lower = '', bank = '' } = trial.gardens
    const bed = (garden: string, name: string) => choices(`beds[${garden}]`)[name] ?? ''
    const nursery = bed(lower, 'Bed 2')
    const plant = async (crop: string, more: Record<string, unknown>) => {
      const given = { cropId: choices('cropId')[crop], cultivar: 'Wren', purpose: 'harvest', ...more }
      expect((await post(`seasons/${trial.season}/plantings`, given)).status).toBe(303)
    }
    const days = { how: 'transplanted', sownOn: '2026-03-01', plantedOn: '2026-05-12', raisedInBedId: nursery }
    await plant('tomato', { ...days, areaCm2: '1', beds: { to: bed(lower, 'Bed 1') } })
    await plant('tomato', { ...days, areaCm2: '3', beds: { to: bed(bank, 'Bed 2') } })
    const relay = { how: 'direct', sownOn: '2026-01-02', interplanted: 'yes', areaCm2: '3' }
    await plant('spinach', { ...relay, beds: { [lower]: bed(lower, 'Bed 1'), [bank]: bed(bank, 'Bed 1') } })
    const load = { id: newId(), name: 'Compost', kind: 'compost', unit: 'bag', ownMade: 'bought', rawManure: 'no' }
    const came = { deliveredOn: '2026-02-02', quantityThousandths: '4', priceMinor: '41', deliveryPriceMinor: '' }
    expect((await post('inputs/deliveries', { ...load, ...came, usefulLifeSeasons: '2' })).status).toBe(303)
    const spread = { deliveryId: load.id, place: `bed:${nursery}`, appliedOn: '2026-03-01', quantityThousandths: '3' }
    expect((await post('inputs/spreadings', spread)).status).toBe(303)
    for (const where of [`bed:${nursery}`, `garden:${lower}`, `garden:${bank}`]) {
      const hours = { place: where, time: '1:25', task: 'raising seedlings', workedOn: '2026-03-10' }
      expect((await post('weeks/2026-W11/hours', hours)).status).toBe(303)
    }
    expect((await weigh(trial, '5.25')).status).toBe(303)
    const { id } = await writeReport(trial, { rowsAgreed: 'yes' })
    const link = await shareReport(trial, id)
    const rows = rowsIn((await place.guest().get(`${link}/rows.csv?table=plantings`)).text)
    const shared = rows.filter((row) => row.area_cm2 !== row.written_area_cm2).map((row) => row.crop)
    expect(shared.sort()).toEqual(['carrot', 'carrot', 'potato', 'potato', 'spinach', 'spinach'])
    const spreadings = rowsIn((await place.guest().get(`${link}/rows.csv?table=spreadings`)).text)
    expect(spreadings.map((row) => row.by_rule)).toEqual(['1', '1'])
    const { code, stderr, counted } = await countAgain(await scriptOf(link))
    expect([code, stderr]).toEqual([0, stderr])
    expect(stderr).toContain('; 0 unlike the report')
    expect(counted.get('labour')).toBeGreaterThan(0)
  }, 240_000)
})
