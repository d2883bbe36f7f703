import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let methods: Record<string, string>
const at = () => `${trial.base}/seasons/${trial.season}/layout`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  methods = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)('methodId')
})
afterAll(() => place.close())

const both = () => Object.values(methods)
const address = (way: string, seed: string) => {
  const query = new URLSearchParams({ way, seed })
  for (const id of both()) query.append('methods', id)
  return `${at()}?${query}`
}
/** Garden, bed and method of each line of the last list on the page. */
const lines = (html: string, heading: string) => {
  const list = html.split(`aria-label="${heading}"`)[1]?.split('</table>')[0] ?? ''
  return [...list.matchAll(/<tr>(.*?)<\/tr>/g)].slice(1).map((row) => plain(row[1]?.replaceAll('</t', ' | </t') ?? ''))
}

it('says what one garden a method cannot show, and what other choices would', async () => {
  const text = plain((await trial.keeper.get(at())).text)
  expect(text).toContain('One garden a method. What differs may come from the method or from the ground')
  expect(text).toContain('Every garden is split between all methods (Dug every spring in 2 gardens')
  expect(text).toContain('1 degree of freedom in a season')
  expect(text).toContain('4 plantings stand in this season already')
})

it('a draw without a seed is given one, keeps nothing, and comes out alike for its seed', async () => {
  const asked = await trial.keeper.get(address('draw beds', ''))
  expect(asked.status).toBe(303)
  expect(asked.location).toMatch(/seed=\d{6}/)
  const first = (await trial.keeper.get(address('draw beds', 'barley'))).text
  const again = (await trial.keeper.get(address('draw beds', 'barley'))).text
  expect(lines(first, 'Not kept yet')).toEqual(lines(again, 'Not kept yet'))
  expect(lines(first, 'Not kept yet')).toHaveLength(4)
  expect(lines(first, 'As it lies now')).toHaveLength(2)
})

it('the draw that was looked at is the one that is kept, with its seed, once, and can be taken back', async () => {
  const looked = lines((await trial.keeper.get(address('draw beds', 'barley'))).text, 'Not kept yet')
  const kept = { way: 'draw beds', seed: 'barley', methods: both() }
  expect((await trial.keeper.post(at(), kept)).status).toBe(303)
  const page = (await trial.keeper.get(at())).text
  expect(lines(page, 'As it lies now')).toEqual(looked)
  expect(looked.every((line) => line.includes('at random') && line.includes('barley'))).toBe(true)
  expect((await trial.keeper.post(at(), kept)).status).toBe(303)
  const season = plain((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  expect(season).toContain('Every garden is split between all methods')
})

it('a method that lies there already keeps its years', async () => {
  const lower = trial.gardens.lower ?? ''
  const asked = new URLSearchParams({ way: 'by hand', seed: '', [`to-${lower}`]: methods['Dug every spring'] ?? '' })
  asked.set(`since-${lower}`, '2020')
  const page = (await trial.keeper.get(`${at()}?${asked}`)).text
  // The season starts in 2025: its sixth year there.
  expect(rowOf(page, 'Lower Terrace').slice(2, 5)).toEqual(['Dug every spring', '6', 'established'])
})

it('a turn goes on from the season before, and ages the method that stays', async () => {
  const next = newId()
  await trial.keeper.post(`${trial.base}/seasons`, {
    id: next,
    name: '2026/27',
    startsOn: '2026-08-01',
    endsOn: '2027-05-31',
  })
  const before = { way: 'by hand', [`to-${trial.gardens.lower}`]: methods['Dug every spring'], seed: '' }
  await trial.keeper.post(at(), { ...before, [`to-${trial.gardens.bank}`]: methods['Compost mulch'] })
  const layout = `${trial.base}/seasons/${next}/layout`
  expect((await trial.keeper.post(layout, { way: 'turn gardens', seed: '', methods: both() })).status).toBe(303)
  const page = (await trial.keeper.get(layout)).text
  expect(rowOf(page, 'Lower Terrace').slice(2, 6)).toEqual(['Compost mulch', '1', 'establishing', 'by rotation'])
  expect(rowOf(page, 'Long Bank').slice(2, 6)).toEqual(['Dug every spring', '1', 'establishing', 'by rotation'])
})

it('refuses in words: one method, blocks that are not there, strangers', async () => {
  const one = await trial.keeper.post(at(), { way: 'draw gardens', seed: 'x', methods: [both()[0]] })
  expect([one.status, plain(one.text).includes('Choose two methods or more.')]).toEqual([422, true])
  const blocks = await trial.keeper.post(at(), { way: 'draw blocks', seed: 'x', methods: both() })
  expect([blocks.status, plain(blocks.text).includes('Some bed lies in no block yet')]).toEqual([422, true])
  const strange = await trial.keeper.post(at(), { way: 'draw gardens', seed: 'x', methods: [newId(), newId()] })
  expect([strange.status, plain(strange.text).includes('Nothing would be laid')]).toEqual([422, true])
})

it('a bed is split in two, and not beyond what stands in it', async () => {
  const beds = choicesIn((await trial.keeper.get(at())).text)('bedId')
  const bedId = beds['Lower Terrace, Bed 1'] ?? ''
  // 10 m2 with 4 m2 of carrots and 4 m2 of potatoes.
  const part = (areaCm2: string) =>
    trial.keeper.post(`${at()}/split-beds`, { id: newId(), bedId, name: 'Bed 1b', areaCm2 })
  expect(plain((await part('3')).text)).toContain('would no longer fit')
  expect(plain((await part('10')).text)).toContain('smaller than the bed it comes from')
  expect((await part('2')).status).toBe(303)
  const garden = (await trial.keeper.get(`${trial.base}/gardens/${trial.gardens.lower}`)).text
  expect(plain(garden)).toContain('Bed 1b')
  expect(rowOf((await trial.keeper.get(`${trial.base}/gardens`)).text, 'Lower Terrace')[4]).toBe('20.0 m²')
})

it('a control strip stands in every garden or in none', async () => {
  const page = (await trial.keeper.get(at())).text
  const choices = choicesIn(page)
  const bed = (garden: string | undefined) => choices(`beds[${garden}]`)['Bed 2'] ?? ''
  const strip = { id: newId(), cropId: choices('cropId').beetroot, cultivar: 'Tern', areaCm2: '1', how: 'direct' }
  const sown = { ...strip, seedLot: 'Lot 7', sownOn: '2025-10-08' }
  const one = await trial.keeper.post(`${at()}/control-strips`, { ...sown, beds: { a: bed(trial.gardens.lower) } })
  expect([one.status, plain(one.text).includes('Choose a bed in every garden')]).toEqual([422, true])
  const beds = { a: bed(trial.gardens.lower), b: bed(trial.gardens.bank) }
  expect((await trial.keeper.post(`${at()}/control-strips`, { ...sown, seedLot: '', beds })).status).toBe(422)
  expect((await trial.keeper.post(`${at()}/control-strips`, { ...sown, beds })).status).toBe(303)
  const season = plain((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  expect(season.match(/Control strip: Tern/g)?.length).toBeGreaterThanOrEqual(2)
})

it('a uniform year is marked and said', async () => {
  const uniform = { id: newId(), name: 'Before', startsOn: '2024-08-01', endsOn: '2025-05-31', isUniformYear: 'yes' }
  const made = await trial.keeper.post(`${trial.base}/seasons`, uniform)
  expect(plain((await trial.keeper.get(made.location)).text)).toContain('every garden is worked alike')
})

it('blocks are named in the table, made where they are not there yet, and drawn from', async () => {
  const page = (await trial.keeper.get(at())).text
  const fields = [...page.matchAll(/name="(block-[^"]+)"/g)].map((one) => one[1] ?? '')
  expect(fields).toHaveLength(5)
  const named = Object.fromEntries(fields.map((name, i) => [name, i % 2 === 0 ? 'Upper' : 'lower']))
  expect((await trial.keeper.post(`${at()}/blocks`, named)).status).toBe(303)
  expect(plain((await trial.keeper.get(at())).text)).toContain('5 beds lie in another block.')
  expect((await trial.keeper.get(at())).text.match(/name="block-[^"]+" value="Upper"/g)).toHaveLength(3)
  const drawn = (await trial.keeper.get(address('draw blocks', 'rye'))).text
  const preview = lines(drawn, 'Not kept yet')
  expect(preview).toHaveLength(5)
  // The two beds of the lower block.
  const lower = preview.filter((line) => /Lower Terrace \| Bed 2 |Long Bank \| Bed 1 /.test(line))
  expect(new Set(lower.map((line) => line.split(' | ')[2])).size).toBe(2)
  expect((await trial.keeper.post(`${at()}/blocks`, Object.fromEntries(fields.map((name) => [name, ''])))).status).toBe(
    303,
  )
})

it('as in the season before is one step, with all a year older', async () => {
  const [before, year] = [await trial.keeper.get(at()), { id: newId(), name: '2027/28' }]
  const stands = lines(before.text, 'As it lies now').length
  const next = { ...year, startsOn: '2026-06-05', endsOn: '2026-07-31' }
  expect((await trial.keeper.post(`${trial.base}/seasons`, next)).status).toBe(303)
  const layout = `${trial.base}/seasons/${year.id}/layout`
  const page = (await trial.keeper.get(layout)).text
  const link = (/href="([^"]*as\+before)"/.exec(page)?.[1] ?? '').replaceAll('&amp;', '&')
  const looked = (await trial.keeper.get(link)).text
  expect(rowOf(looked, 'Lower Terrace').slice(2, 6)).toEqual(['Dug every spring', '2', 'established', 'by choice'])
  expect((await trial.keeper.post(layout, { way: 'as before' })).status).toBe(303)
  expect(lines((await trial.keeper.get(layout)).text, 'As it lies now')).toHaveLength(stands)
})

it('a cultivar is planted under both methods of a split garden in one step', async () => {
  const season = `${trial.base}/seasons/${trial.season}`
  const bank = trial.gardens.bank ?? ''
  const bed = choicesIn((await trial.keeper.get(season)).text)(`beds[${bank}]`)['Bed 2'] ?? ''
  const dug = methods['Dug every spring'] ?? ''
  await trial.keeper.post(`${season}/assignments`, {
    ...{ id: newId(), place: `bed:${bed}`, methodId: dug, phase: 'establishing', yearOfMethod: '1', how: 'choice' },
  })
  const page = (await trial.keeper.get(season)).text
  const choices = choicesIn(page)
  const parts = [...page.matchAll(/name="beds\[([^\]]+)\]"/g)].map((one) => one[1] ?? '')
  expect(parts.filter((key) => key.startsWith(bank))).toHaveLength(2)
  const beds = Object.fromEntries(parts.map((key) => [key, Object.values(choices(`beds[${key}]`)).at(-1) ?? '']))
  const planting = { cropId: choices('cropId').leek, cultivar: 'Moor', areaCm2: '1', how: 'direct', purpose: 'harvest' }
  const answer = await trial.keeper.post(`${season}/plantings`, {
    ...planting,
    id: newId(),
    sownOn: '2025-10-05',
    beds,
  })
  expect(answer.status).toBe(303)
  expect((await trial.keeper.get(season)).text.match(/leek, Moor, Long Bank/g)).toHaveLength(2)
})
