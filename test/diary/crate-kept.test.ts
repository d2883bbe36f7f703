import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const week = () => `${trial.base}/weeks/2026-W05`
const valueIn = (html: string, name: string) => new RegExp(`name="${name}"[^>]*value="([^"]*)"`).exec(html)?.[1]

it('a weight that is corrected keeps its crate and what the scale showed, and its net is reckoned anew', async () => {
  const crate = newId()
  await trial.keeper.post(`${week()}/containers`, { id: crate, name: 'Blue crate', tareG: '1.2 kg' })
  const weighed = { id: newId(), plantingId: plantingOf(trial, 'potato', 'Long'), harvestedOn: '2026-01-29' }
  const saved = await trial.keeper.post(`${week()}/harvests`, { ...weighed, containerId: crate, marketable: '5' })
  expect(saved.status).toBe(303)
  const address = `${trial.base}/correct/harvests/${weighed.id}`
  const page = (await trial.keeper.get(address)).text
  expect(page).toContain(`<option value="${crate}" selected>Blue crate`)
  expect(valueIn(page, 'marketable')).toBe('5 kg')
  const typed = { version: '1', plantingId: weighed.plantingId, harvestedOn: '2026-01-29', unmarketable: '', why: '' }
  const corrected = { ...typed, containerId: crate, marketable: '6', pieces: '' }
  expect((await trial.keeper.post(address, corrected)).status).toBe(303)
  const again = (await trial.keeper.get(address)).text
  expect([valueIn(again, 'marketable'), again.includes(`<option value="${crate}" selected>`)]).toEqual(['6 kg', true])
  const story = plain((await trial.keeper.get(`${trial.base}/history/harvests/${weighed.id}`)).text)
  expect(story).toMatch(/4\.8/)
  const less = await trial.keeper.post(address, { ...corrected, version: '2', marketable: '1' })
  expect([less.status, plain(less.text).includes('less than the empty container')]).toEqual([422, true])
  // Without the crate the weight is taken as it is typed.
  expect((await trial.keeper.post(address, { ...corrected, version: '2', containerId: '' })).status).toBe(303)
  expect(valueIn((await trial.keeper.get(address)).text, 'marketable')).toBe('6 kg')
})

it('a weight after all of it was lost is asked about once', async () => {
  const plantingId = plantingOf(trial, 'carrot', 'Long')
  const lost = { id: newId(), plantingId, lostOn: '2026-01-27', percent: '100', cause: 'pest', outside: 'no' }
  expect((await trial.keeper.post(`${week()}/losses`, { ...lost, alsoNextDoor: 'no' })).status).toBe(303)
  const weighed = { id: newId(), plantingId, harvestedOn: '2026-01-29', marketable: '2' }
  const asked = await trial.keeper.post(`${week()}/harvests`, weighed)
  expect([asked.status, plain(asked.text).includes('Was this picked all the same?')]).toEqual([422, true])
  expect((await trial.keeper.post(`${week()}/harvests`, { ...weighed, surely: 'yes' })).status).toBe(303)
})

it('"2 x 1" with six people is a slip and says so', async () => {
  const hours = { id: newId(), place: `garden:${trial.gardens.bank}`, task: 'weeding', time: '2 x 1', people: '6' }
  const answer = await trial.keeper.post(`${week()}/hours`, { ...hours, workedOn: '' })
  expect([answer.status, plain(answer.text).includes('another number. Say it once')]).toEqual([422, true])
})
