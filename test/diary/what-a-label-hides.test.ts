import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { secondWeeksOf } from '../../src/diary/second-weeks.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
const byLabel = 'This planting has a label this week'
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
})
afterAll(() => place.close())

const at = (week: string, form = '') => `${trial.base}/weeks/${week}${form && `/${form}`}`
const draw = (week: string, ...plantingIds: string[]) =>
  trial.keeper.post(at(week, 'labels'), { id: newId(), plantingIds })
const weigh = async (week: string, harvestedOn: IsoDate, plantingId: string, marketable = '1') => {
  const id = newId()
  const sent = await recorder.post(at(week, 'harvests'), { id, plantingId, harvestedOn, marketable })
  expect(sent.status).toBe(303)
  return id
}
const labelOf = async (week: string, planting: string) =>
  rowOf((await trial.keeper.get(at(week, 'labels'))).text, planting)[1] ?? ''

describe('a recorder does not find out what lies under a label', () => {
  const week = '2026-W05'
  const day = '2026-01-28'
  const [carrot, potato] = [() => plantingOf(trial, 'carrot', 'Lower'), () => plantingOf(trial, 'potato', 'Lower')]
  const correct = (id: string, fields: Record<string, string>) =>
    recorder.post(`${trial.base}/correct/harvests/${id}`, {
      ...{ version: '1', harvestedOn: day, marketable: '1', unmarketable: '0', why: '', pieces: '' },
      ...fields,
    })

  it('by moving a weight of their own to the planting that has it', async () => {
    await draw(week, carrot())
    const id = await weigh(week, day, potato())
    const moved = await correct(id, { plantingId: carrot() })
    expect([moved.status, plain(moved.text).includes(byLabel)]).toEqual([422, true])
    const label = await labelOf(week, 'Lower Terrace, Bed 1: carrot, Kestrel')
    expect(rowOf((await recorder.get(at(week, 'ledger'))).text, `label ${label}`)).toEqual([])
    expect((await correct(id, { plantingId: potato() })).status).toBe(303)
  })

  it('by moving the day of a weight, or of a shared crate, into the week that has it', async () => {
    const id = await weigh('2026-W04', '2026-01-21', carrot())
    const moved = await correct(id, { plantingId: carrot() })
    expect([moved.status, plain(moved.text).includes(byLabel)]).toEqual([422, true])
    const crate = newId()
    const sent = { id: crate, plantingIds: [carrot(), potato()], shareRule: 'area', harvestedOn: '2026-01-21' }
    expect((await recorder.post(at('2026-W04', 'shared-harvests'), { ...sent, marketable: '1' })).status).toBe(303)
    expect((await correct(crate, {})).status).toBe(422)
    expect((await correct(crate, { harvestedOn: '2026-01-22', marketable: '2' })).status).toBe(303)
  })

  it('by a second reading of the planting itself', async () => {
    const twice = secondWeeksOf({ id: trial.season, startsOn: '2025-08-01', endsOn: '2026-05-31' })
    const drawn = twice.find((one) => one !== week) ?? ''
    const read = plantingOf(trial, 'potato', 'Long')
    await draw(drawn, read)
    const answer = await recorder.post(at(drawn, 'second-readings'), { id: newId(), read, weighed: '4' })
    expect([answer.status, plain(answer.text).includes(byLabel)]).toEqual([422, true])
  })

  it('by having weighed the planting by name before it was drawn', async () => {
    await weigh('2026-W06', '2026-02-04', carrot(), '1.7')
    expect((await draw('2026-W06', carrot())).status).toBe(422)
    expect((await draw('2026-W06', potato())).status).toBe(303)
    expect(
      rowOf((await recorder.get(at('2026-W06', 'ledger'))).text, 'carrot, Kestrel · Lower Terrace, Bed 1')[1],
    ).toBe('1.7 kg')
  })

  it('by closing the weights of its garden, or reopening them: a keeper does', async () => {
    const garden = { gardenId: trial.gardens.lower, what: 'weights' }
    const page = (await recorder.get(at(week, 'ledger'))).text
    expect(page).not.toContain('Close the weights of Lower Terrace')
    expect(page).toContain('Close the weights of Long Bank')
    expect(plain(page)).toContain('a keeper closes and reopens its weights')
    const closed = await recorder.post(at(week, 'closings'), garden)
    expect([closed.status, plain(closed.text).includes('only a keeper')]).toEqual([422, true])
    expect((await recorder.post(at(week, 'closings'), { ...garden, gardenId: trial.gardens.bank })).status).toBe(303)
    expect((await recorder.post(at(week, 'closings'), { ...garden, what: 'hours' })).status).toBe(303)
    expect((await trial.keeper.post(at(week, 'closings'), garden)).status).toBe(303)
    const reopened = await recorder.post(at(week, 'reopenings'), { ...garden, reason: 'To see more' })
    expect([reopened.status, plain(reopened.text).includes('only a keeper')]).toEqual([422, true])
    expect((await trial.keeper.post(at(week, 'reopenings'), { ...garden, reason: 'A crate came late' })).status).toBe(
      303,
    )
  })

  it('by the list of what was cleared with nothing weighed', async () => {
    const late = plantingOf(trial, 'carrot', 'Long')
    await draw('2026-W08', late)
    const clear = { plantingId: late, clearedOn: '2026-02-20' }
    await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, clear)
    const unmarked = async () => {
      const text = plain((await recorder.get(`${trial.base}/seasons/${trial.season}/close`)).text)
      return [
        text.includes('no loss written down Bed 1, carrot'),
        text.includes('under labels that are not opened yet: 1.'),
      ]
    }
    expect(await unmarked()).toEqual([true, false])
    const label = await labelOf('2026-W08', 'Long Bank, Bed 1: carrot, Kestrel')
    const weighed = { id: newId(), label, harvestedOn: '2026-02-19', marketable: '3' }
    expect((await recorder.post(at('2026-W08', 'labelled'), weighed)).status).toBe(303)
    expect(await unmarked()).toEqual([true, true])
    await trial.keeper.post(at('2026-W08', 'closings'), { gardenId: trial.gardens.bank, what: 'weights' })
    expect(await unmarked()).toEqual([false, false])
  })
})
