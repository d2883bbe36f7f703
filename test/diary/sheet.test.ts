import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const at = (more: string) => `${trial.base}/weeks/2026-W05${more}`
const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)
const week = async () => (await trial.keeper.get(at('/ledger'))).text
const rowHeads = (html: string) =>
  [...html.matchAll(/<th scope="row">([^<]*)<\/th>/g)].map((found) => plain(found[1] ?? ''))

it('the sheet to print has the rows, gardens and tasks of the screen in its order, and blank lines', async () => {
  const { text } = await trial.keeper.get(at('/sheet'))
  const [weights = '', hours = ''] = text.split('<h2>Hours</h2>')
  expect(rowOf(weights, 'Crop')).toEqual(['Crop', 'Lower Terrace', 'Long Bank'])
  expect(rowHeads(weights)).toEqual(['carrot, Kestrel', 'potato, Heron'])
  expect(rowOf(hours, 'Task')).toEqual(['Task', 'Lower Terrace', 'Long Bank', 'All, by area'])
  const screen = (await trial.keeper.get(at('?from=paper'))).text.split('id="all-in"')[0] ?? ''
  expect(rowHeads(screen)).toEqual([...rowHeads(weights), ...rowHeads(hours)])
  expect(rowHeads(hours)).toHaveLength(19)
  expect(await week()).toContain('/weeks/2026-W05/sheet"')
  const before = (await trial.keeper.get(`${trial.base}/weeks/2025-W35/sheet`)).text
  expect(rowHeads(before.split('<h2>Hours</h2>')[0] ?? '')).toEqual([])
})

it('a filled sheet is typed in one save, marked as read off paper: a weight without a day is of the Thursday', async () => {
  const typing = await trial.keeper.get(at('/sheet/typed'))
  expect([typing.status, typing.location]).toEqual([303, at('?from=paper')])
  const page = (await trial.keeper.get(typing.location)).text
  expect(page).toContain('<input type="hidden" name="source" value="paper">')
  expect(page.split('name="day"')[1]?.split('</select>')[0]).not.toContain('selected')
  const sheet = {
    ...{ id: newId(), who: 'Ada', source: 'paper' },
    w: {
      [carrot('Lower Terrace')]: { good: 'Tu 1,5 / 0.2 slugs', pieces: '30' },
      [carrot('Long Bank')]: { good: '850 g' },
    },
    h: { [trial.gardens.bank ?? '']: { weeding: { time: '2 x 1:30' } } },
  }
  for (let sent = 0; sent < 2; sent++) expect((await trial.keeper.post(at(''), sheet)).status).toBe(303)
  const ledger = await week()
  expect(rowOf(ledger, 'carrot, Kestrel · Lower Terrace, Bed 1').slice(1, 5)).toEqual([
    ...['1.5 kg', '0.2 kg', 'damaged by slugs', '27 January 2026'],
  ])
  expect(rowOf(ledger, 'carrot, Kestrel · Long Bank, Bed 1').slice(1, 5)).toEqual([
    ...['0.850 kg', '0.0 kg', '', '29 January 2026'],
  ])
  expect(rowOf(ledger, 'Long Bank').slice(1, 5)).toEqual(['weeding', '3.00 h', '2', ''])
  expect(ledger.split('<th scope="row">carrot, Kestrel').length).toBe(3)
  const own = ledger.match(/correct\/harvests\/[0-9a-f-]+/)?.[0] ?? ''
  const story = plain((await trial.keeper.get(`${trial.base}/history/${own.replace('correct/', '')}`)).text)
  expect(story).toContain('Written down nothing read off paper')
})

it('a sheet that comes back is still one that is read off paper', async () => {
  const wrong = { id: newId(), source: 'paper', w: { [carrot('Lower Terrace')]: { good: 'three crates' } } }
  const back = await trial.keeper.post(at(''), wrong)
  expect([back.status, back.text.includes('name="source" value="paper"')]).toEqual([422, true])
  const settled = (html: string) => rowHeads(html.split('id="all-in"')[0] ?? '')
  expect(settled(back.text)).toEqual(settled((await trial.keeper.get(at('?from=paper'))).text))
})

it('a reader prints but types nothing', async () => {
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(at('/sheet'))).text).not.toContain('Type a filled sheet')
  expect((await reader.get(at('/sheet/typed'))).status).toBe(403)
  const home = async (of: typeof reader) => plain((await of.get(trial.base)).text)
  expect([await home(reader), await home(trial.keeper)].map((text) => text.includes('Write down this week'))).toEqual([
    false,
    true,
  ])
})
