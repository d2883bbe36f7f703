import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const correct = (kind: string, id: string) => `${trial.base}/correct/${kind}/${id}`
const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

it('of two keepers who correct one garden the second is told, sees both, and loses nothing typed', async () => {
  const other = await place.joined(trial.keeper, 'keeper')
  const address = correct('gardens', trial.gardens.lower ?? '')
  const [mine, theirs] = [await trial.keeper.get(address), await other.get(address)]
  const first = { name: 'Lower Terrace', grossAreaCm2: '31', position: '1', version: versionIn(mine.text) }
  const second = { name: 'Terrace', grossAreaCm2: '33,5', position: '1', version: versionIn(theirs.text) }
  expect((await trial.keeper.post(address, first)).status).toBe(303)
  const told = await other.post(address, second)
  expect(told.status).toBe(409)
  expect(plain(told.text)).toContain('Someone else has changed this since you opened it')
  expect(rowOf(told.text, 'Gross area, paths included')).toEqual(['Gross area, paths included', '31 m2', '33,5'])
  expect(told.text).toContain('value="Terrace"')
  expect(rowOf((await other.get(`${trial.base}/gardens`)).text, 'Lower Terrace')[2]).toBe('31.0 m²')
  const again = { ...second, version: versionIn(told.text) }
  expect((await other.post(address, again)).status).toBe(303)
  expect(rowOf((await other.get(`${trial.base}/gardens`)).text, 'Terrace')[2]).toBe('33.5 m²')
})

it('a garden smaller than its beds is refused at its area', async () => {
  const address = correct('gardens', trial.gardens.bank ?? '')
  const version = versionIn((await trial.keeper.get(address)).text)
  const answer = await trial.keeper.post(address, { name: 'Long Bank', grossAreaCm2: '12', position: '2', version })
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain('the beds are larger than their garden')
})

it('a bed smaller than what stands in it is refused at its area', async () => {
  const bedId = choicesIn((await trial.keeper.get(`${trial.base}/gardens/${trial.gardens.lower}`)).text)('bedId')[
    'Bed 1'
  ]
  const address = correct('beds', bedId ?? '')
  const version = versionIn((await trial.keeper.get(address)).text)
  // 4 m2 of carrots and 4 m2 of potatoes stand in it together.
  const small = await trial.keeper.post(address, { name: 'Bed 1', areaCm2: '7,9', blockId: '', version })
  expect([small.status, plain(small.text).includes('is larger than that')]).toEqual([422, true])
  expect((await trial.keeper.post(address, { name: 'Bed 1', areaCm2: '8', blockId: '', version })).status).toBe(303)
})

it('what others rest on is not removed, and a removal wants its reason', async () => {
  const address = correct('gardens', trial.gardens.bank ?? '')
  const version = versionIn((await trial.keeper.get(address)).text)
  expect((await trial.keeper.post(`${address}/removal`, { version, reason: '' })).status).toBe(422)
  const used = await trial.keeper.post(`${address}/removal`, { version, reason: 'Sold' })
  expect(used.status).toBe(422)
  expect(plain(used.text)).toContain('Other entries rest on this one')
})

it('two who plant one bed at once cannot both fill it', async () => {
  const page = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
  const choices = choicesIn(page)
  const bed = choices(`beds[${trial.gardens.lower}]`)['Bed 2'] ?? ''
  const fields = { cropId: choices('cropId').leek, cultivar: 'Moor', areaCm2: '6', how: 'direct', purpose: 'harvest' }
  const plant = () =>
    trial.keeper.post(`${trial.base}/seasons/${trial.season}/plantings`, {
      ...fields,
      ...{ id: newId(), sownOn: '2025-10-02', beds: { [trial.gardens.lower ?? '']: bed } },
    })
  const statuses = (await Promise.all(Array.from({ length: 6 }, plant))).map((answer) => answer.status)
  expect(statuses.sort()).toEqual([303, 422, 422, 422, 422, 422])
})

it('a bed of its own method stands beside its garden, and a planting is moved out of its matched set', async () => {
  const season = `${trial.base}/seasons/${trial.season}`
  const choices = choicesIn((await trial.keeper.get(season)).text)
  const assignment = { methodId: choices('methodId')['Compost mulch'], phase: 'establishing', yearOfMethod: '1' }
  const bed = choices('place')['Long Bank, Bed 2'] ?? ''
  await trial.keeper.post(`${season}/assignments`, { ...assignment, id: newId(), place: bed, how: 'choice' })
  const row = rowOf((await trial.keeper.get(season)).text, 'Long Bank, Bed 2 alone')
  expect(row).toEqual(['Long Bank, Bed 2 alone', 'Compost mulch establishing, by choice'])
  const address = correct('plantings', plantingOf(trial, 'potato', 'Long'))
  const html = (await trial.keeper.get(address)).text
  expect(choicesIn(html)('matchedSetId').Heron).toBeTruthy()
  const fields = { areaCm2: '4', how: 'direct', sownOn: '2025-10-01', purpose: 'harvest', matchedSetId: '' }
  expect((await trial.keeper.post(address, { ...fields, version: versionIn(html) })).status).toBe(303)
  expect((await trial.keeper.get(season)).text).toMatch(/potato, Heron[\s\S]*?Long Bank/)
})

it('plantings of two cultivars are no matched set; those of one are joined by hand', async () => {
  const season = `${trial.base}/seasons/${trial.season}`
  const [carrot, lower, bank] = [
    plantingOf(trial, 'carrot', 'Lower'),
    plantingOf(trial, 'potato', 'Lower'),
    plantingOf(trial, 'potato', 'Long'),
  ]
  const join = (plantingIds: string[]) =>
    trial.keeper.post(`${season}/matched-sets`, { id: newId(), name: 'Heron again', plantingIds })
  expect(plain((await join([carrot, lower])).text)).toContain('one cultivar only')
  expect((await join([lower])).status).toBe(422)
  expect((await join([lower, bank])).status).toBe(303)
  const rows = (await trial.keeper.get(season)).text.match(/Heron again/g)
  expect(rows?.length).toBeGreaterThanOrEqual(2)
})

it('the garden tells its year in order, with the days between', async () => {
  await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, {
    plantingId: plantingOf(trial, 'carrot', 'Lower'),
    clearedOn: '2026-02-01',
  })
  const page = (await trial.keeper.get(`${trial.base}/gardens/${trial.gardens.lower}`)).text
  const year = plain(page.slice(page.indexOf('The garden’s year')))
  expect(year).toMatch(/1 October 2025.*Sown in Bed 1: carrot, Kestrel, 4\.0 m²\..*1 February 2026 122 days after/)
  expect(year.indexOf('Sown in Bed 1: carrot')).toBeLessThan(year.indexOf('Cleared from Bed 1: carrot'))
  const bed = choicesIn(page)('bedId')['Bed 2'] ?? ''
  const closure = { id: newId(), bedId: bed, fromDay: '2026-03-01', toDay: '2026-02-01', why: 'couch grass' }
  const address = `${trial.base}/gardens/${trial.gardens.lower}/closures`
  expect((await trial.keeper.post(address, closure)).status).toBe(422)
  const open = { ...closure, toDay: '' }
  // Leeks stand in that bed by now: covering them is asked about, once.
  expect((await trial.keeper.post(address, open)).status).toBe(422)
  expect((await trial.keeper.post(address, { ...open, surely: 'yes' })).status).toBe(303)
  expect(plain((await trial.keeper.get(`${trial.base}/gardens/${trial.gardens.lower}`)).text)).toContain(
    'Bed 2 covered: couch grass.',
  )
})
