import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { packedLies, unpackedLies } from '../../src/home/setting-up.page.ts'
import { bedArea, cropNamed, nameOfSeason, placesInGarden } from '../../src/home/setting-up.ts'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const today = dayIn('Pacific/Auckland', new Date())
const season = { startsOn: addDays(today, -100), endsOn: addDays(today, 200) }
const garden = (name: string, method: string, more: Record<string, string> = {}) => ({
  ...{ name, method, since: '', grossAreaCm2: '70', beds: '6 of 8 m2', ...more },
})
const blank = { name: '', method: '', since: '', grossAreaCm2: '', beds: '' }
const crop = (name: string, cultivar: string, more: Record<string, string> = {}) => ({
  ...{ crop: name, cultivar, sownOn: addDays(today, -60), plantedOn: '', areaCm2: '', ...more },
})
const twoGardens = { 0: garden('Lower Terrace', 'Dug'), 1: garden('Long Bank', 'Mulched', { since: '2019' }) }

async function withGardens(rows: object = twoGardens): Promise<{ keeper: Client; base: string; next: string }> {
  const keeper = await place.keeper()
  const base = `/g/${keeper.slug}`
  const saved = await keeper.post(`${base}/setting-up/gardens`, { id: newId(), ground: 'one', rows })
  expect(saved.status).toBe(303)
  return { keeper, base, next: saved.location }
}

const typedIn = (html: string, name: string) => {
  const input = html.split('<input').find((one) => one.includes(`name="${name}"`))
  return /value="([^"]*)"/.exec(input ?? '')?.[1]
}

it('after signing up it begins at once: a country gives currency, time zone and numbers, and nothing is chosen before', async () => {
  const person = place.guest()
  const given = { name: 'Ada', email: `${newId()}@example.org`, password: 'long enough to keep' }
  const signedUp = await person.post('/sign-up', given)
  expect(signedUp.location).toBe('/groups/new')
  expect((await person.get('/groups/new')).text).not.toMatch(/<option[^>]*\sselected>(?!Choose|as in)/)
  const started = await person.post('/groups', { name: 'Quern Hill', country: 'NZ', currency: '', timeZone: '' })
  expect(started.location).toMatch(/\/setting-up$/)
  const settings = (await person.get(started.location.replace('setting-up', 'settings'))).text
  expect(settings).toMatch(/value="NZD" selected/)
  expect(settings).toMatch(/value="Pacific\/Auckland" selected/)
  expect(settings).toMatch(/value="en-NZ" selected/)
})

it('a country with several times asks which, with all that was typed; none at all is asked for', async () => {
  const person = await place.person()
  const asked = await person.post('/groups', { name: 'Quern Hill', country: 'AU' })
  expect(asked.status).toBe(422)
  expect(plain(asked.text)).toContain('keeps several times')
  expect(asked.text).toMatch(/value="AU" selected/)
  expect(typedIn(asked.text, 'name')).toBe('Quern Hill')
  expect(plain((await person.post('/groups', { name: 'Quern Hill' })).text)).toContain('Choose the country')
  const perth = { name: 'Quern Hill', country: 'AU', timeZone: 'Australia/Perth', locale: '', currency: '' }
  expect((await person.post('/groups', perth)).status).toBe(303)
})

it('two tables make gardens, methods, beds, a season and matched sets in every garden', async () => {
  const { keeper, base, next } = await withGardens()
  expect((await keeper.get(next)).status).toBe(200)
  const page = (await keeper.get(next)).text
  const hidden = [...page.matchAll(/name="(lies\[[^"]+)" value="([^"]*)"/g)].map((one) => [one[1], one[2]])
  const rows = { 0: crop('carrots', 'Kestrel'), 1: crop('oca', 'Red'), 5: crop('leek', 'Moor', { areaCm2: '2.5' }) }
  const form = { id: newId(), ...season, ...Object.fromEntries(hidden), rows }
  const saved = await keeper.post(`${base}/setting-up/season`, form)
  expect(saved.location).toMatch(new RegExp(`^${base}/weeks/`))
  expect((await keeper.post(`${base}/setting-up/season`, form)).status).toBe(303)
  const compared = await keeper.json<{ gardens?: unknown }>(`${base}/compare.json`)
  expect(compared).toBeDefined()
  const seasons = (await keeper.get(`${base}/seasons`)).text
  const one = /\/seasons\/[0-9a-f-]{36}/.exec(seasons)?.[0] ?? ''
  const text = plain((await keeper.get(`${base}${one}`)).text)
  for (const cultivar of ['Kestrel', 'Red', 'Moor']) expect(text).toContain(cultivar)
  // Sent twice, it stands once: three crops in two gardens.
  const plan = plain((await keeper.get(`${base}${one}/plan`)).text)
  expect(plan.match(/Kestrel/g)?.length).toBe(2)
  expect(plan).toContain('2.5')
  expect(await keeper.get(`${base}/setting-up`)).toMatchObject({ status: 303, location: saved.location })
})

it('wrong cells come back with all that was typed, each said at its line, and nothing is stored', async () => {
  const keeper = await place.keeper()
  const base = `/g/${keeper.slug}/setting-up`
  const first = garden('Lower Terrace', 'Dug', { beds: '6 of 18 m2' })
  const rows = { 0: first, 1: blank, 2: garden('', 'Mulched', { since: '1' }) }
  const refused = await keeper.post(`${base}/gardens`, { id: newId(), rows })
  expect(refused.status).toBe(422)
  const text = plain(refused.text)
  expect(text).toContain('Line 1, beds: The beds come to more')
  expect(text).toContain('Line 3, garden: Please fill this in')
  expect(text).toContain('Say whether they lie on one ground')
  expect(typedIn(refused.text, 'rows[0][beds]')).toBe('6 of 18 m2')
  expect(typedIn(refused.text, 'rows[2][method]')).toBe('Mulched')
  expect((await keeper.get(base)).location).toBe(`${base}/gardens`)
  expect((await keeper.post(`${base}/gardens`, { id: newId(), ground: 'one', rows: {} })).status).toBe(422)
})

it('more lines come without scripts, and what is typed stays', async () => {
  const keeper = await place.keeper()
  const rows = { 0: blank, 1: blank, 2: blank, 3: garden('Long Bank', 'Mulched') }
  const more = await keeper.post(`/g/${keeper.slug}/setting-up/gardens`, { id: newId(), more: 'yes', rows })
  expect(more.status).toBe(200)
  expect(typedIn(more.text, 'rows[3][name]')).toBe('Long Bank')
  expect(typedIn(more.text, 'rows[7][name]')).toBe('')
})

it('somebody who comes back later is asked what lies where, and nothing is taken for said', async () => {
  const { keeper, base } = await withGardens()
  const page = await keeper.get(`${base}/setting-up/season`)
  expect(plain(page.text)).toContain('What lies where')
  const ids = [...page.text.matchAll(/name="lies\[([0-9a-f-]+)\]\[methodId\]"/g)].map((one) => one[1] ?? '')
  expect(ids.length).toBe(2)
  const lies = Object.fromEntries(ids.map((id) => [id, { methodId: '' }]))
  const form = { id: newId(), ...season, asksLies: 'yes', lies, rows: { 0: crop('carrot', 'Kestrel') } }
  const refused = await keeper.post(`${base}/setting-up/season`, form)
  expect(refused.status).toBe(422)
  expect(plain(refused.text)).toContain('What lies where')
})

it('an area larger than its bed and a day after the season are said at their cells', async () => {
  const { keeper, base, next } = await withGardens()
  const hidden = [...(await keeper.get(next)).text.matchAll(/name="(lies\[[^"]+)" value="([^"]*)"/g)]
  const lies = Object.fromEntries(hidden.map((one) => [one[1], one[2]]))
  const send = (rows: object) => keeper.post(`${base}/setting-up/season`, { id: newId(), ...season, ...lies, rows })
  const large = await send({ 0: crop('carrot', 'Kestrel', { areaCm2: '9' }) })
  expect(plain(large.text)).toContain('Line 1, area in each: What stands together is larger than its bed')
  const late = await send({ 0: crop('carrot', 'Kestrel', { sownOn: addDays(today, 300) }) })
  expect(plain(late.text)).toContain('Line 1, sown on: This day is not in the season')
  expect(plain(late.text)).not.toContain('What lies where')
})

it('what the layout can show comes in at most 200 words, before any number of statistics', async () => {
  const { keeper, base, next } = await withGardens()
  const hidden = [...(await keeper.get(next)).text.matchAll(/name="(lies\[[^"]+)" value="([^"]*)"/g)]
  const lies = Object.fromEntries(hidden.map((one) => [one[1], one[2]]))
  const rows = { 0: crop('carrot', 'Kestrel') }
  await keeper.post(`${base}/setting-up/season`, { id: newId(), ...season, ...lies, rows })
  const page = await keeper.get(`${base}/setting-up/what-it-shows`)
  const main = plain(/<main[\s\S]*<\/main>/.exec(page.text)?.[0] ?? '')
  expect(main).toContain('cannot be told from its ground')
  expect(main.split(' ').length).toBeLessThanOrEqual(200)
  expect(main).not.toMatch(/\d\.\d/)
})

it('crops share the beds of a garden in their order, evenly, and an area that was said stays', () => {
  const beds = [
    { id: 'a', areaCm2: 80_000 },
    { id: 'b', areaCm2: 60_000 },
  ]
  expect(placesInGarden(beds, [null, null, null])).toEqual([
    { bedId: 'a', areaCm2: 40_000 },
    { bedId: 'b', areaCm2: 60_000 },
    { bedId: 'a', areaCm2: 40_000 },
  ])
  expect(placesInGarden(beds, [25_000])).toEqual([{ bedId: 'a', areaCm2: 25_000 }])
  expect(placesInGarden([], [null])).toEqual([])
  expect(bedArea(700_000, { count: 6, areaCm2: null })).toBe(116_666)
})

it('a crop is found as people write it, a season is named by its years, and an address holds what lies where', () => {
  const crops = [{ name: 'carrot' }, { name: 'potato' }, { name: 'peas (shelled)' }]
  expect(cropNamed(crops, ' Carrots')).toBe(crops[0])
  expect(cropNamed(crops, 'potatoes')).toBe(crops[1])
  expect(cropNamed(crops, 'oca')).toBeUndefined()
  expect(nameOfSeason('2026-08-01', '2027-05-31')).toBe('2026/27')
  expect(nameOfSeason('2027-03-01', '2027-10-31')).toBe('2027')
  const packed = packedLies([
    { method: 0, since: null },
    { method: 1, since: 2019 },
  ])
  const gardens = [{ id: 'g' }, { id: 'h' }]
  const methods = [{ id: 'm' }, { id: 'n' }]
  expect([...(unpackedLies(packed, gardens, methods) ?? [])]).toEqual([
    ['g', { methodId: 'm', since: '' }],
    ['h', { methodId: 'n', since: '2019' }],
  ])
  expect(unpackedLies('0.7', gardens, methods)).toBeNull()
  expect(unpackedLies('0', gardens, methods)).toBeNull()
})
