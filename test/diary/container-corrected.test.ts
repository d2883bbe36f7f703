import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { reckonedAnew, tareThen } from '../../src/diary/container-rule.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const crate = newId()
const weights: string[] = []
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await trial.keeper.post(`${week('05')}/containers`, { id: crate, name: 'Blue crate', tareG: '1.2 kg' })
  await weigh('05', 'Long', '2026-01-29', { marketable: '5' })
  await weigh('06', 'Lower', '2026-02-04', { marketable: '4' })
  await weigh('07', 'Long', '2026-02-11', { unmarketable: '3', why: 'damage' })
})
afterAll(() => place.close())

const week = (number: string) => `${trial.base}/weeks/2026-W${number}`
const address = () => `${trial.base}/correct/containers/${crate}`
const row = (html: string) =>
  [...html.matchAll(/<tr>\s*<th scope="row">([\s\S]*?)<\/tr>/g)].map((one) => plain(one[1] ?? '').replace(/\s+/g, ' '))

async function weigh(number: string, garden: string, harvestedOn: IsoDate, typed: object) {
  const id = newId()
  const plantingId = plantingOf(trial, 'potato', garden)
  const answer = await trial.keeper.post(`${week(number)}/harvests`, {
    ...{ id, plantingId, harvestedOn, containerId: crate, ...typed },
  })
  expect(answer.status).toBe(303)
  weights.push(id)
}

it('an empty weight that was wrong says which weights it changes, and changes them once that is looked at', async () => {
  const page = await trial.keeper.get(address())
  expect(plain(page.text)).toContain('Weighed with it')
  expect(row(page.text)[1]).toMatch(/potato, Heron, Lower Terrace/)
  expect(row(page.text).map((one) => one.match(/[\d.]+ kg/g))).toEqual([
    ['5.0 kg', '3.8 kg', '3.8 kg'],
    ['4.0 kg', '2.8 kg', '2.8 kg'],
    ['3.0 kg', '1.8 kg', '1.8 kg'],
  ])
  const typed = { version: '1', name: 'Blue crate', tareG: '1.4 kg', since: '2026-02-01', surely: '' } as const
  const asked = await trial.keeper.post(address(), typed)
  expect([asked.status, plain(asked.text).includes('This changes 2 weights')]).toEqual([422, true])
  expect(row(asked.text).map((one) => one.match(/[\d.]+ kg/g)?.[2])).toEqual(['3.8 kg', '2.6 kg', '1.6 kg'])
  expect((await trial.keeper.post(address(), { ...typed, surely: 'yes' })).status).toBe(303)
  const now = await trial.keeper.get(address())
  expect(row(now.text).map((one) => one.match(/[\d.]+ kg/g)?.[1])).toEqual(['3.8 kg', '2.6 kg', '1.6 kg'])
  expect(plain((await trial.keeper.get(`${trial.base}/history/harvests/${weights[1]}`)).text)).toMatch(
    /2\.8[\s\S]*2\.6/,
  )
})

it('what stands in a closed week stays, and is named', async () => {
  const closing = { gardenId: trial.gardens.lower, what: 'weights' }
  expect((await trial.keeper.post(`${week('06')}/closings`, closing)).status).toBe(303)
  const typed = { version: '2', name: 'Blue crate', tareG: '1 kg', since: '', surely: '' }
  const asked = await trial.keeper.post(address(), typed)
  expect([asked.status, plain(asked.text).includes('This changes 2 weights')]).toEqual([422, true])
  expect(plain(asked.text)).toContain('its week is closed: stays')
  expect(row(asked.text).map((one) => one.match(/[\d.]+ kg/g)?.[2])).toEqual(['4.0 kg', '2.6 kg', '2.0 kg'])
  expect((await trial.keeper.post(address(), { ...typed, surely: 'yes' })).status).toBe(303)
  await trial.keeper.post(`${week('06')}/reopenings`, { ...closing, reason: 'the crate was wrong' })
  expect((await trial.keeper.post(address(), { ...typed, version: '3', surely: 'yes' })).status).toBe(303)
  const now = await trial.keeper.get(address())
  expect(row(now.text).map((one) => one.match(/[\d.]+ kg/g)?.[1])).toEqual(['4.0 kg', '3.0 kg', '2.0 kg'])
})

it('it cannot weigh more than the scale showed, nor go while weights rest on it, nor change twice at once', async () => {
  const typed = { version: '4', name: 'Blue crate', tareG: '3.5 kg', since: '', surely: 'yes' }
  const heavy = await trial.keeper.post(address(), typed)
  expect([heavy.status, plain(heavy.text).includes('The scale showed less than that')]).toEqual([422, true])
  const removal = await trial.keeper.post(`${address()}/removal`, { version: '4', reason: 'broken' })
  expect([removal.status, plain(removal.text).includes('Other entries rest on this one')]).toEqual([422, true])
  const answers = await Promise.all([
    trial.keeper.post(address(), { ...typed, tareG: '1.1 kg' }),
    trial.keeper.post(address(), { ...typed, tareG: '1.3 kg' }),
  ])
  expect(answers.map((one) => one.status).sort()).toEqual([303, 409])
})

it('the weight of a corrected entry is reckoned with the crate as it weighed on its day', async () => {
  const page = await trial.keeper.get(address())
  const version = /name="version" value="(\d+)"/.exec(page.text)?.[1] ?? ''
  const later = { version, name: 'Blue crate', tareG: '2 kg', since: '2026-02-10', surely: 'yes' } as const
  expect((await trial.keeper.post(address(), later)).status).toBe(303)
  const entry = `${trial.base}/correct/harvests/${weights[0]}`
  const shown = (await trial.keeper.get(entry)).text
  const corrected = await trial.keeper.post(entry, {
    ...{ version: /name="version" value="(\d+)"/.exec(shown)?.[1] ?? '', harvestedOn: '2026-01-29' },
    ...{ plantingId: plantingOf(trial, 'potato', 'Long'), containerId: crate, marketable: '6' },
    ...{ unmarketable: '', why: '', pieces: '' },
  })
  expect(corrected.status).toBe(303)
  const net = row((await trial.keeper.get(address())).text)[0]?.match(/[\d.]+ kg/g)
  expect(['4.9 kg', '4.7 kg']).toContain(net?.[1])
})

it('reckons by hand', () => {
  const one = {
    id: 'a',
    version: 1,
    harvestedOn: '2026-01-29',
    marketableG: 3800,
    unmarketableG: 200,
    grossG: 5000,
  } as const
  const bad = { ...one, id: 'b', marketableG: 0, unmarketableG: 1800, grossG: 3000 }
  expect([tareThen(one), tareThen(bad)]).toEqual([1200, 1200])
  const rows = [
    { ...one, closed: false },
    { ...bad, closed: true },
    { ...one, id: 'c', grossG: 1300, marketableG: 100, closed: false },
  ]
  const anew = reckonedAnew(rows, { tareG: 1350, since: null })
  expect(anew.changed.map(({ row: { id }, marketableG, unmarketableG }) => [id, marketableG, unmarketableG])).toEqual([
    ['a', 3650, 200],
  ])
  expect([anew.left.map((x) => x.id), anew.tooLight.map((x) => x.id)]).toEqual([['b'], ['c']])
})
