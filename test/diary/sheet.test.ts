import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let typing: string
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  typing = `${trial.base}/weeks/2026-W05/sheet/typed`
})
afterAll(() => place.close())

const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)
const week = async () => (await trial.keeper.get(`${trial.base}/weeks/2026-W05/ledger`)).text
const typedIn = (html: string, name: string) =>
  html
    .split(`name="${name}"`)[1]
    ?.split('>')[0]
    ?.match(/value="([^"]*)"/)?.[1]

it('the sheet to print has the gardens as they are walked, what stands in them, and every task', async () => {
  const page = await trial.keeper.get(`${trial.base}/weeks/2026-W05/sheet`)
  const text = plain(page.text.split('<main')[1] ?? '')
  const places = ['Lower Terrace', 'carrot, Kestrel · Bed 1', 'potato, Heron · Bed 1', 'Long Bank', 'Hours', 'weeding']
  const at = places.map((words) => text.indexOf(words))
  expect(at.every((place, i) => place > (at[i - 1] ?? -1))).toBe(true)
  expect(rowOf(page.text, 'Task')).toEqual(['Task', 'Lower Terrace', 'Long Bank'])
  expect(text).not.toContain('Nothing stands here')
  const before = plain((await trial.keeper.get(`${trial.base}/weeks/2025-W35/sheet`)).text)
  expect(before).toContain('Nothing stands here this week.')
  expect(before).not.toContain('carrot, Kestrel')
  expect(await week()).toContain('/weeks/2026-W05/sheet"')
})

it('a typed sheet is stored as read off paper: hours without a day, a weight without one on the Thursday, once', async () => {
  const [lower, bank] = [carrot('Lower Terrace'), carrot('Long Bank')]
  const sheet = {
    id: newId(),
    who: 'Ada',
    weights: {
      [lower]: { day: '2026-01-27', good: '1,5', bad: '0.2', why: 'slugs', pieces: '30' },
      [bank]: { day: '', good: '850 g', bad: '', why: '', pieces: '' },
    },
    hours: {
      [trial.gardens.bank ?? '']: { weeding: '2 x 1:30', watering: '' },
      [trial.gardens.lower ?? '']: { weeding: '45 min' },
    },
  }
  for (let sent = 0; sent < 2; sent++) expect((await trial.keeper.post(typing, sheet)).status).toBe(303)
  const page = await week()
  expect(rowOf(page, 'carrot, Kestrel · Lower Terrace, Bed 1').slice(1, 5)).toEqual([
    '1.5 kg',
    '0.2 kg',
    'damaged by slugs',
    '27 January 2026',
  ])
  expect(rowOf(page, 'carrot, Kestrel · Long Bank, Bed 1').slice(1, 5)).toEqual([
    '0.850 kg',
    '0.0 kg',
    '',
    '29 January 2026',
  ])
  expect(rowOf(page, 'Long Bank').slice(1, 5)).toEqual(['weeding', '3.00 h', '2', ''])
  expect(page.split('<th scope="row">carrot, Kestrel').length).toBe(3)
  const own = page.match(/correct\/harvests\/[0-9a-f-]+/)?.[0] ?? ''
  const story = plain((await trial.keeper.get(`${trial.base}/history/${own.replace('correct/', '')}`)).text)
  expect(story).toContain('Written down nothing read off paper')
})

it('with wrong cells nothing is saved, each says why, and everything typed is still there', async () => {
  const before = await week()
  const [lower, potato] = [carrot('Lower Terrace'), plantingOf(trial, 'potato', 'Long Bank')]
  const sheet = {
    id: newId(),
    who: 'Ada',
    weights: {
      [lower]: { day: '2026-01-27', good: '2', bad: '', why: '', pieces: '' },
      [potato]: { day: '2026-01-28', good: 'three crates', bad: '1', why: '', pieces: '2.5' },
    },
    hours: { [trial.gardens.bank ?? '']: { weeding: 'all day', sowing: '1' } },
  }
  const page = await trial.keeper.post(typing, sheet)
  expect(page.status).toBe(422)
  const text = plain(page.text)
  expect(text).toContain('Nothing is saved yet: 3 cells are not right.')
  const sentences = [...page.text.matchAll(/<p class="wrong" id="wrong-([^"]+)">([^<]+)/g)].map((found) => [
    found[1],
    found[2],
  ])
  expect(sentences).toEqual([
    [`weights-${potato}-good`, 'This is no weight. Write for example 1.5, 1,5 kg, 850 g or 3 lb 4 oz.'],
    [`weights-${potato}-pieces`, 'Please write a whole number.'],
    [
      `hours-${trial.gardens.bank}-weeding`,
      'This is no time. Write for example 1.5 (hours), 1:30, 90 min or 2 x 1:30.',
    ],
  ])
  expect(typedIn(page.text, `weights[${lower}][good]`)).toBe('2')
  expect(typedIn(page.text, `weights[${potato}][good]`)).toBe('three crates')
  expect(typedIn(page.text, `hours[${trial.gardens.bank}][sowing]`)).toBe('1')
  expect(page.text).toContain('<option value="2026-01-28" selected>')
  expect(typedIn(page.text, 'who')).toBe('Ada')
  const settled = (html: string) => plain(html.split('<main')[1] ?? '')
  expect(settled(await week())).toBe(settled(before))
})

it('the rules of the Week page hold: a closed week, a day of another week, a great deal', async () => {
  const bank = carrot('Long Bank')
  const send = (cells: Record<string, string>, more = {}) =>
    trial.keeper.post(typing, { id: newId(), weights: { [bank]: { good: '1', ...cells } }, ...more })
  expect(plain((await send({ day: '2026-03-01' })).text)).toContain('This day is not in the week.')
  const much = await send({ good: '90' })
  expect(plain(much.text)).toContain('90.0 kg from 4.0 m² of carrot in one day is a great deal')
  await trial.keeper.post(`${trial.base}/weeks/2026-W05/closings`, { gardenId: trial.gardens.bank, what: 'weights' })
  expect(plain((await send({})).text)).toContain('This week is closed for that garden.')
  await trial.keeper.post(`${trial.base}/weeks/2026-W05/reopenings`, {
    gardenId: trial.gardens.bank,
    what: 'weights',
    reason: 'a sheet came late',
  })
  expect((await send({ good: '90' }, { surely: 'yes' })).status).toBe(303)
})

it('a blank sheet says so, and a reader prints but types nothing', async () => {
  const blank = await trial.keeper.post(typing, { id: newId() })
  expect([blank.status, plain(blank.text).includes('There is nothing on this sheet yet.')]).toEqual([422, true])
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(`${trial.base}/weeks/2026-W05/sheet`)).text).not.toContain('Type a filled sheet')
  expect((await reader.get(typing)).status).toBe(403)
  const home = async (of: typeof reader) => plain((await of.get(trial.base)).text)
  expect([await home(reader), await home(trial.keeper)].map((text) => text.includes('Write down this week'))).toEqual([
    false,
    true,
  ])
})

it('on ground without a method the hours of a sheet say their phase', async () => {
  const { keeper, base } = trial
  const garden = newId()
  const site = choicesIn((await keeper.get(`${base}/gardens`)).text)('siteId')['Quern Hill']
  await keeper.post(`${base}/gardens/gardens`, { id: garden, siteId: site, name: 'New Ground', grossAreaCm2: '20' })
  const sheet = { id: newId(), hours: { [garden]: { weeding: '1' } } }
  expect(plain((await keeper.post(typing, sheet)).text)).toContain('Say the phase')
  expect((await keeper.post(typing, { ...sheet, phase: 'establishing' })).status).toBe(303)
})
