import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { type Called, plantingNames } from '../../src/seasons/planting-names.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

const lettuce = (id: string, sownOn: IsoDate | null, more: Partial<Called> = {}): Called => ({
  ...{ id, seasonId: 's', bedId: 'a', crop: 'lettuce, cos', cultivar: 'Dunlin', how: 'direct' },
  ...{ sownOn, plantedOn: null, clearedOn: null, ...more },
})
const called = (...plantings: Called[]) => [...plantingNames(plantings, 'en-NZ').values()]

describe('what plantings are called', () => {
  it('is crop and cultivar, and the day where two of them stand in one bed', () => {
    expect(called(lettuce('1', '2026-09-03'))).toEqual(['lettuce, cos, Dunlin'])
    expect(called(lettuce('1', '2026-09-03'), lettuce('2', '2026-09-17'))).toEqual([
      'lettuce, cos, Dunlin, sown 3 September 2026',
      'lettuce, cos, Dunlin, sown 17 September 2026',
    ])
    const elsewhere = [
      lettuce('2', '2026-09-17', { bedId: 'b' }),
      lettuce('3', '2026-09-17', { cultivar: 'Plover' }),
    ] as const
    expect(called(lettuce('1', '2026-09-03'), ...elsewhere)).toEqual([
      ...['lettuce, cos, Dunlin', 'lettuce, cos, Dunlin', 'lettuce, cos, Plover'],
    ])
  })

  it('tells the day on which it came into the bed, where it was raised elsewhere', () => {
    const raised = { how: 'transplanted', plantedOn: '2026-10-01' } as const
    expect(called(lettuce('1', '2026-09-03', raised), lettuce('2', null, { plantedOn: '2026-10-20' }))).toEqual([
      'lettuce, cos, Dunlin, planted 1 October 2026',
      'lettuce, cos, Dunlin, planted 20 October 2026',
    ])
  })

  it('tells one from another also where both came on one day', () => {
    expect(called(lettuce('1', '2026-09-03'), lettuce('2', '2026-09-03'), lettuce('3', '2026-09-17'))).toEqual([
      'lettuce, cos, Dunlin, sown 3 September 2026, 1 of 2',
      'lettuce, cos, Dunlin, sown 3 September 2026, 2 of 2',
      'lettuce, cos, Dunlin, sown 17 September 2026',
    ])
  })

  it('of two seasons tells the day only where both may stand in one week', () => {
    const before = { seasonId: 'before', clearedOn: '2026-02-01' } as const
    expect(called(lettuce('1', '2025-09-03', before), lettuce('2', '2026-09-03'))).toEqual([
      ...['lettuce, cos, Dunlin', 'lettuce, cos, Dunlin'],
    ])
    for (const clearedOn of [null, '2026-09-01'] as const)
      expect(called(lettuce('1', '2025-09-03', { ...before, clearedOn }), lettuce('2', '2026-09-03'))[0]).toBe(
        'lettuce, cos, Dunlin, sown 3 September 2025',
      )
  })
})

let place: Place
let trial: Trial
const week = () => `${trial.base}/weeks/2026-W05`
const [early, late] = ['lettuce, cos, Dunlin, sown 3 December 2025', 'lettuce, cos, Dunlin, sown 17 December 2025']
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const season = `${trial.base}/seasons/${trial.season}`
  const choices = choicesIn((await trial.keeper.get(season)).text)
  const { lower = '' } = trial.gardens
  const beds = { [lower]: choices(`beds[${lower}]`)['Bed 2'] ?? '' }
  const usual = { cropId: choices('cropId')['lettuce, cos'], cultivar: 'Dunlin', areaCm2: '1', how: 'direct' }
  for (const sownOn of ['2025-12-03', '2025-12-17']) {
    const form = { ...usual, id: newId(), sownOn, purpose: 'harvest', beds }
    expect((await trial.keeper.post(`${season}/plantings`, form)).status).toBe(303)
  }
})
afterAll(() => place.close())

const labels = (html: string, name: string) => Object.keys(choicesIn(html)(name))
const twoAt = (where: string) => [early, late].map((name) => name + where)

describe('two sowings of one cultivar in one bed', () => {
  it('are told apart where a weight, a loss or hours are written down', async () => {
    const page = (await trial.keeper.get(`${week()}/ledger`)).text
    expect(labels(page, 'plantingId')).toEqual(expect.arrayContaining(twoAt(' · Lower Terrace, Bed 2, 1.0 m²')))
    expect(labels(page, 'place')).toEqual(expect.arrayContaining(twoAt(' · Lower Terrace, Bed 2')))
    const crate = plain(page.split('name="plantingIds[]"').slice(1).join(' '))
    for (const name of twoAt(' · Lower Terrace, Bed 2, 1.0 m²')) expect(crate).toContain(name)
    expect(labels(page, 'plantingId').filter((label) => label.startsWith('carrot'))).toEqual([
      'carrot, Kestrel · Lower Terrace, Bed 1, 4.0 m²',
      'carrot, Kestrel · Long Bank, Bed 1, 4.0 m²',
    ])
  })

  it('are told apart on the sheet, where it is typed, and on the list of labels', async () => {
    for (const page of ['/sheet', '?from=paper']) {
      const text = plain((await trial.keeper.get(week() + page)).text)
      for (const day of ['3 December 2025', '17 December 2025'])
        expect(text).toContain(`lettuce, cos, Dunlin, sown ${day}`)
    }
    const list = plain((await trial.keeper.get(`${week()}/labels`)).text)
    for (const name of [early, late]) expect(list).toContain(`Lower Terrace, Bed 2: ${name}`)
  })

  it('are told apart where an entry is moved from one to the other', async () => {
    const chosen = choicesIn((await trial.keeper.get(`${week()}/ledger`)).text)('plantingId')
    const plantingId = chosen[`${early} · Lower Terrace, Bed 2, 1.0 m²`]
    const weighing = { id: newId(), plantingId, harvestedOn: '2026-01-28', marketable: '0,5' } as const
    expect((await trial.keeper.post(`${week()}/harvests`, weighing)).status).toBe(303)
    const hours = { id: newId(), place: `planting:${plantingId}`, task: 'weeding', time: '1' }
    expect((await trial.keeper.post(`${week()}/hours`, hours)).status).toBe(303)
    const weight = (await trial.keeper.get(`${trial.base}/correct/harvests/${weighing.id}`)).text
    expect(labels(weight, 'plantingId')).toEqual(expect.arrayContaining(twoAt(' · Lower Terrace, Bed 2')))
    const work = (await trial.keeper.get(`${trial.base}/correct/labour/${hours.id}`)).text
    expect(labels(work, 'place')).toEqual(expect.arrayContaining(twoAt(' · Lower Terrace, Bed 2')))
  })

  it('are told apart where one is cleared, corrected, or what was spread goes', async () => {
    const season = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
    expect(labels(season, 'plantingId')).toEqual(expect.arrayContaining(twoAt(' · Lower Terrace, Bed 2')))
    const [id] =
      Object.entries(choicesIn(season)('plantingId'))
        .find(([label]) => label.startsWith(early))
        ?.slice(1) ?? []
    expect(plain((await trial.keeper.get(`${trial.base}/correct/plantings/${id}`)).text)).toContain(early)
    const load = {
      id: newId(),
      deliveredOn: '2025-12-01',
      quantityThousandths: '2',
      priceMinor: '',
      supplier: '',
    } as const
    const compost = { name: 'Green compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' }
    await trial.keeper.post(`${trial.base}/inputs/deliveries`, { ...compost, ...load, deliveryPriceMinor: '' })
    const inputs = plain((await trial.keeper.get(`${trial.base}/inputs`)).text)
    for (const name of [early, late]) expect(inputs).toContain(name)
  })

  it('are told apart in the garden’s year and in the history', async () => {
    const garden = plain((await trial.keeper.get(`${trial.base}/gardens/${trial.gardens.lower}`)).text)
    expect(garden).toContain(`Picked in Bed 2 in week 2026-W05: ${early}, 0.5 kg marketable.`)
    expect(garden).toContain(`${early}, 1.0 m²; ${late}, 1.0 m²`)
    expect(plain((await trial.keeper.get(`${trial.base}/history`)).text)).toContain(`${early} · Lower Terrace, Bed 2`)
  })
})
