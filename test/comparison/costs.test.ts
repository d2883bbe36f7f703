import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const load = newId()
const spread = (fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/inputs/spreadings`, {
    id: newId(),
    deliveryId: load,
    place: `garden:${trial.gardens.bank}`,
    appliedOn: '2025-09-10',
    seasonId: trial.season,
    phase: 'established',
    ...fields,
  })

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const delivery = { id: load, name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', supplier: '' }
  const priced = { quantityThousandths: '4', deliveredOn: '2025-09-01', priceMinor: '300', deliveryPriceMinor: '60,00' }
  await trial.keeper.post(`${trial.base}/inputs/deliveries`, { ...delivery, ...priced, usefulLifeSeasons: '3' })
})
afterAll(() => place.close())

it('what is spread costs its part of the load and carriage, in equal parts over the seasons it lasts', async () => {
  expect((await spread({ quantityThousandths: '2,5' })).status).toBe(303)
  const page = await wholeCompare(trial.keeper, `${trial.base}/compare?season=${trial.season}`)
  // 360.00 x 2.5 / 4 = 225.00; a third of it in each of three seasons is 75.00, on 30 m2 of bed.
  expect(rowOf(page.text, 'Inputs, NZD per m² of bed')[2]).toMatch(/^\$2\.50 /)
})

it('no more is spread than came, and not before it came', async () => {
  expect(plain((await spread({ quantityThousandths: '2' })).text)).toContain('Only 1.5 of that delivery is left')
  const early = await spread({ quantityThousandths: '1', appliedOn: '2025-08-20' })
  expect(plain(early.text)).toContain('before the delivery came')
})
