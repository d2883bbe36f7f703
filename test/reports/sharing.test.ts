import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let report: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await weigh('8')
  report = newId()
  const fields = {
    id: report,
    title: 'Our first season',
    words: 'A wet spring.\n\n<b>Slugs</b> too.',
    season: trial.season,
  }
  await trial.keeper.post(`${trial.base}/reports`, fields)
})
afterAll(() => place.close())

const weigh = (marketable: string) => {
  const harvest = {
    id: newId(),
    plantingId: plantingOf(trial, 'carrot', 'Lower'),
    harvestedOn: '2026-01-28',
    marketable,
  }
  return trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, harvest)
}
const share = async (endsOn = '') => {
  const page = await trial.keeper.post(`${trial.base}/reports/${report}/links`, { endsOn })
  return /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
}
const yieldOn = (html: string) => rowOf(html, 'Marketable, kg per m² of bed')[1]

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
})

it('a frozen report does not move when the record does', async () => {
  const link = await share()
  await weigh('4')
  const live = await trial.keeper.get(`${trial.base}/compare?season=${trial.season}`)
  expect(yieldOn(live.text)).toContain('0.60')
  expect(yieldOn((await place.guest().get(link)).text)).toContain('0.40')
})

it('the figures of a shared report are there as JSON and CSV, as they were frozen', async () => {
  const link = await share()
  const guest = place.guest()
  const frozen = await guest.json<{ checksum: string; units: object; methods: { figures: { value: number }[] }[] }>(
    `${link}.json`,
  )
  expect(frozen.methods[0]?.figures[0]?.value).toBe(0.4)
  expect(frozen.checksum).toMatch(/^[0-9a-f]{64}$/)
  const csv = (await guest.get(`${link}.csv?table=methods`)).text
  expect(csv).toContain('Dug every spring,marketablePerBed,kg/m2,0.4,8000,200000,so far')
  expect((await guest.get(`${link}.csv?table=people`)).status).toBe(404)
  expect((await guest.get('/r/made-up.json')).status).toBe(404)
  expect(JSON.stringify(frozen)).not.toContain('Ada Rook')
})

it('a revoked, ended or made-up link is not there', async () => {
  const [revoked, ended] = [await share(), await share('2026-02-01')]
  const page = await trial.keeper.get(`${trial.base}/reports/${report}`)
  for (const found of page.text.matchAll(/action="([^"]+\/revoke)"/g)) await trial.keeper.post(found[1] ?? '')
  for (const link of [revoked, ended, '/r/made-up']) expect((await place.guest().get(link)).status).toBe(404)
})

it('only a keeper shares', async () => {
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(`${trial.base}/reports/${report}`)).status).toBe(200)
  expect((await reader.post(`${trial.base}/reports/${report}/links`, { endsOn: '' })).status).toBe(403)
})
