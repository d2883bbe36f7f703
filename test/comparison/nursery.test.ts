import { afterAll, beforeAll, expect, it } from 'vitest'
import { nurseries } from '../../src/comparison/record/nursery.ts'
import { newId } from '../../src/db/new-id.ts'
import { always, areaOver } from '../../src/gardens/areas-held.ts'
import { openPlace, type Place } from '../support/app.ts'
import { aDay } from '../support/calendar.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

const seasons = [
  { id: 's1', startsOn: aDay('2026-01-01'), endsOn: aDay('2026-12-31') },
  { id: 's2', startsOn: aDay('2027-01-01'), endsOn: aDay('2027-12-31') },
]

it('ground of a nursery is divided over what was raised in it, to the last cm2, and only in that season', () => {
  const beds = ['nursery', 'one', 'two', 'three'].map((id) => ({
    id,
    areas: always(id === 'nursery' ? 10_000 : 50_000),
  }))
  const raised = ['one', 'two', 'three'].map((bedId) => ({
    ...{ seasonId: 's1', bedId, raisedInBedId: 'nursery', areaCm2: 7000 },
  }))
  const nursery = nurseries(beds, raised, seasons)
  const areas = (season: (typeof seasons)[number]) => nursery.beds.map((bed) => areaOver(bed.areas, season))
  expect(seasons.map(areas)).toEqual([
    [0, 53_334, 53_333, 53_333],
    [10_000, 50_000, 50_000, 50_000],
  ])
  expect(nursery.divided('s1', ['nursery', 'one'], 60)).toEqual({
    rest: { bedIds: ['one'], amount: 50 },
    parts: [
      { bedId: 'one', amount: 4 },
      { bedId: 'two', amount: 3 },
      { bedId: 'three', amount: 3 },
    ],
  })
  expect(nursery.divided('s2', ['nursery'], 60)).toBeUndefined()
})

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

/**
 * Bed 2 of the terrace (10 m2, dug) raised tomatoes for 1 m2 of its bed 1 and 3 m2 of the bank (mulched). Ground: dug 10 and a
 * quarter of 10, mulched 30 and three quarters. An hour on the nursery: 15 and 45 minutes. Two hours on the terrace, of two
 * beds alike: 60 on bed 1, and 15 and 45.
 */
it('a nursery and the hours on it are of those who planted what it raised', async () => {
  const post = (path: string, fields: Record<string, unknown>) =>
    trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
  const choices = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  const { lower = '', bank = '' } = trial.gardens
  const bed = (garden: string, name: string) => choices(`beds[${garden}]`)[name] ?? ''
  const nursery = choices('raisedInBedId')['Lower Terrace, Bed 2']
  expect(nursery).toBe(bed(lower, 'Bed 2'))
  const tomato = { cropId: choices('cropId').tomato, cultivar: 'Wren', purpose: 'harvest', raisedInBedId: nursery }
  const direct = await post(`seasons/${trial.season}/plantings`, {
    ...{ ...tomato, areaCm2: '1', how: 'direct', sownOn: '2026-04-01', beds: { lower: bed(lower, 'Bed 1') } },
  })
  expect([direct.status, plain(direct.text)]).toEqual([422, expect.stringContaining('comes from a nursery bed')])
  for (const [areaCm2, to] of [
    ['1', bed(lower, 'Bed 1')],
    ['3', bed(bank, 'Bed 2')],
  ]) {
    const days = { how: 'transplanted', sownOn: '2026-03-01', plantedOn: '2026-05-12' }
    expect(
      (await post(`seasons/${trial.season}/plantings`, { ...tomato, ...days, areaCm2, beds: { to } })).status,
    ).toBe(303)
  }
  for (const [where, time] of [
    [`bed:${nursery}`, '1:00'],
    [`garden:${lower}`, '2:00'],
  ]) {
    const hours = { place: where, time, task: 'raising seedlings', workedOn: '2026-03-10' }
    expect((await post('weeks/2026-W11/hours', hours)).status).toBe(303)
  }
  const { text } = await trial.keeper.get(`${trial.base}/compare.json?season=${trial.season}`)
  const { methods } = JSON.parse(text) as { methods: { method: string; totals: Record<string, number> }[] }
  expect(methods.map(({ method, totals }) => [method, totals.bedAreaCm2, totals.minutesWithoutHarvest])).toEqual([
    ['Dug every spring', 125_000, 90],
    ['Compost mulch', 375_000, 90],
  ])
})

it('what falls on those beds of it is marked as divided where the rows stand', async () => {
  const at = `${trial.base}/compare/rows?season=${trial.season}&garden=${trial.gardens.bank}`
  const rows = plain((await trial.keeper.get(at)).text)
  expect(rows).toContain('60 its part of work on a nursery, divided by area 45')
  expect(rows).toContain('120 its part of work on a nursery, divided by area 45')
  const id = newId()
  const load = { id, name: 'Compost', kind: 'compost', unit: 'bag', ownMade: 'bought', rawManure: 'no' }
  const price = { quantityThousandths: '4', priceMinor: '40', deliveryPriceMinor: '', usefulLifeSeasons: '1' }
  const post = (path: string, fields: Record<string, unknown>) =>
    trial.keeper.post(`${trial.base}/inputs/${path}`, { id: newId(), ...fields })
  expect((await post('deliveries', { ...load, ...price, deliveredOn: '2026-02-02' })).status).toBe(303)
  const nursery = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)('raisedInBedId')
  const spread = { deliveryId: id, place: `bed:${nursery['Lower Terrace, Bed 2']}`, quantityThousandths: '4' }
  expect((await post('spreadings', { ...spread, appliedOn: '2026-03-01' })).status).toBe(303)
  expect(plain((await trial.keeper.get(at)).text)).toMatch(
    /Compost Long Bank, Bed 2 \D*30\D00 its part of what went on a nursery/,
  )
})
