import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const season = () => `${trial.base}/seasons/${trial.season}`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const clear = (plantingId: string, clearedOn: IsoDate) =>
  trial.keeper.post(`${season()}/clearings`, { plantingId, clearedOn })
const refused = async (answer: Promise<{ status: number; text: string }>, sentence: string) => {
  const { status, text } = await answer
  expect([status, plain(text).includes(sentence)]).toEqual([422, true])
}

it('a planting that stood longer than planned names what follows it, and is cleared once that is put right', async () => {
  const { lower = '' } = trial.gardens
  const choices = choicesIn((await trial.keeper.get(season())).text)
  const bed = choices(`beds[${lower}]`)['Bed 2']
  const usual = {
    cropId: choices('cropId').leek,
    areaCm2: '10',
    how: 'direct',
    purpose: 'harvest',
    beds: { lower: bed },
  }
  const [first, next] = [newId(), newId()]
  const plant = (fields: object) => trial.keeper.post(`${season()}/plantings`, { ...usual, ...fields })
  await plant({ id: first, cultivar: 'Moor', sownOn: '2025-10-02', standsUntil: '2026-03-01' })
  expect((await plant({ id: next, cultivar: 'Fen', sownOn: '2026-03-01' })).status).toBe(303)
  await refused(
    clear(first, '2026-03-05'),
    'leek, Fen comes into it on 1 March 2026. Correct the day of what follows first.',
  )
  const address = `${trial.base}/correct/plantings/${next}`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(address)).text)?.[1]
  const given = { areaCm2: '10', how: 'direct', sownOn: '2026-03-06', purpose: 'harvest', version }
  expect((await trial.keeper.post(address, given)).status).toBe(303)
  expect((await clear(first, '2026-03-05')).status).toBe(303)
})

it('a planting is not cleared before what was weighed or lost of it', async () => {
  const week = `${trial.base}/weeks/2026-W05`
  const plantingId = plantingOf(trial, 'carrot', 'Lower')
  const weighed = { id: newId(), plantingId, harvestedOn: '2026-01-28', marketable: '3' }
  expect((await trial.keeper.post(`${week}/harvests`, weighed)).status).toBe(303)
  await refused(clear(plantingId, '2026-01-10'), 'it stood until then at least')
  const potato = plantingOf(trial, 'potato', 'Lower')
  const lost = { id: newId(), plantingId: potato, lostOn: '2026-01-29', percent: '20', cause: 'pest', outside: 'no' }
  expect((await trial.keeper.post(`${week}/losses`, { ...lost, alsoNextDoor: 'no' })).status).toBe(303)
  await refused(clear(potato, '2026-01-28'), 'it stood until then at least')
  const other = plantingOf(trial, 'carrot', 'Long')
  const crate = { id: newId(), plantingIds: [other, plantingOf(trial, 'potato', 'Long')], shareRule: 'area' }
  const shared = await trial.keeper.post(`${week}/shared-harvests`, {
    ...crate,
    harvestedOn: '2026-01-30',
    marketable: '2',
  })
  expect(shared.status).toBe(303)
  await refused(clear(other, '2026-01-29'), 'it stood until then at least')
  expect((await clear(other, '2026-01-30')).status).toBe(303)
})

it('a correction leaves what was weighed within the days on which it stood', async () => {
  const address = `${trial.base}/correct/plantings/${plantingOf(trial, 'carrot', 'Lower')}`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(address)).text)?.[1]
  const given = { areaCm2: '4', how: 'direct', purpose: 'harvest', version }
  const early = { ...given, sownOn: '2025-10-01', clearedOn: '2026-01-10' }
  await refused(trial.keeper.post(address, early), 'it stood until then at least')
  await refused(trial.keeper.post(address, { ...given, sownOn: '2026-01-29' }), 'it was sown by then')
  expect((await trial.keeper.post(address, { ...given, sownOn: '2026-01-28' })).status).toBe(303)
})

it('whoever clears a planting that is cleared already is told the day, and nothing is written over', async () => {
  const plantingId = plantingOf(trial, 'potato', 'Lower')
  expect((await clear(plantingId, '2026-02-10')).status).toBe(303)
  expect((await clear(plantingId, '2026-02-10')).status).toBe(303)
  await refused(clear(plantingId, '2026-02-12'), 'cleared on 10 February 2026 already')
  expect((await trial.keeper.get(`${trial.base}/correct/plantings/${plantingId}`)).text).toContain('value="2026-02-10"')
  expect((await clear(newId(), '2026-02-10')).status).toBe(404)
})
