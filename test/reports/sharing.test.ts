import { createHash } from 'node:crypto'
import { sql } from 'drizzle-orm'
import request from 'supertest'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { canonicalJson } from '../../src/reports/frozen.ts'
import { openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { shareReport, weigh, writeReport } from './reports.ts'

let place: Place
let trial: Trial
let report: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await weigh(trial, '8')
  report = (await writeReport(trial, { words: 'A wet spring.\n\n<b>Slugs</b> too.' })).id
})
afterAll(() => place.close())

const share = (given: Record<string, string> = {}) => shareReport(trial, report, given)
const yieldOn = (html: string) => rowOf(html, 'Marketable, kg per m² of bed')[1]
const cookiesIn = (answer: { headers: Record<string, string> }) => [answer.headers['set-cookie'] ?? []].flat()

it('a guest reads the report without an account, and finds no name of a person and no way in', async () => {
  const answer = await place.guest().get(await share())
  expect(answer.status).toBe(200)
  expect(plain(answer.text)).toContain('A wet spring.')
  expect(answer.text).toContain('&lt;b&gt;Slugs')
  expect(yieldOn(answer.text)).toBe('0.40 so far on 20.0 m², 2 plantings')
  expect(answer.text).not.toContain('Ada Rook')
  expect(answer.text).not.toContain('/g/')
  expect(answer.headers['referrer-policy']).toBe('no-referrer')
  expect(answer.headers['x-robots-tag']).toContain('noindex')
  expect(cookiesIn(answer)).toEqual([])
})

it('a frozen report does not move when the record does', async () => {
  const link = await share()
  await weigh(trial, '4')
  const live = await wholeCompare(trial.keeper, `${trial.base}/compare?season=${trial.season}`)
  expect(yieldOn(live.text)).toContain('0.60')
  expect(yieldOn((await place.guest().get(link)).text)).toContain('0.40')
})

interface Frozen {
  readonly checksum: string
  readonly dataCutOff: number
  readonly serviceVersion: string
  readonly figures: { readonly methods: { readonly figures: { readonly value: number }[] }[] }
}

it('the figures of a shared report are there as JSON and CSV, as they were frozen', async () => {
  const link = await share()
  const guest = place.guest()
  const frozen = await guest.json<Frozen>(`${link}.json`)
  expect(frozen.figures.methods[0]?.figures[0]?.value).toBe(0.4)
  expect(frozen.serviceVersion).toMatch(/^\d+\.\d+\.\d+$/)
  expect(frozen.dataCutOff).toBeGreaterThan(0)
  const csv = (await guest.get(`${link}.csv?table=methods`)).text
  expect(csv).toContain('Dug every spring,marketablePerBed,kg/m2,0.4,8000,200000,so far')
  expect((await guest.get(`${link}.csv?table=people`)).status).toBe(404)
  expect((await guest.get('/r/made-up.json')).status).toBe(404)
  expect(JSON.stringify(frozen)).not.toContain('Ada Rook')
})

it('whoever has the JSON can check that its figures are those of the page', async () => {
  const link = await share()
  const { checksum, figures } = await place.guest().json<Frozen>(`${link}.json`)
  expect(createHash('sha256').update(canonicalJson(figures)).digest('hex')).toBe(checksum)
  expect((await place.guest().get(link)).text).toContain(`<code>${checksum}</code>`)
  const [method] = figures.methods
  const other = { ...figures, methods: [{ ...method, figures: [] }, ...figures.methods.slice(1)] }
  expect(createHash('sha256').update(canonicalJson(other)).digest('hex')).not.toBe(checksum)
})

it('a revoked, ended or made-up link is not there, and leaves no cookie behind', async () => {
  const [revoked, ended] = [await share(), await share({ endsOn: '2026-02-01' })]
  const page = await trial.keeper.get(`${trial.base}/reports/${report}`)
  for (const found of page.text.matchAll(/action="([^"]+\/revoke)"/g)) await trial.keeper.post(found[1] ?? '')
  for (const link of [revoked, ended, '/r/made-up']) {
    const answer = await place.guest().get(link)
    expect([link, answer.status, cookiesIn(answer)]).toEqual([link, 404, []])
  }
})

it('only a keeper shares', async () => {
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(`${trial.base}/reports/${report}`)).status).toBe(200)
  expect((await reader.post(`${trial.base}/reports/${report}/links`, { endsOn: '' })).status).toBe(403)
})

it('how often a link was opened is counted by day, and nothing is kept about who', async () => {
  const link = await share()
  const mine = (await trial.keeper.get(`${trial.base}/reports/${report}`)).text
  expect(plain(mine)).toContain('It has not been opened yet.')
  for (let times = 0; times < 3; times++) await place.guest().get(link)
  await place.guest().get(`${link}.json`)
  // Nobody reads the head alone.
  expect((await request(place.app.server).head(link)).status).toBe(200)
  await expect
    .poll(async () => plain((await trial.keeper.get(`${trial.base}/reports/${report}`)).text), { timeout: 8000 })
    .toMatch(/Times \d{1,2} \w+ \d{4} 3 /)
})

it('a link looked at before it is opened says what it is, without a figure', async () => {
  const { text } = await place.guest().get(await share())
  const about = /<meta name="description" content="([^"]*)">/.exec(text)?.[1] ?? ''
  expect(about).toBe(
    'A report of the growing group Quern Hill Growers on its trial gardens (2025/26): what was measured, on what ground, and what cannot be told from it.',
  )
  expect(text).toContain('<meta property="og:title" content="Our first season">')
  expect(text).toContain(`<meta property="og:description" content="${about}">`)
  expect(about.replace('2025/26', '')).not.toMatch(/\d/)
})

it('nobody is named until a keeper wrote down that they agreed, and no longer once it is taken back', async () => {
  const link = await share()
  const names = `${trial.base}/reports/names`
  const form = (await trial.keeper.get(names)).text
  const [id] = /value="([0-9a-f-]{36})"/.exec(form)?.slice(1) ?? []
  expect(form).not.toContain('checked')
  await trial.keeper.post(names, { agreed: [id] })
  expect(plain((await place.guest().get(link)).text)).toContain('Written down by, among others: Ada Rook')
  await trial.keeper.post(names, {})
  expect((await place.guest().get(link)).text).not.toContain('Ada Rook')
})

it('a frozen report whose figures were changed outside says so, and is no fault of the service', async () => {
  const damage = (statement: ReturnType<typeof sql>) => place.database.drizzle.execute(statement)
  await damage(sql`alter table reports disable trigger user`)
  for (const contents of [
    sql`jsonb_set(contents, '{table,matched}', '"none"')`,
    sql`jsonb_set(contents, '{locale}', '"no such!"')`,
  ]) {
    const { id } = await writeReport(trial, { words: 'Kept elsewhere.' })
    const link = await shareReport(trial, id, {})
    await damage(sql`update reports set contents = ${contents} where id = ${id}::uuid`)
    const answer = await place.guest().get(link)
    expect([answer.status, plain(answer.text).includes('What this report kept cannot be read')]).toEqual([422, true])
  }
  await damage(sql`alter table reports enable trigger user`)
})
