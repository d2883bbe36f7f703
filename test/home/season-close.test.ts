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

/** Corrects how many plants a planting has, leaving the rest of its form as it stands. */
async function counted(id: string, plants: string) {
  const address = `${trial.base}/correct/plantings/${id}`
  const { text } = await trial.keeper.get(address)
  const inputs = [...text.matchAll(/<input[^>]*name="(\w+)"[^>]*value="([^"]*)"/g)].map((one) => [one[1], one[2]])
  const hidden = { version: versionIn(text), how: 'direct', purpose: 'harvest', interplanted: 'no', matchedSetId: '' }
  const answer = await trial.keeper.post(address, {
    ...Object.fromEntries(inputs),
    ...hidden,

    plants,
  })
  expect(answer.status).toBe(303)
}

it('a planting cleared with nothing weighed is an unmarked loss, and a crate shared by plants nobody counted is unsplit', async () => {
  const week = `${trial.base}/weeks/2026-W05`
  const [potato, other] = [plantingOf(trial, 'potato', 'Lower'), plantingOf(trial, 'potato', 'Long')]
  await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, {
    plantingId: potato,
    clearedOn: '2026-02-01',
  })
  const named = async () => {
    const text = plain((await trial.keeper.get(close())).text)
    return [text.includes('no loss written down potato, Heron'), text.includes('a crate of 2026-W05, shared by plants')]
  }
  expect(await named()).toEqual([true, false])
  const crate = {
    id: newId(),
    shareRule: 'plants',
    plantingIds: [potato, other],
    harvestedOn: '2026-01-28',
    marketable: '3',
  }
  for (const id of [potato, other]) await counted(id, '20')
  expect((await trial.keeper.post(`${week}/shared-harvests`, crate)).status).toBe(303)
  expect(await named()).toEqual([false, false])
  await counted(other, '')
  expect(await named()).toEqual([false, true])
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
