import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const close = () => `${trial.base}/seasons/${trial.season}/close`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''

it('what is still open is listed with its link, before the season is closed', async () => {
  const page = (await trial.keeper.get(close())).text
  // 1 August 2025 is a Friday: its week belongs to July, by the Thursday.
  const text = plain(page)
  expect(text).toContain('Lower Terrace: 43 weeks, the first of them 2025-W32')
  expect(text).toContain('Plantings that still stand carrot, Kestrel')
  expect(page).toContain(`${trial.base}/weeks/2025-W32`)
})

it('closing twice from one page is refused the second time, and counts what is changed afterwards', async () => {
  const version = versionIn((await trial.keeper.get(close())).text)
  expect((await trial.keeper.post(close(), { version })).status).toBe(303)
  expect((await trial.keeper.post(close(), { version })).status).toBe(409)
  expect(plain((await trial.keeper.get(close())).text)).toContain('Nothing has been changed since')
  const harvest = {
    id: newId(),
    plantingId: plantingOf(trial, 'carrot', 'Lower'),
    harvestedOn: '2026-01-28',
    marketable: '1',
  }
  await trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, harvest)
  expect(plain((await trial.keeper.get(close())).text)).toContain('1 entry was written or changed')
})

it('whether a loss lay outside the method cannot be said once the season is closed', async () => {
  const loss = { id: newId(), plantingId: plantingOf(trial, 'potato', 'Long'), lostOn: '2026-01-28', percent: '50' }
  const fields = { ...loss, cause: 'weather', alsoNextDoor: 'no' }
  const refused = await trial.keeper.post(`${trial.base}/weeks/2026-W05/losses`, { ...fields, outside: 'yes' })
  expect(plain(refused.text)).toContain('before its result is known')
  expect((await trial.keeper.post(`${trial.base}/weeks/2026-W05/losses`, { ...fields, outside: 'no' })).status).toBe(
    303,
  )
})
