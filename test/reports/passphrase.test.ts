import { afterAll, beforeAll, expect, it } from 'vitest'
import { passFor, passIsGood, passMinutes } from '../../src/reports/pass.queries.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'
import { shareReport, writeReport } from './reports.ts'

let place: Place
let trial: Trial
let report: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  report = (await writeReport(trial, { words: 'Between us.' })).id
})
afterAll(() => place.close())

const passphrase = 'hay before the gale'
const share = () => shareReport(trial, report, { passphrase })
const cookiesIn = (answer: { headers: Record<string, string> }) =>
  [answer.headers['set-cookie'] ?? []].flat() as string[]

it('a link with a passphrase shows a plain form, nothing of the report and no cookie', async () => {
  const link = await share()
  const answer = await place.guest().get(link)
  expect(answer.status).toBe(200)
  expect(plain(answer.text)).toContain('This report asks for a passphrase')
  expect(answer.text).not.toMatch(/Between us|Our first season|Quern Hill/)
  expect(cookiesIn(answer)).toEqual([])
  for (const path of [
    '.json',
    '.csv?table=methods',
    '/rows.csv?table=beds',
    '/recompute.R',
    '/pictures/picture-yields.svg',
  ]) {
    expect((await place.guest().get(link + path)).status).toBe(404)
  }
})

it('the right passphrase opens the report and its files, for this link alone and for a while', async () => {
  const [link, other] = [await share(), await share()]
  const guest = place.guest()
  const wrong = await guest.post(link, { passphrase: 'straw before the gale' })
  expect([wrong.status, cookiesIn(wrong)]).toEqual([422, []])
  expect(wrong.text).toContain('This is not the passphrase.')
  const right = await guest.post(link, { passphrase })
  expect([right.status, right.location]).toEqual([303, link])
  expect(cookiesIn(right).map((line) => /Path=([^;]+)/.exec(line)?.[1])).toEqual([link, `${link}.json`, `${link}.csv`])
  for (const line of cookiesIn(right)) expect(line).toMatch(/Max-Age=7200.*HttpOnly.*SameSite=Lax/)
  expect((await guest.get(link)).text).toContain('Between us.')
  expect((await guest.get(`${link}.json`)).status).toBe(200)
  expect((await guest.get(other)).text).not.toContain('Between us.')
})

it('a pass that was made up, is another link’s or has run out opens nothing', () => {
  const link = { id: 'one', key: 'the stored hash' }
  const good = passFor(link, 1_000)
  expect(passIsGood(good, link, 1_000)).toBe(true)
  expect(passIsGood(good, link, 1_000 + passMinutes * 60_000 + 1)).toBe(false)
  expect(passIsGood(good, { ...link, id: 'two' }, 1_000)).toBe(false)
  expect(passIsGood(good, { ...link, key: 'a new passphrase' }, 1_000)).toBe(false)
  const later = `${Number(good.split('.')[0]) + 60_000}.${good.split('.')[1]}`
  for (const made of [later, '', '.', 'x.y', undefined, good.slice(0, -1)]) {
    expect(passIsGood(made, link, 1_000)).toBe(false)
  }
})

it('tries are limited, for each who tries', async () => {
  const link = await share()
  const guest = place.guest()
  guest.forwardedFor = '10.20.30.40'
  const statuses: number[] = []
  for (let tries = 0; tries < 12; tries++) {
    statuses.push((await guest.post(link, { passphrase: 'guessing' })).status)
  }
  expect(statuses).toEqual([...Array.from({ length: 10 }, () => 422), 429, 429])
  expect((await guest.post(link, { passphrase })).status).toBe(429)
  const other = place.guest()
  other.forwardedFor = '10.20.30.41'
  expect((await other.post(link, { passphrase })).status).toBe(303)
})

it('a form from another site is refused, and a short passphrase is not taken', async () => {
  const link = await share()
  expect((await place.guest().post(link, { passphrase }, 'https://elsewhere.example')).status).toBe(403)
  const page = await trial.keeper.post(`${trial.base}/reports/${report}/links`, { endsOn: '', passphrase: 'short' })
  expect(page.status).toBe(422)
  expect(page.text).toContain('At least eight letters, please.')
})

it('a passphrase is stored as a hash and never shown again', async () => {
  await share()
  const rows = await place.database.drizzle.execute('select passphrase_hash as hash from share_links')
  const hashes = (rows as unknown as { rows: { hash: string | null }[] }).rows
  expect(hashes.length).toBeGreaterThan(0)
  for (const { hash } of hashes) expect(hash).toMatch(/^\$argon2id\$v=19\$m=19456,t=2,p=1\$/)
  expect((await trial.keeper.get(`${trial.base}/reports/${report}`)).text).not.toContain(passphrase)
})

it('a hall opens one link from one address: right tries are not counted', async () => {
  const open = await share()
  const statuses = []
  for (let guest = 0; guest < 12; guest++) statuses.push((await place.guest().post(open, { passphrase })).status)
  expect(new Set(statuses)).toEqual(new Set([303]))
})
