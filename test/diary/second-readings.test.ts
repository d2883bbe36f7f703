import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { secondWeeksOf } from '../../src/diary/second-weeks.ts'
import { daysOf } from '../../src/quantities/iso-week.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
})
afterAll(() => place.close())

const weekPage = async (client: Client, week: string) => (await client.get(`${trial.base}/weeks/${week}/ledger`)).text

describe('a second person who writes down too', () => {
  const drawn = () => secondWeeksOf({ id: trial.season, startsOn: '2025-08-01', endsOn: '2026-05-31' })
  const read = (client: Client, week: string, crop: string, garden: string, weighed: string, id = newId()) =>
    client.post(`${trial.base}/weeks/${week}/second-readings`, {
      id,
      read: plantingOf(trial, crop, garden),
      weighed,
    })
  const weigh = (week: string, crop: string, garden: string, marketable: string) => {
    const day = daysOf(week as Parameters<typeof daysOf>[0])[2]
    const sent = { id: newId(), plantingId: plantingOf(trial, crop, garden), harvestedOn: day, marketable }
    return trial.keeper.post(`${trial.base}/weeks/${week}/harvests`, sent)
  }

  it('is asked for in the two weeks that were drawn, and in no other', async () => {
    const [week = ''] = drawn()
    expect(plain(await weekPage(recorder, week))).toContain('This week a second person writes down too')
    const other = '2025-W40'
    expect(plain(await weekPage(recorder, other))).not.toContain('second person writes down too')
    const refused = await read(recorder, other, 'potato', 'Lower', '2')
    expect([refused.status, plain(refused.text).includes('not one of the two of its season')]).toEqual([422, true])
  })

  it('reads what someone else weighed, once, and stays out of every sum', async () => {
    const [week = '', later = ''] = drawn()
    const sums = async () => {
      const told = await trial.keeper.json<{ methods: { totals: { marketableG: number } }[] }>(
        `${trial.base}/compare.json`,
      )
      return told.methods.map((one) => one.totals.marketableG)
    }
    const before = await sums()
    expect((await weigh(week, 'potato', 'Lower', '10')).status).toBe(303)
    expect((await weigh(later, 'potato', 'Long', '20')).status).toBe(303)
    const own = await read(trial.keeper, week, 'potato', 'Lower', '10')
    expect([own.status, plain(own.text).includes('comes from someone else')]).toEqual([422, true])
    const id = newId()
    for (const _ of [1, 2]) expect((await read(recorder, week, 'potato', 'Lower', '12', id)).status).toBe(303)
    expect((await read(recorder, week, 'potato', 'Lower', '11')).status).toBe(422)
    expect((await read(recorder, week, 'potato', 'Long', '0')).status).toBe(422)
    const page = await wholeCompare(trial.keeper, `${trial.base}/compare`)
    expect(plain(page.text)).toContain('it takes two weights written down by two people, and there is one.')
    // Typed wrong: 11, not 12.
    const correction = `${trial.base}/correct/second-readings/${id}`
    expect((await recorder.post(correction, { weighed: '11', version: '1' })).status).toBe(303)
    expect((await read(recorder, later, 'potato', 'Long', '20')).status).toBe(303)
    expect(await sums()).toEqual([(before[0] ?? 0) + 10_000, (before[1] ?? 0) + 20_000])
  })

  it('gives the error of one reading on Compare, with how many there are', async () => {
    // 10 and 11 kg, 20 and 20 kg: 0.04766 on the logarithmic scale, that is 4.9 %.
    const page = plain((await wholeCompare(trial.keeper, `${trial.base}/compare`)).text)
    expect(page).toContain(
      '2 weights were written down by two people, and one reading has an error (one standard deviation) of about 4.9 %',
    )
    const { measuring } = await trial.keeper.json<{ measuring: object }>(`${trial.base}/compare.json`)
    expect(measuring).toMatchObject({ kind: 'answer', pairs: 2 })
  })
})
