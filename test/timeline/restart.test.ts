import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { addDays, type IsoDate } from '../../src/quantities/dates.ts'
import { restartOf } from '../../src/timeline/restart.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { aDay, aWeek } from '../support/calendar.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

describe('worked by hand', () => {
  const uncounted = { regrowthAfter4Weeks: null, regrowthAfter8Weeks: null, regrowthAfter12Weeks: null }
  const closure = { bedId: 'a', fromDay: '2025-08-15', toDay: '2025-10-10', ...uncounted } as const
  const work = (given: object) => ({
    ...{ bedId: 'a', isoWeek: aWeek('2025-W34'), workedOn: null as IsoDate | null, personMinutes: 60, ...given },
  })

  it('eight weeks under cover of a bed of 7.2 m2 are 57.6 m2 weeks', () => {
    const found = restartOf(closure, 72_000, [], '2026-06-01')
    expect([found.days, found.idleCm2Days / 10_000 / 7]).toEqual([56, expect.closeTo(57.6, 9)])
  })

  it('hours count from the day it was covered to the day it was uncovered, by their day or their week’s Thursday', () => {
    const labour = [
      work({ workedOn: '2025-08-15' }),
      work({ workedOn: '2025-10-10', personMinutes: 30 }),
      work({ workedOn: '2025-10-11', personMinutes: 1000 }),
      // The Thursday of week 33 is 14 August: the day before. That of week 34 is within.
      work({ isoWeek: '2025-W33', personMinutes: 1000 }),
      work({ isoWeek: '2025-W34', personMinutes: 15 }),
      work({ bedId: 'b', personMinutes: 1000 }),
    ] as const
    const found = restartOf(closure, 72_000, labour, '2026-06-01')
    expect([found.personMinutes, found.entries]).toEqual([105, 3])
  })

  it('a bed that is still covered counts up to today, and nothing is due yet', () => {
    const found = restartOf({ ...closure, toDay: null }, 10_000, [], '2025-08-29')
    expect([found.days, found.regrowth.map((one) => one.due)]).toEqual([14, [null, null, null]])
    const due = restartOf(closure, 10_000, [], '2025-11-01').regrowth.map((one) => one.due)
    expect(due).toEqual(['2025-11-07', '2025-12-05', '2026-01-02'])
  })
})

describe('on the page', () => {
  let place: Place
  let trial: Trial
  let recorder: Client
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
    recorder = await place.joined(trial.keeper, 'recorder')
  })
  afterAll(() => place.close())

  it('a covered bed shows its material, its hours, what it could not grow, and what came again', async () => {
    const { base, gardens } = trial
    const garden = `${base}/gardens/${gardens.bank}`
    const bedId = choicesIn((await recorder.get(garden)).text)('bedId')['Bed 2'] ?? ''
    const id = newId()
    const covered = {
      id,
      bedId,
      fromDay: '2025-10-01',
      toDay: '2025-11-26',
      why: 'couch grass',
      material: 'woven',
    } as const
    expect((await recorder.post(`${garden}/closures`, covered)).status).toBe(303)
    // 15 m2 for 8 weeks.
    const before = rowOf((await recorder.get(garden)).text, 'Bed 2 couch grass')
    expect(before.slice(1, 6)).toEqual([
      ...['1 October 2025 to 26 November 2025, 8.0 weeks', 'woven', 'none written for this bed', '120.0'],
      '4 weeks: not counted 8 weeks: not counted 12 weeks: not counted Write down what came again Bed 2, covered from 1 October 2025',
    ])
    const hours = {
      id: newId(),
      place: `bed:${bedId}`,
      task: 'weeding',
      time: '2 x 1:30',
      workedOn: '2025-10-01',
    } as const
    expect((await recorder.post(`${base}/weeks/2025-W40/hours`, hours)).status).toBe(303)

    const address = `${base}/correct/bed-closures/${id}`
    const { fromDay, toDay, why, material } = covered
    const counts = { regrowthAfter4Weeks: '12', regrowthAfter8Weeks: '0', regrowthAfter12Weeks: '', regrowth: '' }
    const given = { fromDay, toDay, why, material, ...counts, version: '1' }
    const open = await recorder.post(address, { ...given, toDay: '' })
    expect(open.status).toBe(422)
    expect(plain(open.text)).toContain('shoots are counted after that')
    expect((await recorder.post(address, { ...given, regrowthAfter4Weeks: '-1' })).status).toBe(422)
    expect((await recorder.post(address, given)).status).toBe(303)
    expect(rowOf((await recorder.get(garden)).text, 'Bed 2 couch grass').slice(3, 6)).toEqual([
      ...[
        '3.00 h',
        '120.0',
        '4 weeks: 12 8 weeks: 0 12 weeks: not counted Write down what came again Bed 2, covered from 1 October 2025',
      ],
    ])
    const reader = await place.joined(trial.keeper, 'reader')
    expect((await reader.post(address, given)).status).toBe(403)
    expect((await recorder.post(`${address}/removal`, { version: '2', reason: 'Other bed' })).status).toBe(303)
    expect(plain((await recorder.get(garden)).text)).not.toContain('Beds that were covered')
  })

  it('what stands in the bed is said and asked about once; a bed still covered waits with its counts', async () => {
    const garden = `${trial.base}/gardens/${trial.gardens.lower}`
    const bedId = choicesIn((await recorder.get(garden)).text)('bedId')['Bed 1'] ?? ''
    const covered = { id: newId(), bedId, fromDay: '2026-03-01', toDay: '', why: 'couch grass', material: '' } as const
    const asked = await recorder.post(`${garden}/closures`, covered)
    expect(asked.status).toBe(422)
    expect(plain(asked.text)).toContain('In this bed stand then: carrot, Kestrel; potato, Heron.')
    expect(asked.text).toContain('name="surely"')
    expect((await recorder.post(`${garden}/closures`, { ...covered, surely: 'yes' })).status).toBe(303)
    const row = rowOf((await recorder.get(garden)).text, 'Bed 1 couch grass')
    expect(row[5]).toBe('counted 4, 8 and 12 weeks after it is uncovered')
  })

  it('a count is refused before its week', async () => {
    const garden = `${trial.base}/gardens/${trial.gardens.lower}`
    const bedId = choicesIn((await recorder.get(garden)).text)('bedId')['Bed 2'] ?? ''
    const toDay = addDays(aDay(new Date().toISOString().slice(0, 10)), -35)
    const covered = { id: newId(), bedId, fromDay: '2025-06-01', toDay, why: 'couch grass', material: '' } as const
    expect((await recorder.post(`${garden}/closures`, covered)).status).toBe(303)
    const { id, bedId: _bed, ...rest } = covered
    const counts = { regrowthAfter4Weeks: '12', regrowthAfter8Weeks: '3', regrowthAfter12Weeks: '', regrowth: '' }
    const address = `${trial.base}/correct/bed-closures/${id}`
    const early = await recorder.post(address, { ...rest, ...counts, version: '1' })
    expect(early.status).toBe(422)
    expect(plain(early.text)).toContain('8 weeks after uncovering is')
    expect(plain(early.text)).not.toContain('4 weeks after uncovering is')
    expect((await recorder.post(address, { ...rest, ...counts, regrowthAfter8Weeks: '', version: '1' })).status).toBe(
      303,
    )
  })
})
