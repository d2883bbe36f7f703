import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const week = () => `${trial.base}/weeks/2026-W05`
const inputs = () => `${trial.base}/inputs`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const sentence = 'What it says now is another entry and not stored yet'
type Fields = Record<string, unknown>

/** Sends a form, the same once more, then another one under its id: that is told, gets an id of its own, and is stored with it. */
async function sentTwice(address: string, fields: Fields, otherwise: Fields) {
  const form = { id: newId(), ...fields }
  expect((await trial.keeper.post(address, form)).status).toBe(303)
  expect((await trial.keeper.post(address, form)).status).toBe(303)
  const told = await trial.keeper.post(address, { ...form, ...otherwise })
  expect([told.status, plain(told.text).includes(sentence)]).toEqual([422, true])
  const fresh = told.text.split(`action="${address}"`)[1]?.match(/name="id" value="([^"]+)"/)?.[1] ?? ''
  expect(fresh).not.toBe(form.id)
  expect((await trial.keeper.post(address, { ...form, ...otherwise, id: fresh })).status).toBe(303)
  return [form.id, fresh] as const
}

it('another weight under the id of a form is never answered as saved', async () => {
  const plantingId = plantingOf(trial, 'carrot', 'Lower')
  const weighed = { plantingId, harvestedOn: '2026-01-27', marketable: '2' }
  await sentTwice(`${week()}/harvests`, weighed, { marketable: '7,5' })
  expect(plain((await trial.keeper.get(`${week()}/ledger`)).text)).toMatch(/2\.0 kg.*7\.5 kg/)
})

it('what was taken back is stored anew when it is sent once more', async () => {
  const plantingId = plantingOf(trial, 'potato', 'Lower')
  const weighed = { id: newId(), plantingId, harvestedOn: '2026-01-27', marketable: '3,3' }
  expect((await trial.keeper.post(`${week()}/harvests`, weighed)).status).toBe(303)
  const removal = { entry: `harvests:${weighed.id}`, reason: 'Undone' }
  expect((await trial.keeper.post(`${week()}/removals`, removal)).status).toBe(303)
  const told = await trial.keeper.post(`${week()}/harvests`, weighed)
  expect([told.status, plain(told.text).includes(sentence)]).toEqual([422, true])
})

it('shared crates and hours are held against what stands with their shares', async () => {
  const plantingIds = [plantingOf(trial, 'carrot', 'Long'), plantingOf(trial, 'potato', 'Long')]
  const crate = { plantingIds, shareRule: 'area', harvestedOn: '2026-01-28', marketable: '4' }
  const three = [...plantingIds, plantingOf(trial, 'carrot', 'Lower')]
  await sentTwice(`${week()}/shared-harvests`, crate, { plantingIds: three })
  const hours = { place: `garden:${trial.gardens.lower}`, task: 'weeding', time: '2', workedOn: '' }
  await sentTwice(`${week()}/hours`, hours, { time: '3' })
  const { lower = '', bank = '' } = trial.gardens
  const shared = { gardenIds: [lower, bank], shareRule: 'given', task: 'watering', time: '2', workedOn: '' }
  await sentTwice(
    `${week()}/shared-hours`,
    { ...shared, shares: { [lower]: '1', [bank]: '2' } },
    { shares: { [lower]: '2', [bank]: '1' } },
  )
})

it('losses, crates to weigh in, loads and what is spread of them are held against what stands', async () => {
  const lost = { plantingId: plantingOf(trial, 'carrot', 'Lower'), lostOn: '2026-01-28', percent: '10', cause: 'pest' }
  await sentTwice(`${week()}/losses`, { ...lost, outside: 'no', alsoNextDoor: 'no' }, { percent: '20' })
  await sentTwice(`${week()}/containers`, { name: 'Green crate', tareG: '1,2' }, { name: 'Red crate' })
  const compost = { name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' }
  const came = { ...compost, deliveredOn: '2025-09-01', quantityThousandths: '4', priceMinor: '300' }
  const [deliveryId] = await sentTwice(`${inputs()}/deliveries`, came, { name: 'Old compost' })
  const spread = { deliveryId, place: `garden:${trial.gardens.bank}`, appliedOn: '2025-09-10', seasonId: trial.season }
  const one = { ...spread, phase: 'established', quantityThousandths: '1' }
  await sentTwice(`${inputs()}/spreadings`, one, { quantityThousandths: '2' })
})

it('a load that is not stored leaves no input behind', async () => {
  const hay = { name: 'Hay', kind: 'mulch', unit: 'bale', ownMade: 'bought', usefulLifeSeasons: '1' }
  const came = { id: newId(), ...hay, deliveredOn: '2025-09-01', quantityThousandths: '4' }
  expect((await trial.keeper.post(`${inputs()}/deliveries`, came)).status).toBe(303)
  expect((await trial.keeper.post(`${inputs()}/deliveries`, { ...came, name: 'Straw' })).status).toBe(422)
  expect((await trial.keeper.get(`${trial.base}/history?table=inputs`)).text).not.toContain('Straw')
})

it('of a sheet a cell that was stored otherwise is told, and one that comes back takes an id of its own', async () => {
  const { lower = '', bank = '' } = trial.gardens
  const sheet = { id: newId(), h: { [lower]: { sowing: { time: '1' } }, [bank]: { sowing: { time: '2' } } } }
  expect((await trial.keeper.post(week(), sheet)).status).toBe(303)
  const other = { ...sheet, h: { ...sheet.h, [bank]: { sowing: { time: '3' } } } }
  const told = await trial.keeper.post(week(), other)
  expect([told.status, plain(told.text).includes('Something else was stored from this cell before')]).toEqual([
    ...[422, true],
  ])
  const fresh = /name="id" value="([^"]+)"/.exec(told.text)?.[1]
  expect(fresh).not.toBe(sheet.id)
  expect((await trial.keeper.post(week(), { id: fresh, h: { [bank]: { sowing: { time: '3' } } } })).status).toBe(303)
})
