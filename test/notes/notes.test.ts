import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { rowsIn, unpacked } from '../exchange/unpacked.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
let at: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
  at = `${trial.base}/notes`
})
afterAll(() => place.close())

const where = (garden: 'lower' | 'bank') => `garden:${trial.gardens[garden]}`
const note = (given: Record<string, string> = {}) => ({
  ...{ id: newId(), place: where('lower'), seenOn: '2025-11-11', kind: 'germination', severity: '' },
  ...{ words: 'Carrots up in eleven days.', ...given },
})
const count = (given: Record<string, string> = {}) => ({
  ...{ id: newId(), place: where('lower'), countedOn: '2025-09-17', what: 'earthworms', otherWhat: '', otherUnit: '' },
  ...{ method: 'one spade of 20 x 20 x 20 cm', value: '7', outOf: '', ...given },
})
const patch = (given: Record<string, string> = {}) => ({
  ...{ id: newId(), place: where('bank'), seenOn: '2025-05-20', species: 'couch grass', areaCm2: '3 x 2' },
  ...{ shootsPerM2: '100', position: 'pasture side', ...given },
})

it('notes are read latest first, by kind and by garden, in the address', async () => {
  await recorder.post(`${at}/notes`, note())
  await recorder.post(`${at}/notes`, note({ seenOn: '2026-01-20', kind: 'pest', words: 'Slugs.', severity: '4' }))
  await recorder.post(`${at}/notes`, note({ place: where('bank'), kind: 'pest', words: 'Pigeons.' }))
  const all = plain((await recorder.get(at)).text)
  expect(all.indexOf('20 January 2026 Lower Terrace: pest, severity 4 of 5. Slugs.')).toBeGreaterThan(0)
  expect(all.indexOf('Slugs.')).toBeLessThan(all.indexOf('Carrots up'))
  const entries = (html: string) => plain(/<dl class="days">.*?<\/dl>/s.exec(html)?.[0] ?? '')
  const pests = entries((await recorder.get(`${at}?kind=pest&garden=${trial.gardens.bank}`)).text)
  expect(pests).toContain('Pigeons.')
  expect(pests).not.toContain('Slugs.')
  expect(pests).not.toContain('Carrots up')
  expect((await recorder.get(`${at}?kind=gossip`)).status).toBe(200)
})

it('a count goes with how it was made: another method is another table', async () => {
  await recorder.post(`${at}/counts`, count())
  await recorder.post(`${at}/counts`, count({ countedOn: '2026-01-17', value: '9' }))
  await recorder.post(`${at}/counts`, count({ value: '30', method: 'mustard water on 50 x 50 cm' }))
  const temperature = { what: 'soil temperature', method: 'at 10 cm, 9 in the morning', value: '-0,5' }
  await recorder.post(`${at}/counts`, count(temperature))
  const carrots = { place: '', plantingId: plantingOf(trial, 'carrot', 'Lower'), countedOn: '2025-11-20' }
  const standing = { what: 'plants standing', method: 'all', value: '45', outOf: '60', ...carrots }
  await recorder.post(`${at}/counts`, count(standing))
  const slaked = { what: 'other', otherWhat: 'crumbs that hold', otherUnit: 'of ten', method: 'in a jar', value: '6' }
  expect((await recorder.post(`${at}/counts`, count(slaked))).status).toBe(303)
  const page = (await recorder.get(at)).text
  const captions = [...page.matchAll(/<caption>([^<]*)/g)].map((found) => found[1])
  expect(captions).toContain('earthworms: one spade of 20 x 20 x 20 cm')
  expect(captions).toContain('earthworms: mustard water on 50 x 50 cm')
  expect(captions).toContain('crumbs that hold: in a jar')
  expect(plain(page)).toContain('17 January 2026 Lower Terrace 9 worms')
  expect(plain(page)).toContain('−0.5 °C')
  expect(plain(page)).toContain('20 November 2025 Lower Terrace, Bed 1: carrot, Kestrel 45 of 60 (75 %) plants')
})

it('a patch has its course: from 100 to 5 shoots in 24 weeks it halves in 5.6 weeks', async () => {
  await recorder.post(`${at}/patches`, patch())
  await recorder.post(`${at}/patches`, patch({ seenOn: '2025-11-04', shootsPerM2: '5' }))
  const page = (await recorder.get(at)).text
  const none = 'not written down'
  expect(rowOf(page, '20 May 2025').slice(1, 7)).toEqual(['', '6.0 m²', none, '100', 'first seen', 'first seen'])
  expect(rowOf(page, '4 November 2025').slice(1, 7)).toEqual([
    ...['2025/26', '6.0 m²', none, '5', 'unchanged', 'shrinks by 0.125 a week, halves in 5.6 weeks'],
  ])
})

it('a weed has a share of the ground that it covers, of a patch or of the place, and the export carries it', async () => {
  const couch = { species: 'sorrel', position: '', shootsPerM2: '' }
  const spread = patch({ ...couch, place: where('lower'), seenOn: '2025-11-05', areaCm2: '', cover: '12,5' })
  expect((await recorder.post(`${at}/patches`, spread)).status).toBe(303)
  await recorder.post(`${at}/patches`, patch({ ...couch, seenOn: '2025-11-06', areaCm2: '2', cover: '40' }))
  const page = (await recorder.get(at)).text
  expect(rowOf(page, '5 November 2025').slice(2, 5)).toEqual(['not written down', '12.5 %', 'not counted'])
  expect(rowOf(page, '6 November 2025').slice(2, 4)).toEqual(['2.0 m²', '40 %'])
  const year = async (garden: string) => plain((await recorder.get(`${trial.base}/gardens/${garden}?season=all`)).text)
  expect(await year(trial.gardens.lower ?? '')).toContain(
    'Weed sorrel in the whole garden: 12.5 % of the ground covered.',
  )
  expect(await year(trial.gardens.bank ?? '')).toContain(
    'Patch of sorrel in the whole garden: 2.0 m², 40 % of the ground covered.',
  )
  const files = await unpacked(await trial.keeper.download(`${trial.base}/exchange/export.zip`))
  const rows = rowsIn(files.get('data/weed_patches.csv')).filter((row) => row.species === 'sorrel')
  expect(rows.map((row) => [row.area_cm2, row.cover_permille]).sort()).toEqual([
    ['', '125'],
    ['20000', '400'],
  ])
  const address = `${trial.base}/correct/weed-patches/${spread.id}`
  expect((await recorder.get(address)).text).toContain('name="cover" type="text" value="12.5"')
  expect((await recorder.post(address, { ...spread, cover: '15', version: '1' })).status).toBe(303)
  expect(rowOf((await recorder.get(at)).text, '5 November 2025')[3]).toBe('15 %')
})

it.each([
  ['notes', { seenOn: '2101-01-01' }, 'This day is still to come'],
  ['notes', { kind: 'gossip' }, 'Please choose one of the list'],
  ['notes', { severity: '6' }, 'It must be at most 5'],
  ['notes', { place: `garden:${newId()}` }, 'Please choose one of the list'],
  ['counts', { value: '-3' }, 'A count cannot be under nothing'],
  ['counts', { what: 'plants standing' }, 'Say of how many'],
  ['counts', { what: 'plants standing', outOf: '9' }, 'Choose the planting: plants standing are counted of one'],
  ['counts', { place: '' }, 'Please choose one of the list'],
  ['counts', { plantingId: newId() }, 'Please choose one of the list'],
  ['counts', { what: 'plants standing', value: '7', outOf: '6' }, 'at least as many as were counted'],
  ['counts', { what: 'other' }, 'Please fill this in'],
  ['patches', { areaCm2: '3 x' }, 'This is no area'],
  ['patches', { areaCm2: '' }, 'Write down an area, or how much of the ground it covers'],
  ['patches', { cover: '101' }, 'It must be at most 100'],
])('what cannot be is refused in %s and everything typed stays: %o', async (form, wrong, sentence) => {
  const usual = {
    notes: note({ words: 'kept' }),
    counts: count({ method: 'kept' }),
    patches: patch({ species: 'kept' }),
  }
  const answer = await recorder.post(`${at}/${form}`, { ...usual[form as 'notes'], ...(wrong as object) })
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain(sentence)
  expect(answer.text).toMatch(/value="kept"|>kept<\/textarea>/)
})

it.each([
  ['notes', 'field-notes', () => note(), { words: 'Up in twelve days.' }],
  ['counts', 'counts', () => ({ ...count(), unit: 'worms' }), { value: '8.5' }],
  ['patches', 'weed-patches', () => patch({ species: 'bindweed' }), { position: 'north end' }],
] as const)('%s are corrected and removed with a reason, by recorders only', async (form, kind, made, changed) => {
  const fields = made()
  await recorder.post(`${at}/${form}`, fields)
  const address = `${trial.base}/correct/${kind}/${fields.id}`
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(address)).status).toBe(403)
  expect((await recorder.post(address, { ...fields, ...changed, version: '1' })).status).toBe(303)
  expect((await recorder.post(address, { ...fields, seenOn: '2101-01-01', version: '1' })).status).not.toBe(303)
  expect(plain((await reader.get(at)).text)).toContain(Object.values(changed)[0])
  expect((await recorder.post(`${address}/removal`, { version: '2', reason: '' })).status).toBe(422)
  expect((await recorder.post(`${address}/removal`, { version: '2', reason: 'Wrong bed' })).status).toBe(303)
  expect(plain((await reader.get(at)).text)).not.toContain(Object.values(changed)[0])
})

it('a count names a planting of its own place, from the day it was sown, and its correction keeps it', async () => {
  const plantingId = plantingOf(trial, 'potato', 'Long')
  const standing = { what: 'plants standing', method: 'two rows', value: '9', outOf: '10', plantingId }
  const fields = count({ ...standing, place: where('bank'), countedOn: '2025-11-20' })
  const elsewhere = await recorder.post(`${at}/counts`, { ...fields, place: where('lower') })
  expect(plain(elsewhere.text)).toContain('This planting stands in Long Bank, Bed 1.')
  const early = await recorder.post(`${at}/counts`, { ...fields, countedOn: '2025-09-30' })
  expect(plain(early.text)).toContain('On this day it was not sown yet.')
  expect([elsewhere.status, early.status]).toEqual([422, 422])
  expect((await recorder.post(`${at}/counts`, fields)).status).toBe(303)
  const address = `${trial.base}/correct/counts/${fields.id}`
  expect((await recorder.get(address)).text).toContain(
    `<option value="${plantingId}" selected>2025/26, Long Bank, Bed 1`,
  )
  const corrected = { ...fields, place: '', unit: 'plants', value: '8', version: '1' }
  expect((await recorder.post(address, corrected)).status).toBe(303)
  expect(plain((await recorder.get(at)).text)).toContain('Long Bank, Bed 1: potato, Heron 8 of 10 (80 %) plants')
})

it('a soil of 500 °C is asked about once, and kept if it is meant', async () => {
  const hot = count({ what: 'soil temperature', method: 'in the heap, 9 in the morning', value: '500' })
  const asked = await recorder.post(`${at}/counts`, hot)
  expect(asked.status).toBe(422)
  expect(plain(asked.text)).toContain('500 °C is an odd temperature for soil. Is it right?')
  expect(asked.text).toContain('name="surely"')
  expect((await recorder.post(`${at}/counts`, { ...hot, surely: 'yes' })).status).toBe(303)
  expect(plain((await recorder.get(at)).text)).toContain('500 °C')
})
