import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { rowPage } from '../../src/exchange/history.page.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const harvest = newId()
const hours = newId()

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const { keeper, base } = trial
  const plantingId = plantingOf(trial, 'carrot', 'Long Bank')
  const weight = { id: harvest, plantingId, harvestedOn: '2026-01-28', marketable: '1.5', source: 'field' }
  await keeper.post(`${base}/weeks/2026-W05/harvests`, weight)
  const work = { id: hours, place: `garden:${trial.gardens.bank}`, task: 'weeding', time: '1:30' }
  await keeper.post(`${base}/weeks/2026-W05/hours`, work)
})
afterAll(() => place.close())

const correct = (fields: Record<string, string>, version: string) =>
  trial.keeper.post(`${trial.base}/correct/harvests/${harvest}`, {
    unmarketable: '0',
    why: '',
    pieces: '',
    ...fields,
    version,
  })

/** The lines of the page: number, time, who, what, change, why. */
const linesOf = (html: string) =>
  [...html.matchAll(/<tr><th scope="row" class="figure">[\s\S]*?<\/tr>/g)].map((row) =>
    [...row[0].matchAll(/<t[hd][^>]*>([\s\S]*?)<\/t[hd]>/g)].map((cell) => plain(cell[1] ?? '')),
  )

it('a correction is told with who, why, and what stood before and after, in words', async () => {
  await correct({ marketable: '2.25', pieces: '12' }, '1')
  const [line] = linesOf((await trial.keeper.get(`${trial.base}/history`)).text)
  expect(line?.slice(2)).toEqual([
    'Ada Rook',
    'harvest weight: carrot, Kestrel · Long Bank, Bed 1, 28 January 2026',
    'corrected Marketable weight, net: 1.5 kg → 2.250 kg Pieces or bunches, if counted: nothing → 12',
    'corrected on its page',
  ])
})

it('the page to correct a row leads a keeper to its history, from when it was written down', async () => {
  const page = await trial.keeper.get(`${trial.base}/correct/harvests/${harvest}`)
  const address = /href="([^"]+)">Its history/.exec(page.text)?.[1] ?? ''
  expect(address).toBe(`${trial.base}/history/harvests/${harvest}`)
  const story = plain((await trial.keeper.get(address)).text.split('<main')[1] ?? '')
  expect(story.indexOf('written down')).toBeLessThan(story.indexOf('corrected'))
  expect(story).toContain('Planting nothing carrot, Kestrel · Long Bank, Bed 1')
  expect(story).toContain('Marketable weight, net 1.5 kg 2.250 kg')
  const labour = await trial.keeper.get(`${trial.base}/correct/labour/${hours}`)
  expect(labour.text).toContain(`${trial.base}/history/labour_entries/${hours}`)
  expect(plain((await trial.keeper.get(`${trial.base}/history/labour_entries/${hours}`)).text)).toContain(
    'Person-hours nothing 1.50 h',
  )
})

it('a removal and its reason stand in it, by a recorder who has a name', async () => {
  const recorder = await place.joined(trial.keeper, 'recorder')
  await recorder.post(`${trial.base}/correct/labour/${hours}/removal`, { version: '1', reason: 'written twice' })
  const [line] = linesOf((await trial.keeper.get(`${trial.base}/history?table=labour_entries`)).text)
  expect(line?.slice(2, 5)).toEqual([
    'Ben Marsh',
    'labour entry: Long Bank, weeding, 2026-W05',
    expect.stringMatching(/^removed Removed: nothing → .* Why it was removed: nothing → written twice$/),
  ])
})

it('can be narrowed to one kind of row', async () => {
  const all = linesOf((await trial.keeper.get(`${trial.base}/history`)).text)
  const some = linesOf((await trial.keeper.get(`${trial.base}/history?table=methods`)).text)
  expect(some.map((line) => line[3])).toEqual(['method: Compost mulch', 'method: Dug every spring'])
  expect(all.length).toBeGreaterThan(some.length)
  for (const odd of ['table=people', 'table=%27', 'closed=abc', 'below=x', 'table=a&table=b'])
    expect((await trial.keeper.get(`${trial.base}/history?${odd}`)).status).toBe(200)
})

it('what was changed after a season closed is listed, as many as the page of the closing counts', async () => {
  const close = `${trial.base}/seasons/${trial.season}/close`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(close)).text)?.[1] ?? ''
  await trial.keeper.post(close, { version })
  expect((await trial.keeper.get(close)).text).not.toContain('Which, by whom and why')
  await correct({ marketable: '2.5', closedReason: 'read off wrongly' }, '2')
  await trial.keeper.post(`${trial.base}/gardens/methods`, { id: newId(), name: 'Hay' })
  const page = await trial.keeper.get(close)
  expect(page.text).toContain('1 entry was written or changed')
  const address = /href="([^"]+)">Which, by whom and why/.exec(page.text)?.[1] ?? ''
  const listed = linesOf((await trial.keeper.get(address)).text)
  expect(listed.map((line) => line[4])).toEqual([
    'corrected Marketable weight, net: 2.250 kg → 2.5 kg Pieces or bunches, if counted: 12 → nothing',
  ])
})

it('goes on by number, and every change is on exactly one page', async () => {
  for (let i = 0; i < 110; i++)
    await trial.keeper.post(`${trial.base}/gardens/sites`, { id: newId(), name: `Site ${i}` })
  const numbers: number[] = []
  let address = `${trial.base}/history`
  for (;;) {
    const page = await trial.keeper.get(address)
    numbers.push(...linesOf(page.text).map((line) => Number(line[0])))
    const older = /href="([^"]+)">Those before/.exec(page.text)?.[1]
    if (!older) break
    address = older.replaceAll('&amp;', '&')
  }
  expect(numbers.length).toBeGreaterThan(150)
  expect(numbers).toEqual(Array.from({ length: numbers.length }, (_, i) => numbers.length - i))
})

it('has a word for every kind of row that it keeps', async () => {
  const kept = (await place.database.drizzle.execute(sql`select c.relname::text as name from pg_trigger t
    join pg_class c on c.oid = t.tgrelid where t.tgname = 'history_of_inserts' order by 1`)) as unknown as {
    rows: { name: string }[]
  }
  expect(kept.rows.length).toBeGreaterThan(30)
  expect(kept.rows.map((row) => row.name).filter((name) => !(name in catalogue.history.tables))).toEqual([])
})

it('is for keepers, and of this group alone', async () => {
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(`${trial.base}/history`)).status).toBe(403)
  expect((await reader.get(`${trial.base}`)).text).not.toContain('>History<')
  expect((await trial.keeper.get(trial.base)).text).toContain('>History<')
  const other = await place.keeper()
  expect((await other.get(`/g/${other.slug}/history/harvests/${harvest}`)).status).toBe(404)
})

it('of every row that the demo holds can be read', async () => {
  const keeper = await place.person()
  const slug = (await keeper.post('/demo/copy')).location.split('/')[2] ?? ''
  const page = await keeper.get(`/g/${slug}/history`)
  const rows = [...page.text.matchAll(/href="([^"]+\/history\/[^"]+)"/g)].map((found) => found[1] ?? '')
  expect(rows.length).toBe(100)
  for (const address of rows.slice(0, 20)) expect((await keeper.get(address)).status).toBe(200)
  expect((await keeper.get(`/g/${slug}/history?closed=`)).status).toBe(200)
})

it('a day and a time that are none are shown as they stand, not refused', () => {
  const change = { number: 1, tableName: 'harvests', rowId: newId(), changedAt: new Date(0), personId: null }
  const after = { harvested_on: '2026-99-99', closed_at: '2026-01-01T99:00:00Z' }
  const at = { slug: 'a', locale: 'en-NZ', timeZone: 'UTC', currency: 'NZD', names: new Map<string, string>() }
  const page = rowPage([{ ...change, person: null, reason: null, before: {}, after }], at)
  expect(page.changes[0]?.fields.map((field) => field.after).sort()).toEqual(['2026-01-01T99:00:00Z', '2026-99-99'])
})
