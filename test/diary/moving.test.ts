import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { dayIn } from '../../src/quantities/dates.ts'
import { weekAfter, weekOf } from '../../src/quantities/iso-week.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const week = (number: string) => `${trial.base}/weeks/2026-W${number}`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const text = async (number: string) => (await trial.keeper.get(`${week(number)}/ledger`)).text
const versionIn = async (address: string) =>
  /name="version" value="(\d+)"/.exec((await trial.keeper.get(address)).text)?.[1] ?? ''

it('a weight in the wrong garden and on the wrong day is put right, and goes to the week of its day', async () => {
  const id = newId()
  const weighed = { id, plantingId: plantingOf(trial, 'carrot', 'Lower'), harvestedOn: '2026-01-26', marketable: '3' }
  expect((await trial.keeper.post(`${week('05')}/harvests`, weighed)).status).toBe(303)
  const address = `${trial.base}/correct/harvests/${id}`
  const right = { plantingId: plantingOf(trial, 'carrot', 'Long'), harvestedOn: '2026-02-03', marketable: '3' }
  const given = { ...right, unmarketable: '0', why: '', pieces: '' }
  const moved = await trial.keeper.post(address, { ...given, version: await versionIn(address) })
  expect([moved.status, moved.location]).toEqual([303, week('05')])
  expect(plain(await text('05'))).not.toContain('3.0 kg')
  expect(rowOf(await text('06'), 'carrot, Kestrel · Long Bank, Bed 1')[1]).toBe('3.0 kg')
  const early = { ...given, harvestedOn: '2025-09-01', version: await versionIn(address) }
  expect(plain((await trial.keeper.post(address, early)).text)).toContain('not sown yet on that day')
  const strange = { ...given, plantingId: newId(), version: await versionIn(address) }
  expect((await trial.keeper.post(address, strange)).status).toBe(422)
})

it('hours move to another place and day, and not into a closed week', async () => {
  const id = newId()
  const worked = { id, place: `garden:${trial.gardens.lower}`, task: 'weeding', time: '2', people: '2', workedOn: '' }
  expect((await trial.keeper.post(`${week('05')}/hours`, worked)).status).toBe(303)
  expect(rowOf(await text('05'), 'Lower Terrace').slice(2, 4)).toEqual(['4.00 h', '2'])
  const address = `${trial.base}/correct/labour/${id}`
  const bank = `garden:${trial.gardens.bank}`
  const given = { place: bank, workedOn: '2026-02-04', task: 'weeding', time: '4', phase: 'established' }
  await trial.keeper.post(`${week('06')}/closings`, { gardenId: trial.gardens.bank, what: 'hours' })
  const closed = await trial.keeper.post(address, { ...given, version: await versionIn(address) })
  expect([closed.status, plain(closed.text).includes('Its week is closed')]).toEqual([422, true])
  const open = { ...given, workedOn: '2026-01-28', version: await versionIn(address) }
  expect((await trial.keeper.post(address, open)).status).toBe(303)
  expect(rowOf(await text('05'), 'Long Bank')[2]).toBe('4.00 h')
})

it('shared hours and shared crates do not move into a week that is closed for one of their gardens', async () => {
  const { lower, bank } = trial.gardens
  const hours = { id: newId(), gardenIds: [lower, bank], shareRule: 'equal', task: 'watering', time: '2', workedOn: '' }
  expect((await trial.keeper.post(`${week('05')}/shared-hours`, hours)).status).toBe(303)
  const atHours = `${trial.base}/correct/labour/${hours.id}`
  const worked = { workedOn: '2026-02-04', task: 'watering', time: '2', phase: 'established' }
  // Hours of Long Bank are closed in week 6 by now.
  const closed = await trial.keeper.post(atHours, { ...worked, version: await versionIn(atHours) })
  expect([closed.status, plain(closed.text).includes('Its week is closed')]).toEqual([422, true])
  const plantingIds = [plantingOf(trial, 'carrot', 'Long'), plantingOf(trial, 'potato', 'Lower')]
  const crate = { id: newId(), plantingIds, shareRule: 'area', harvestedOn: '2026-01-28', marketable: '4' }
  expect((await trial.keeper.post(`${week('05')}/shared-harvests`, crate)).status).toBe(303)
  await trial.keeper.post(`${week('06')}/closings`, { gardenId: bank, what: 'weights' })
  const atCrate = `${trial.base}/correct/harvests/${crate.id}`
  const correct = async (harvestedOn: IsoDate) => {
    const given = { harvestedOn, marketable: '4', unmarketable: '0', why: '', pieces: '' }
    return trial.keeper.post(atCrate, { ...given, version: await versionIn(atCrate) })
  }
  const [into, before] = [await correct('2026-02-04'), await correct('2025-09-01')]
  expect([into.status, plain(into.text).includes('Its week is closed')]).toEqual([422, true])
  expect([before.status, plain(before.text).includes('not sown yet on that day')]).toEqual([422, true])
  expect((await correct('2026-01-29')).status).toBe(303)
})

it('a week that has not begun stays open', async () => {
  const ahead = `${trial.base}/weeks/${weekAfter(weekOf(dayIn('Pacific/Auckland', new Date())), 1)}`
  const closed = await trial.keeper.post(`${ahead}/closings`, { gardenId: trial.gardens.lower, what: 'hours' })
  expect([closed.status, plain(closed.text).includes('can be closed from its Monday on')]).toEqual([422, true])
  expect((await trial.keeper.get(ahead)).text).not.toContain('Close the hours')
  const now = `${trial.base}/weeks/${weekOf(dayIn('Pacific/Auckland', new Date()))}`
  expect((await trial.keeper.post(`${now}/closings`, { gardenId: trial.gardens.lower, what: 'hours' })).status).toBe(
    303,
  )
})

it('the same weight of a planting on one day is asked about once', async () => {
  const weighed = () => ({
    ...{ id: newId(), plantingId: plantingOf(trial, 'potato', 'Lower'), harvestedOn: '2026-01-27', marketable: '2,5' },
  })
  expect((await trial.keeper.post(`${week('05')}/harvests`, weighed())).status).toBe(303)
  const again = await trial.keeper.post(`${week('05')}/harvests`, weighed())
  expect([again.status, plain(again.text).includes('Is this another?')]).toEqual([422, true])
  expect((await trial.keeper.post(`${week('05')}/harvests`, { ...weighed(), surely: 'yes' })).status).toBe(303)
})

it('a day leads to its week, and what was chosen in a form stands in it again, for this sitting only', async () => {
  expect((await trial.keeper.get(`${trial.base}/weeks?day=2026-01-27`)).location).toBe(week('05'))
  const place = `garden:${trial.gardens.lower}`
  const hours = { id: newId(), place, task: 'watering', time: '1', workedOn: '2026-01-27', who: 'Ada' }
  const saved = await trial.keeper.post(`${week('05')}/hours`, hours)
  const after = (await trial.keeper.get(saved.location)).text
  expect(plain(after)).toContain('Saved: 1.00 h watering, Lower Terrace.')
  expect([
    after.includes(`<option value="${place}" selected>`),
    after.includes('<option value="watering" selected>'),
  ]).toEqual([true, true])
  expect(after).not.toContain('value="Ada" ')
  const fresh = await text('05')
  expect([fresh.includes('selected>watering'), fresh.includes(`<option value="${place}" selected>`)]).toEqual([
    false,
    false,
  ])
})

it('no list stands on a choice that nobody made, and what is left is refused by its name', async () => {
  const page = await text('05')
  for (const name of ['plantingId', 'place', 'task', 'cause', 'harvestedOn', 'shareRule']) {
    const select = page.split(`name="${name}"`)[1]?.split('</select>')[0] ?? ''
    expect([name, /<option value=""/.test(select), select.includes('selected>')]).toEqual([
      name,
      true,
      select.includes('<option value="" selected>'),
    ])
  }
  const left = await trial.keeper.post(`${week('05')}/hours`, {
    id: newId(),
    place: '',
    task: '',
    time: '1',
    workedOn: '',
  })
  expect(left.status).toBe(422)
  expect(plain(left.text)).toContain('Task: Please choose')
})
