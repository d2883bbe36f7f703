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

it('a letter that no text can hold is left out of it, and names no address', async () => {
  const name = 'Far\0 Acre'
  expect((await trial.keeper.post(`${trial.base}/gardens/sites`, { id: newId(), name })).status).toBe(303)
  expect(plain((await trial.keeper.get(`${trial.base}/gardens`)).text)).toContain('Far Acre')
  const fields = { email: 'ada\0@example.org', password: 'long enough to keep' }
  expect((await place.guest().post('/sign-in', fields)).status).toBe(422)
  for (const address of ['/g/%00', '/g/%00/weeks']) {
    expect((await trial.keeper.get(address)).status).toBe(404)
    expect((await place.guest().get(address)).status).toBe(404)
  }
  expect((await trial.keeper.post('/g/%00/gardens/sites', { id: newId(), name: 'Far Acre' })).status).toBe(404)
  expect((await trial.keeper.get(`${trial.base}/seasons/%00`)).status).toBe(404)
})

it.each(['9999-W52', '0000-W01', '2200-W01'])('there is no week %s', async (named) => {
  expect((await trial.keeper.get(`${trial.base}/weeks/${named}`)).status).toBe(404)
})

it('a day of the year 0000 is none of the calendar', async () => {
  const fields = { id: newId(), name: 'Long ago', startsOn: '0000-01-01', endsOn: '0000-06-01' }
  const answer = await trial.keeper.post(`${trial.base}/seasons`, fields)
  expect([answer.status, plain(answer.text).includes('not a day of the calendar')]).toEqual([422, true])
})

it('the week of a garden that is not there cannot be closed', async () => {
  const answer = await trial.keeper.post(`${week()}/closings`, { gardenId: newId(), what: 'hours' })
  expect([answer.status, plain(answer.text).includes('There is nothing here')]).toEqual([404, true])
})

it('what the record refuses is told as such, where no page says it in its own words', async () => {
  const crate = () => trial.keeper.post(`${week()}/containers`, { id: newId(), name: 'Green crate', tareG: '1 kg' })
  expect((await crate()).status).toBe(303)
  const again = await crate()
  expect([again.status, plain(again.text).includes('This does not fit the record')]).toEqual([422, true])
})

it('a measure that weighs nothing is refused at its field', async () => {
  const measure = { id: newId(), name: 'Empty sack', weight: '0 kg' }
  const answer = await trial.keeper.post(`${trial.base}/inputs/measures`, measure)
  expect([answer.status, plain(answer.text).includes('It must be more than nothing.')]).toEqual([422, true])
})

it('the same garden twice is one garden, and the same planting twice is one planting', async () => {
  const { lower, bank } = trial.gardens
  const hours = (gardenIds: unknown) =>
    trial.keeper.post(`${week()}/shared-hours`, {
      ...{ id: newId(), task: 'weeding', time: '1', phase: 'established', shareRule: 'equal', gardenIds },
    })
  expect((await hours([lower, lower, bank])).status).toBe(303)
  expect((await hours([lower, lower])).status).toBe(422)
  const [one, other] = [plantingOf(trial, 'carrot', 'Lower Terrace'), plantingOf(trial, 'carrot', 'Long Bank')]
  const crate = (plantingIds: unknown) =>
    trial.keeper.post(`${week()}/shared-harvests`, {
      ...{ id: newId(), harvestedOn: '2026-01-28', marketable: '2 kg', shareRule: 'area', plantingIds },
    })
  expect((await crate([one, one, other])).status).toBe(303)
  expect((await crate([one, one])).status).toBe(422)
})
