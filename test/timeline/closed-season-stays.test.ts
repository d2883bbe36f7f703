import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { weigh } from '../reports/reports.ts'
import { openPlace, type Place } from '../support/app.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const post = (path: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
const closedFigures = async () => (await trial.keeper.get(`${trial.base}/compare.json?season=${trial.season}`)).text

const next = newId()
const bank = () => `gardens/${trial.gardens.bank}/ground`
const bedNamed = async (name: string) => {
  const beds = choicesIn((await trial.keeper.get(`${trial.base}/${bank()}`)).text)('bedId')
  return Object.entries(beds).find(([label]) => label.startsWith(`${name},`))?.[1] ?? ''
}
const choicesOfNext = async () => choicesIn((await trial.keeper.get(`${trial.base}/seasons/${next}`)).text)

/** What may be done to ground and record after a season was closed, in the order of the days on which it is done. */
const later: Readonly<Record<string, () => Promise<{ readonly status: number }>>> = {
  'the garden becomes larger': () => post(`${bank()}/gross`, { areaCm2: '90', fromDay: '2026-06-01' }),
  'a bed is added': () => post(`${bank()}/added`, { name: 'Bed 3', areaCm2: '12', fromDay: '2026-06-02' }),
  'beds are added from the list of gardens': () =>
    post('gardens/beds', {
      gardenId: trial.gardens.bank,
      count: '2',
      areaCm2: '4',
      name: 'Strip',
      thereSince: '2026-06-03',
    }),
  'a bed becomes larger': async () =>
    post(`${bank()}/resized`, { bedId: await bedNamed('Bed 2'), areaCm2: '21', fromDay: '2026-06-04' }),
  'a bed is parted': async () =>
    post(`${bank()}/parted`, { bedId: await bedNamed('Bed 2'), name: 'Bed 2b', areaCm2: '5', fromDay: '2026-06-05' }),
  'two beds become one': async () =>
    post(`${bank()}/joined`, {
      bedId: await bedNamed('Bed 3'),
      otherId: await bedNamed('Bed 2b'),
      fromDay: '2026-06-06',
    }),
  'a bed is given up': async () =>
    post(`${bank()}/given-up`, { bedId: await bedNamed('Bed 2'), fromDay: '2026-06-07' }),
  'the next season begins': () =>
    post('seasons', { id: next, name: '2026/27', startsOn: '2026-08-01', endsOn: '2027-05-31' }),
  'a garden changes its method': async () => {
    const methods = (await choicesOfNext())('methodId')
    const laid = { methodId: methods['Dug every spring'], phase: 'establishing', yearOfMethod: '1', how: 'choice' }
    return post(`seasons/${next}/assignments`, { place: `garden:${trial.gardens.bank}`, ...laid })
  },
  'the other keeps its own': async () => {
    const laid = { phase: 'established', yearOfMethod: '4', how: 'choice' }
    const methodId = (await choicesOfNext())('methodId')['Compost mulch']
    return post(`seasons/${next}/assignments`, { place: `garden:${trial.gardens.lower}`, methodId, ...laid })
  },
  'a new method is named': () => post('gardens/methods', { name: 'Deep hay' }),
  'a garden is added': async () => {
    const page = (await trial.keeper.get(`${trial.base}/gardens`)).text
    const siteId = choicesIn(page)('siteId')['Quern Hill']
    return post('gardens/gardens', { siteId, name: 'Hay Meadow', grossAreaCm2: '50' })
  },
  'the same crop is planted in other beds': async () => {
    const choices = await choicesOfNext()
    const beds = Object.fromEntries(
      Object.values(trial.gardens).map((id) => [id, Object.values(choices(`beds[${id}]`)).at(-1) ?? '']),
    )
    const planted = { sownOn: '2026-10-01', areaCm2: '2', how: 'direct', purpose: 'harvest' }
    return post(`seasons/${next}/plantings`, {
      cropId: choices('cropId').carrot,
      cultivar: 'Kestrel',
      ...planted,
      beds,
    })
  },
}

it('no change dated after a closed season moves a byte of its figures', async () => {
  expect((await weigh(trial, '3.2')).status).toBe(303)
  const other = { plantingId: plantingOf(trial, 'carrot', 'Long'), harvestedOn: '2026-01-28', marketable: '4.1' }
  await trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, { id: newId(), ...other })
  const closing = `${trial.base}/seasons/${trial.season}/close`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(closing)).text)?.[1]
  expect((await trial.keeper.post(closing, { version })).status).toBe(303)
  const before = await closedFigures()
  expect(before).toContain('"marketableG":4100')
  for (const [name, change] of Object.entries(later)) {
    expect([name, (await change()).status]).toEqual([name, 303])
    expect([name, await closedFigures()]).toEqual([name, before])
  }
})

it('beds without a day would give it ground, and are asked for one', async () => {
  const answer = await post('gardens/beds', {
    gardenId: trial.gardens.bank,
    count: '1',
    areaCm2: '1',
    name: 'More',
    thereSince: '',
  })
  expect(answer.status).toBe(422)
  expect(answer.text).toContain('2025/26 is closed: say from which day these beds are there')
})
