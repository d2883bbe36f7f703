import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const post = (form: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/inputs/${form}`, { id: newId(), ...fields })
const deliver = (id: string, deliveredOn: string, more: Record<string, string> = {}) =>
  post('deliveries', {
    ...{ id, name: 'Leaf mould', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' },
    ...{ quantityThousandths: '3', deliveredOn, ...more },
  })
const spread = (deliveryId: string, quantityThousandths: string) =>
  post('spreadings', {
    ...{ deliveryId, quantityThousandths, place: `garden:${trial.gardens.bank}`, appliedOn: '2025-10-20' },
    ...{ seasonId: trial.season, phase: 'established' },
  })
const page = async () => (await trial.keeper.get(`${trial.base}/inputs`)).text
const offered = async () => Object.keys(choicesIn((await page()).split(`/inputs/spreadings"`)[1] ?? '')('deliveryId'))

it('a spreading is offered what is left of each load, the one that came last first', async () => {
  const [older, newer, ordered] = [newId(), newId(), newId()]
  expect(await page()).toContain(catalogue.inputs.needsDelivery)
  await deliver(older, '2025-10-01')
  await deliver(newer, '2025-10-08')
  await deliver(ordered, '', { orderedOn: '2025-10-09' })
  expect(await offered()).toEqual(['Leaf mould, 8 October 2025, 3 m3', 'Leaf mould, 1 October 2025, 3 m3'])
  expect((await spread(newer, '1')).status).toBe(303)
  expect((await spread(older, '3')).status).toBe(303)
  expect(await offered()).toEqual(['Leaf mould, 8 October 2025, 2 m3'])
  expect((await spread(newer, '2')).status).toBe(303)
  expect(await offered()).toEqual([])
  expect(await page()).toContain(catalogue.inputs.allSpread)
})
