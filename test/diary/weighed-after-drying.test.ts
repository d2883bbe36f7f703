import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let carrot: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  carrot = plantingOf(trial, 'carrot', 'Lower')
})
afterAll(() => place.close())

const weigh = (marketable: string) =>
  trial.keeper.post(`${trial.base}/weeks/2026-W07/harvests`, {
    ...{ id: newId(), plantingId: carrot, harvestedOn: '2026-02-11', marketable },
  })
const clear = (clearedOn: IsoDate) =>
  trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, { plantingId: carrot, clearedOn })

it('what counts dried is weighed after its bed was cleared, and is cleared after it was weighed', async () => {
  const season = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  const crop = `${trial.base}/correct/crops/${season('cropId').carrot}`
  const form = (await trial.keeper.get(crop)).text
  const version = /name="version" value="(\d+)"/.exec(form)?.[1] ?? ''
  const given = { version, name: 'carrot', family: 'Apiaceae', touchesSoil: 'yes', source: '' }
  expect((await trial.keeper.post(crop, { ...given, weighedAs: 'dried' })).status).toBe(303)
  expect(plain((await trial.keeper.get(`${trial.base}/crops`)).text)).toContain('carrot counts dried')

  expect((await weigh('3.1')).status).toBe(303)
  // Lifted and cleared two weeks before the weight that stands already.
  expect((await clear('2026-01-28')).status).toBe(303)
  expect((await weigh('2.2')).status).toBe(303)
  const { methods } = await trial.keeper.json<{ methods: { totals: { marketableG: number } }[] }>(
    `${trial.base}/compare.json?season=${trial.season}`,
  )
  expect(methods.map((one) => one.totals.marketableG)).toContain(5300)
  const sheet = plain((await trial.keeper.get(`${trial.base}/weeks/2026-W07`)).text)
  expect(sheet).toContain('carrot')
})

it('what counts fresh from the bed is not', async () => {
  const potato = plantingOf(trial, 'potato', 'Lower')
  await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, {
    plantingId: potato,
    clearedOn: '2026-01-28',
  })
  const late = await trial.keeper.post(`${trial.base}/weeks/2026-W07/harvests`, {
    ...{ id: newId(), plantingId: potato, harvestedOn: '2026-02-11', marketable: '1' },
  })
  expect(late.status).toBe(422)
})
