import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const plan = () => `${trial.base}/seasons/${trial.season}/plan`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const page = async () => (await trial.keeper.get(plan())).text
/** Lines of the plan that name a cultivar. */
const linesOf = (html: string, cultivar: string) =>
  [...html.matchAll(/<li>(.*?)<\/li>/gs)].map((line) => plain(line[1] ?? '')).filter((line) => line.includes(cultivar))

async function sow(fields: Record<string, unknown>, client: Client = trial.keeper) {
  const choices = choicesIn(await page())
  const { lower = '', bank = '' } = trial.gardens
  const bed = (garden: string) => choices(`beds[${garden}]`)['Bed 2'] ?? ''
  const usual = {
    id: newId(),
    cropId: choices('cropId')['lettuce, cos'],
    cultivar: 'Dunlin',
    areaCm2: '2',
    how: 'direct',
    purpose: 'harvest',
  }
  const when = { firstOn: '2025-09-20', everyDays: '21', times: '3', spacing: '30 x 30 cm' }
  return client.post(`${plan()}/successions`, {
    ...{ ...usual, ...when, beds: { [lower]: bed(lower), [bank]: bed(bank) } },
    ...fields,
  })
}

it('plans every sowing in every garden, each as a matched set of its own', async () => {
  expect((await sow({})).status).toBe(303)
  const lines = linesOf(await page(), 'lettuce, cos, Dunlin, 2.0 m²')
  expect(lines).toHaveLength(6)
  expect(lines.map((line) => line.slice(5, 22)).sort()).toEqual(
    ['20 September 2025', '11 October 2025, ', '1 November 2025, '].flatMap((day) => [day, day]).sort(),
  )
  const season = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
  for (const sowing of [1, 2, 3]) expect(season.split(`<td>Dunlin, ${sowing} of 3</td>`)).toHaveLength(3)
})

it('sent twice it is planned once, and Undo takes all of it back', async () => {
  const form = { id: newId(), cultivar: 'Plover', areaCm2: '1' }
  expect([(await sow(form)).status, (await sow(form)).status]).toEqual([303, 303])
  expect(linesOf(await page(), 'Plover, 1.0')).toHaveLength(6)
  const other = await sow({ cultivar: 'Godwit', areaCm2: '0.2' })
  const after = (await trial.keeper.get(other.location)).text
  expect(linesOf(after, 'Godwit, 0.2')).toHaveLength(6)
  const undo = /<form method="post" action="([^"]*undo)">(.*?)<\/form>/s.exec(after)
  const fields = [...(undo?.[2] ?? '').matchAll(/name="([^"]+)" value="([^"]*)"/g)].map((one) => [one[1], one[2]])
  expect((await trial.keeper.post(undo?.[1] ?? '', Object.fromEntries(fields))).status).toBe(303)
  const undone = await page()
  expect(linesOf(undone, 'Godwit')).toHaveLength(0)
  expect(linesOf(undone, 'Plover, 1.0')).toHaveLength(6)
})

it('a planting in two beds that is not for harvest is stored once too, sent twice', async () => {
  const choices = choicesIn(await page())
  const { lower = '', bank = '' } = trial.gardens
  const beds = { [lower]: choices(`beds[${lower}]`)['Bed 2'], [bank]: choices(`beds[${bank}]`)['Bed 2'] }
  const rye = { cropId: choices('cropId')['lettuce, cos'], cultivar: 'Redstart', areaCm2: '0.3', how: 'direct' }
  const form = { ...rye, id: newId(), beds, sownOn: '2026-05-01', standsUntil: '2026-05-20', purpose: 'guard row' }
  const send = () => trial.keeper.post(`${trial.base}/seasons/${trial.season}/plantings`, form)
  expect([(await send()).status, (await send()).status]).toEqual([303, 303])
  expect(linesOf(await page(), 'Redstart')).toHaveLength(2)
})

it('is refused whole where one bed would be too full, with all that was typed', async () => {
  // 9 m2 stand in a bed of 10 m2 in Lower Terrace and of 15 m2 in Long Bank: the second sowing is one too many in the first alone.
  const refused = await sow({ cultivar: 'Whimbrel', areaCm2: '0,6', times: '2' })
  expect(refused.status).toBe(422)
  expect(plain(refused.text)).toContain('A bed would not hold all 2 of them')
  expect(refused.text).toContain('value="Whimbrel"')
  expect(linesOf(await page(), 'Whimbrel')).toEqual([])
  expect(linesOf(await page(), 'Dunlin, 2.0')).toHaveLength(6)
})

it('says what does not fit the season, and asks for a bed', async () => {
  const late = await sow({ everyDays: '90', times: '4' })
  expect([late.status, plain(late.text).includes('The last would be on 17 June 2026')]).toEqual([422, true])
  expect(plain((await sow({ firstOn: '2025-07-20' })).text)).toContain('This day is not in the season.')
  expect(plain((await sow({ beds: {} })).text)).toContain('Choose a bed in at least one garden.')
  expect((await sow({ times: '1' })).status).toBe(422)
  expect((await sow({ beds: { a: newId() } })).status).toBe(422)
  expect((await sow({ cropId: newId(), areaCm2: '0.1', cultivar: 'Avocet' })).status).toBe(422)
})

it('follows one another in a full bed where each is meant to go before the next comes', async () => {
  const { lower = '' } = trial.gardens
  const bed = choicesIn(await page())(`beds[${lower}]`)['Bed 1'] ?? ''
  // Bed 1 holds 8 of 10 m2 already from October on: 2 m2 at a time is all that is left.
  const form = { cultivar: 'Sanderling', areaCm2: '2', beds: { [lower]: bed }, firstOn: '2025-11-01', everyDays: '30' }
  expect((await sow({ ...form, standsDays: '31' })).status).toBe(422)
  expect((await sow({ ...form, standsDays: '30' })).status).toBe(303)
  const lines = linesOf(await page(), 'Sanderling, 2.0 m²')
  expect(lines).toHaveLength(3)
  expect(lines[0]).toContain('1 November 2025 to 1 December 2025 (planned): lettuce, cos, Sanderling')
})

it('carries its seed lot and what it is for', async () => {
  const { lower = '', bank = '' } = trial.gardens
  const choices = choicesIn(await page())
  const beds = Object.fromEntries([lower, bank].map((garden) => [garden, choices(`beds[${garden}]`)['Bed 2'] ?? '']))
  const rye = { cultivar: 'Curlew', areaCm2: '0.1', purpose: 'green manure', seedLot: 'Lot 31', times: '2', beds }
  expect((await sow({ ...rye, id: newId() })).status).toBe(303)
  const lines = linesOf(await page(), 'Curlew, 0.1 m²')
  expect(lines).toHaveLength(4)
  for (const line of lines) expect(line).toContain('green manure')
  const season = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
  const id = /correct\/plantings\/([0-9a-f-]+)">[^<]*<span class="unseen"> [^<]*Curlew/.exec(season)?.[1]
  const form = (await trial.keeper.get(`${trial.base}/correct/plantings/${id}`)).text
  expect([form.includes('value="Lot 31"'), choicesIn(form)('purpose')['green manure']]).toEqual([true, 'green manure'])
  // What is not for harvest is compared with nothing.
  expect(season).not.toContain('<td>Curlew, 1 of 2</td>')
  expect((await sow({ purpose: 'ornament' })).status).toBe(422)
})
