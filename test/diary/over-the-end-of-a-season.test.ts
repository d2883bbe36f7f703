import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const [next, leeks, garlic] = [newId(), newId(), newId()]
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await post('seasons', { id: next, name: '2026/27', startsOn: '2026-06-01', endsOn: '2027-05-31' })
  for (const [garden, method] of [
    [trial.gardens.lower, 'Dug every spring'],
    [trial.gardens.bank, 'Compost mulch'],
  ] as const) {
    const methodId = (await choicesOf(next))('methodId')[method]
    const laid = { methodId, phase: 'established', yearOfMethod: '4', how: 'choice' }
    await post(`seasons/${next}/assignments`, { place: `garden:${garden}`, ...laid })
  }
})
afterAll(() => place.close())

const post = (path: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
const choicesOf = async (season: string) => choicesIn((await trial.keeper.get(`${trial.base}/seasons/${season}`)).text)
const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''
const figures = async (season: string) => (await trial.keeper.get(`${trial.base}/compare.json?season=${season}`)).text
const totals = async (season: string) => {
  const { methods } = JSON.parse(await figures(season)) as { methods: { totals: Record<string, number> }[] }
  const { marketableG, minutesWithoutHarvest, minutesOfHarvest, plantings } = methods[0]?.totals ?? {}
  return { marketableG, minutesWithoutHarvest, minutesOfHarvest, plantings }
}
const planted = async (id: string, crop: string, more: Record<string, unknown>) => {
  const choices = await choicesOf(trial.season)
  const beds = Object.fromEntries(
    Object.values(trial.gardens).map((garden) => [garden, choices(`beds[${garden}]`)['Bed 2'] ?? '']),
  )
  const given = { id, cropId: choices('cropId')[crop], cultivar: 'Merlin', areaCm2: '3', how: 'direct', beds }
  return post(`seasons/${trial.season}/plantings`, { ...given, purpose: 'harvest', ...more })
}
/** Of the two plantings of one form the first has its id. */
const hours = (plantingId: string, week: string, workedOn: string, more: Record<string, unknown> = {}) =>
  post(`weeks/${week}/hours`, { place: `planting:${plantingId}`, task: 'weeding', time: '1:00', workedOn, ...more })
const weight = (plantingId: string, week: string, harvestedOn: string, more: Record<string, unknown> = {}) =>
  post(`weeks/${week}/harvests`, { plantingId, harvestedOn, marketable: '2', ...more })
const nothing = { marketableG: 0, minutesWithoutHarvest: 0, minutesOfHarvest: 0, plantings: 0 }

it('leeks count toward the season that planted them with all hours and kilograms, though the next has begun', async () => {
  expect((await planted(leeks, 'leek', { sownOn: '2026-04-01' })).status).toBe(303)
  expect((await hours(leeks, '2026-W18', '2026-04-28')).status).toBe(303)
  expect((await hours(leeks, '2026-W28', '2026-07-08')).status).toBe(303)
  expect((await hours(leeks, '2026-W46', '2026-11-10', { task: 'harvest' })).status).toBe(303)
  expect((await weight(leeks, '2026-W46', '2026-11-10')).status).toBe(303)
  expect(await totals(trial.season)).toEqual({
    ...{ marketableG: 2000, minutesWithoutHarvest: 120, minutesOfHarvest: 60, plantings: 3 },
  })
  expect(await totals(next)).toEqual(nothing)
})

it('garlic counts toward the season of picking where the group says so: asked, and moved with all of its set', async () => {
  const crop = `${trial.base}/correct/crops/${(await choicesOf(next))('cropId').garlic}`
  const given = { version: versionIn((await trial.keeper.get(crop)).text), name: 'garlic', family: '', source: '' }
  expect((await trial.keeper.post(crop, { ...given, touchesSoil: 'yes', countsWhenPicked: 'picked' })).status).toBe(303)
  expect(plain((await trial.keeper.get(`${trial.base}/crops`)).text)).toContain(
    'garlic counts toward the season in which it is picked',
  )
  const until = await planted(garlic, 'garlic', { sownOn: '2026-03-02', standsUntil: '2026-07-20' })
  expect(until.status).toBe(422)
  expect(plain(until.text)).toContain('this one is to stand until 2026/27. Write it down in that season.')
  expect((await planted(garlic, 'garlic', { sownOn: '2026-03-02' })).status).toBe(303)
  expect((await hours(garlic, '2026-W18', '2026-04-28')).status).toBe(303)
  const asked = await weight(garlic, '2026-W28', '2026-07-08')
  expect(asked.status).toBe(422)
  expect(plain(asked.text)).toContain('garlic counts toward the season in which it is picked')

  const page = `${trial.base}/correct/plantings/${garlic}`
  const correction = {
    ...{ version: versionIn((await trial.keeper.get(page)).text), seasonId: next, sownOn: '2026-03-02', areaCm2: '3' },
    ...{ how: 'direct', purpose: 'harvest', interplanted: 'no', standsOverSeasons: 'no', matchedSetId: garlic },
  }
  const ofSet = await trial.keeper.post(page, correction)
  expect(ofSet.status).toBe(422)
  expect((await trial.keeper.post(page, { ...correction, together: 'together' })).status).toBe(303)
  expect((await weight(garlic, '2026-W28', '2026-07-08')).status).toBe(303)
  expect(await totals(next)).toEqual({ ...nothing, marketableG: 2000, minutesWithoutHarvest: 60, plantings: 1 })
  const { matched } = JSON.parse(await figures(next)) as { matched: { crop: string }[] }
  expect(matched).toEqual([])
  expect(await totals(trial.season)).toMatchObject({ minutesWithoutHarvest: 120, plantings: 3 })
})

it('once its season is closed nothing dated later moves it: refused, and why', async () => {
  const closing = `${trial.base}/seasons/${trial.season}/close`
  const version = versionIn((await trial.keeper.get(closing)).text)
  expect((await trial.keeper.post(closing, { version })).status).toBe(303)
  const before = await figures(trial.season)
  const late = await weight(leeks, '2026-W47', '2026-11-17', { surely: 'yes' })
  expect(late.status).toBe(422)
  expect(plain(late.text)).toContain('This leek counts toward a season that is over and closed')
  expect((await hours(leeks, '2026-W47', '2026-11-17')).status).toBe(422)
  const page = `${trial.base}/correct/plantings/${leeks}`
  const correction = {
    ...{ version: versionIn((await trial.keeper.get(page)).text), seasonId: next, sownOn: '2026-04-01', areaCm2: '3' },
    ...{ how: 'direct', purpose: 'harvest', interplanted: 'no', standsOverSeasons: 'no', together: 'together' },
  }
  expect((await trial.keeper.post(page, correction)).status).toBe(422)
  expect(await figures(trial.season)).toBe(before)
})
