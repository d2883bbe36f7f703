import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parse } from 'csv-parse/sync'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { figureTablesIn } from '../../src/reports/figure-tables.ts'
import { rowTableNames } from '../../src/reports/row-tables.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { aDay } from '../support/calendar.ts'
import { wholeCompare } from '../support/compare.ts'
import { choicesIn, setUpTrial } from '../support/trial.ts'
import { oddTrial, type Shape } from './odd-trials.ts'
import { countAgain, hasR, reportOn, saveReport } from './recompute-folder.ts'
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

it('a report that was frozen before its figures were kept as tables gives those that it holds, and counts none from today', () => {
  const { contents } = reportOn(oddTrial({ seed: 1, methods: 2, seasons: 2, laid: ['A', 'B'] }), null)
  const { tables: _since, ...earlier } = contents
  expect([...figureTablesIn(earlier).keys()]).toEqual(['methods', 'matched-crops', 'totals', 'findings'])
  expect([...figureTablesIn(contents).keys()]).toContain('labour')
  expect(figureTablesIn(earlier).get('findings')).toEqual(figureTablesIn(contents).get('findings'))
  expect([...figureTablesIn({ ...earlier, page: {} }).keys()]).toEqual(['methods', 'matched-crops', 'totals'])
})

const odd: Record<string, Omit<Shape, 'seed'>> = {
  'one garden empty, half of it failed, open weeks, unpriced inputs, two crops on a bed': {
    ...{ methods: 3, seasons: 3, laid: ['AA', 'BB', 'C', '..'], bare: 'C' },
    ...{ failing: 0.3, open: 0.05, standing: 0.03, uniformYear: true },
  },
  'few open weeks': { methods: 2, seasons: 3, laid: ['AA', 'BB'], open: 0.02, uniformYear: true },
  'crops sown more than once in a season': {
    ...{ methods: 2, seasons: 3, laid: ['AAA', 'BBB'], failing: 0.1, uniformYear: true },
    crops: ['carrot', 'carrot', 'potato', 'carrot', 'chard'],
  },
  'crops sown more than once in split gardens': {
    ...{ methods: 2, seasons: 2, laid: ['AB', 'BA', 'AB'], crops: ['carrot', 'potato', 'carrot'] },
  },
  'ground that comes and goes within its seasons': {
    ...{ methods: 2, seasons: 3, laid: ['AAAA', 'BBBB', 'ABAB'], moving: true, uniformYear: true },
  },
  'few open weeks on ground that comes and goes': {
    ...{ methods: 2, seasons: 3, laid: ['AB', 'BA', 'AB'], moving: true, open: 0.02, crops: ['carrot'] },
  },
  'other crops in every season': { methods: 2, seasons: 3, laid: ['AA', 'BB'], changing: true, relaid: true },
  'what stands over seasons and does not bear yet, with few open weeks': {
    ...{ methods: 2, seasons: 3, laid: ['AAA', 'BBB'], establishing: 0.3, open: 0.02 },
  },
  'nothing at all came off it': { methods: 2, seasons: 2, laid: ['A', 'B'], failing: 1 },
  'gardens within sites': { methods: 2, seasons: 2, laid: ['AA', 'BB', 'A', 'B', 'AA', 'B'], sites: true },
  'split gardens': { methods: 3, seasons: 2, laid: ['ABC', 'ABC', 'CBA'], crops: ['carrot', 'potato'] },
  'few open weeks in split gardens': {
    methods: 2,
    seasons: 3,
    laid: ['AB', 'BA', 'AB'],
    open: 0.02,
    crops: ['carrot'],
  },
  'few open weeks in gardens of one method': {
    ...{ methods: 2, seasons: 3, laid: ['A', 'A', 'B', 'B'], open: 0.02, crops: ['carrot'] },
  },
  'other crops in every season of split gardens': {
    ...{ methods: 2, seasons: 3, laid: ['AB', 'BA', 'AB'], changing: true, crops: ['carrot', 'potato'] },
  },
  'blocks of beds': { methods: 2, seasons: 3, laid: ['ABBAAB'], blocks: true, crops: ['carrot'] },
  'ground that took turns': {
    methods: 2,
    seasons: 4,
    laid: ['A', 'B', 'AA'],
    turned: ['B', 'A', 'BB'],
    crops: ['carrot'],
  },
}

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

  it.each(Object.entries(odd))(
    'and of a trial with %s',
    async (name, shape) => {
      for (const season of name.includes('open weeks') ? [null, 's1'] : [null]) {
        const own = join(folder, newId())
        const tables = saveReport(own, reportOn(oddTrial({ ...shape, seed: 3 }), season))
        const { code, counted, stderr } = await countAgain(join(own, 'recompute.R'), own)
        expect([code, stderr]).toEqual([0, stderr])
        const figures = [...tables].map(([table, rows]) => [table, rows.length - 1] as const)
        expect([...counted].filter(([, count]) => count > 0)).toEqual(figures.filter(([, count]) => count > 0))
      }
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

  it('counts as a question fixed it: another reference, other rules, wider intervals', async () => {
    const rules = {
      weights: 'all',
      mix: 'equal parts',
      outsideLosses: 'set left out',
      crops: ['carrot', 'potato'],
    } as const
    const question = {
      ...{ question: 'Which gives more?', referenceId: 'B', primaryMeasure: 'matched yield', seasonsToLookAt: 2 },
      ...{ sentenceIfSeen: '', sentenceIfNotSeen: '', rules, lockedOn: aDay('2020-01-01'), marginPercent: 10 },
      pairs: [{ methodA: 'A', methodB: 'B' }],
    } as const
    const own = join(folder, newId())
    const trial = oddTrial({ seed: 8, methods: 3, seasons: 3, laid: ['AA', 'BB', 'CC'] })
    saveReport(own, reportOn(trial, null, question))
    expect(readFileSync(join(own, 'recompute.R'), 'utf8')).toMatch(
      /level_of <- c\("A", "C"\)\nlevel_values <- c\(0.95, 0.975\)/,
    )
    expect(await countAgain(join(own, 'recompute.R'), own)).toMatchObject({ code: 0 })
  }, 240_000)

  it('says which tables are unlike where one row is changed, or one figure', async () => {
    const own = join(folder, newId())
    const trial = oddTrial({ seed: 5, methods: 2, seasons: 3, laid: ['AA', 'BB'] })
    saveReport(own, reportOn(trial, null))
    const changed = (file: string, from: RegExp, to: (found: string) => string) => {
      const before = readFileSync(join(own, file), 'utf8')
      const after = before.replace(from, to)
      expect(after).not.toBe(before)
      writeFileSync(join(own, file), after)
      return () => writeFileSync(join(own, file), before)
    }
    const unlike = async () => {
      const { code, apart } = await countAgain(join(own, 'recompute.R'), own)
      return [code, apart]
    }
    expect(await unlike()).toEqual([0, []])
    const restoreGrams = changed('harvests.csv', /(?<=-\d\d,)\d+(?=,)/, (grams) => String(Number(grams) + 10))
    const [code, tables] = await unlike()
    expect(code).toBe(1)
    expect(tables).toEqual(expect.arrayContaining(['methods', 'matched-crops', 'totals', 'seasons', 'losses']))
    restoreGrams()
    const restoreLoss = changed('losses.csv', /slugs/, () => 'voles')
    expect(await unlike()).toEqual([1, ['losses']])
    restoreLoss()
    changed('figures-labour.csv', /(?<=h\/m2,)\d/, (digit) => String((Number(digit) + 1) % 10))
    expect(await unlike()).toEqual([1, ['labour']])
  }, 240_000)

  it('counts the two tables of a report that was frozen with fewer columns in its rows', async () => {
    const own = join(folder, newId())
    const { contents, rows } = reportOn(oddTrial({ seed: 6, methods: 2, seasons: 2, laid: ['A', 'B'] }), null)
    const { tables: _since, ...earlier } = contents
    const columns = { seasons: 5, methods: 2, gardens: 3, beds: 3, assignments: 6, plantings: 9, harvests: 6 }
    const widths: Readonly<Record<string, number>> = { ...columns, losses: 5, labour: 9, spreadings: 4, closings: 3 }
    const narrow = rowTableNames.map((name) => [name, rows[name].map((row) => row.slice(0, widths[name] ?? 0))])
    saveReport(own, { contents: earlier, rows: Object.fromEntries(narrow) })
    const { code, counted, stderr } = await countAgain(join(own, 'recompute.R'), own)
    expect([code, stderr]).toEqual([0, stderr])
    expect([...counted.keys()]).toEqual(['methods', 'matched-crops'])
  }, 240_000)
})
