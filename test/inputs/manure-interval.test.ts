import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import {
  daysOtherwise,
  daysWhereTouching,
  harvestsTooSoon,
  manureInterval,
  manureWaits,
  pickedTooSoon,
} from '../../src/inputs/manure-interval.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { shareReport, writeReport } from '../reports/reports.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

/** 7 CFR 205.203(c)(1)(ii) and (iii): not less than 120 days where the edible part touches the soil, 90 where it does not. */
describe('the days between raw manure and harvest, as 7 CFR 205.203(c)(1) numbers them', () => {
  it('are 120 and 90', () => {
    expect([daysWhereTouching, daysOtherwise]).toEqual([120, 90])
  })

  // From 2026-01-01: day 90 is 1 April, day 120 is 1 May (31 + 28 + 31 + 30), counted by hand.
  it.each([
    [1, '2026-04-30', 119],
    [1, '2026-05-01', null],
    [0, '2026-03-31', 89],
    [0, '2026-04-01', null],
    [null, '2026-04-30', 119],
    [null, '2026-05-01', null],
    [1, '2026-01-01', 0],
    [1, '2025-12-31', null],
  ] as const)('touching %s, picked on %s: short after %s days', (touchesSoil, harvestedOn, waited) => {
    expect(pickedTooSoon({ appliedOn: '2026-01-01', touchesSoil }, harvestedOn)?.waited ?? null).toBe(waited)
  })

  it('over a leap day', () => {
    expect(manureInterval({ appliedOn: '2027-12-01', touchesSoil: 0 }).earliest).toBe('2028-02-29')
  })
})

describe('plantings on ground with raw manure', () => {
  const leek = {
    id: 'leek',
    bedId: 'a',
    purpose: 'harvest',
    sownOn: '2025-10-01',
    plantedOn: null,
    clearedOn: null,
  } as const
  const manured = [
    { appliedOn: '2025-09-15', input: 'Cow manure', bedIds: ['a', 'b'] },
    { appliedOn: '2025-12-01', input: 'Cow manure', bedIds: ['a'] },
  ] as const

  it('wait for the latest of it', () => {
    expect(manureWaits([{ ...leek, touchesSoil: 1 }], manured)).toMatchObject([
      { plantingId: 'leek', appliedOn: '2025-12-01', days: 120, earliest: '2026-03-31' },
    ])
  })

  it('and not where it came after clearing, was over before sowing, or nothing is picked', () => {
    const old = { ...leek, touchesSoil: 1 }
    expect(manureWaits([{ ...old, bedId: 'b', sownOn: '2026-02-01' }], manured)).toEqual([])
    expect(manureWaits([{ ...old, purpose: 'green manure' }], manured)).toEqual([])
    const cleared = manureWaits([{ ...old, clearedOn: '2025-11-30' }], manured)
    expect(cleared).toMatchObject([{ appliedOn: '2025-09-15' }])
  })

  it('each picking is held against the latest manure before it', () => {
    const found = harvestsTooSoon([{ ...leek, touchesSoil: 1 }], manured, [
      { plantingId: 'leek', harvestedOn: '2025-11-01' },
      { plantingId: 'leek', harvestedOn: '2025-12-20' },
      { plantingId: 'leek', harvestedOn: '2026-03-31' },
    ])
    expect(found.map(({ harvestedOn, waited }) => [harvestedOn, waited])).toEqual([
      ['2025-11-01', 47],
      ['2025-12-20', 19],
    ])
  })
})

describe('on the pages', () => {
  let place: Place
  let trial: Trial
  const load = newId()
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
    const manure = { name: 'Cow manure', kind: 'manure', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' }
    const came = { quantityThousandths: '2', deliveredOn: '2025-10-05', rawManure: 'raw' } as const
    await trial.keeper.post(`${trial.base}/inputs/deliveries`, { id: load, ...manure, ...came })
    const spread = { id: newId(), deliveryId: load, place: `garden:${trial.gardens.bank}`, quantityThousandths: '2' }
    const on = { appliedOn: '2025-10-10', seasonId: trial.season, phase: 'established' } as const
    await trial.keeper.post(`${trial.base}/inputs/spreadings`, { ...spread, ...on })
  })
  afterAll(() => place.close())

  it('the season says beside the planting from when it may be picked', async () => {
    const text = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
    const waits = 'Cow manure (raw) went on the bed on 10 October 2025: not picked before 7 February 2026 (120 days).'
    expect(plain(text)).toContain(`carrot, Kestrel in Long Bank: ${waits}`)
    expect(plain(text)).toContain(`carrot, Kestrel ${waits} Long Bank`)
    expect(plain(text).split(waits)).toHaveLength(5)
    expect(plain(text)).toContain(catalogue.seasons.manureRule)
    expect(rowOf(text, 'carrot, Kestrel')[1]).toBe('Lower Terrace')
  })

  it('the week warns of a harvest that is closer, and stores it all the same', async () => {
    const week = `${trial.base}/weeks/2026-W05`
    const harvest = (garden: string) => ({
      ...{ id: newId(), plantingId: plantingOf(trial, 'carrot', garden), harvestedOn: '2026-01-28' },
      ...{ marketable: '1,5', unmarketable: '', why: '', containerId: '' },
    })
    const opened = plain((await trial.keeper.get(week)).text)
    expect(opened).toContain(catalogue.diary.waitingHeading(2))
    expect(opened).not.toContain(catalogue.diary.tooSoonHeading)
    const before = plain((await trial.keeper.get(`${week}/ledger`)).text)
    expect(before).toContain('Not picked before 7 February 2026 (120 days).')
    expect(before).not.toContain(catalogue.diary.tooSoonHeading)
    expect((await trial.keeper.post(`${week}/harvests`, harvest('Lower Terrace'))).status).toBe(303)
    expect(plain((await trial.keeper.get(week)).text)).not.toContain(catalogue.diary.tooSoonHeading)
    expect((await trial.keeper.post(`${week}/harvests`, harvest('Long Bank'))).status).toBe(303)
    expect(plain((await trial.keeper.get(week)).text)).toContain(catalogue.diary.tooSoonHeading)
    const after = (await trial.keeper.get(`${week}/ledger`)).text
    expect(plain(after)).toContain('went on its bed on 10 October 2025, 110 days before; the interval is 120 days')
    expect(rowOf(after, 'carrot, Kestrel · Long Bank, Bed 1')[1]).toBe('1.5 kg')
  })

  it('a report says so, whatever parts a keeper chose, and one of before it was picked does not', async () => {
    const { answer, id } = await writeReport(trial, { sections: ['measures'] })
    expect(answer.status).toBe(303)
    const { text } = await place.guest().get(await shareReport(trial, id))
    expect(plain(text)).toContain(
      'carrot, Kestrel, Long Bank: picked on 28 January 2026, 110 days after Cow manure (raw)',
    )
    expect(plain(text)).toContain('the interval is 120 days.')
    expect(plain(text)).toContain('That is no word on whether the food was safe')
    expect(plain(text)).not.toContain('Lower Terrace: picked on')
  })

  it('a crop that does not touch the soil waits 90 days', async () => {
    const text = (await trial.keeper.get(`${trial.base}/crops`)).text
    expect(rowOf(text, 'sweetcorn')[4]).toBe('does not touch the soil')
    expect(rowOf(text, 'tomato')[4]).toBe('not known')
    const id = /correct\/crops\/([\w-]+)"[^>]*>Correct<span class="unseen"> carrot</.exec(text)?.[1] ?? ''
    const corrected = { version: '1', name: 'carrot', touchesSoil: 'no' }
    expect((await trial.keeper.post(`${trial.base}/correct/crops/${id}`, corrected)).status).toBe(303)
    const week = plain((await trial.keeper.get(`${trial.base}/weeks/2026-W05/ledger`)).text)
    expect(week).not.toContain(catalogue.diary.tooSoonHeading)
  })
})
