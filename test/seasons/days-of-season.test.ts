import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
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

async function plant(cultivar: string, days: Record<string, string>) {
  const choices = choicesIn((await trial.keeper.get(season())).text)
  const beds = Object.fromEntries(
    Object.values(trial.gardens).map((garden) => [garden, choices(`beds[${garden}]`)['Bed 2'] ?? '']),
  )
  const usual = { id: newId(), cropId: choices('cropId')['lettuce, cos'], cultivar, areaCm2: '0.2', how: 'direct' }
  return trial.keeper.post(`${season()}/plantings`, { ...usual, purpose: 'harvest', beds, ...days })
}

it('a planting that comes into its bed after the season is refused, at the day that is wrong', async () => {
  const late = await plant('Knot', { sownOn: '2030-11-01' })
  expect([late.status, plain(late.text).includes('This day is not in the season.')]).toEqual([422, true])
  expect(late.text).toContain('value="Knot"')
  const raised = { how: 'transplanted', sownOn: '2026-05-20', plantedOn: '2026-06-01' }
  expect((await plant('Knot', raised)).status).toBe(422)
  expect((await plant('Knot', { ...raised, plantedOn: '2026-05-31' })).status).toBe(303)
})

it('one that stood before the season began counts toward it, and the page says so', async () => {
  const saved = await plant('Dotterel', { sownOn: '2025-07-20' })
  expect(plain((await trial.keeper.get(saved.location)).text)).toContain(
    'It came into its bed before the season began, and counts toward it all the same.',
  )
  const raised = { how: 'transplanted', sownOn: '2025-07-20', plantedOn: '2025-08-01' }
  const within = await plant('Ruff', raised)
  expect(plain((await trial.keeper.get(within.location)).text)).not.toContain('before the season began')
})

it('a correction is held to the same', async () => {
  const at = `${trial.base}/correct/plantings/${plantingOf(trial, 'carrot', 'Long Bank')}`
  const fields = { version: '1', areaCm2: '4', how: 'direct', purpose: 'harvest', matchedSetId: '', reason: 'misread' }
  const wrong = await trial.keeper.post(at, { ...fields, sownOn: '2030-11-01' })
  expect([wrong.status, plain(wrong.text).includes('This day is not in the season.')]).toEqual([422, true])
  expect((await trial.keeper.post(at, { ...fields, sownOn: '2025-10-02' })).status).toBe(303)
})

it('the page of a season shows the lot of the seed and what takes no room of its own', async () => {
  const saved = await plant('Eider', { sownOn: '2025-10-08', seedLot: 'Lot 7', interplanted: 'yes' })
  const row = /<th scope="row">\s*lettuce, cos, Eider(.*?)<\/th>/s.exec((await trial.keeper.get(saved.location)).text)
  expect(plain(row?.[1] ?? '')).toBe('seed lot Lot 7 interplanted: takes no room of its own')
  const other = /<th scope="row">\s*carrot, Kestrel(.*?)<\/th>/s.exec((await trial.keeper.get(season())).text)
  expect(plain(other?.[1] ?? '')).toBe('')
})
