import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { harvests } from '../../src/diary/diary.table.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { groupNamed } from '../support/group.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const week = () => `${trial.base}/weeks/2026-W05`
const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

it('the ledger of gardens adds the beds up', async () => {
  const page = await trial.keeper.get(`${trial.base}/gardens`)
  expect(rowOf(page.text, 'Lower Terrace').slice(0, 5)).toEqual([
    'Lower Terrace',
    'Quern Hill',
    '30.0 m²',
    '2',
    '20.0 m²',
  ])
})

it('beds larger than their garden are refused, and what was typed is still there', async () => {
  const fields = { id: newId(), gardenId: trial.gardens.lower, count: '2', areaCm2: '12', name: 'Row' }
  const answer = await trial.keeper.post(`${trial.base}/gardens/beds`, fields)
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain('the beds are larger than their garden')
  expect(answer.text).toContain('value="Row"')
})

it('a season over another one is refused with the reason', async () => {
  const fields = { id: newId(), name: 'Winter', startsOn: '2026-05-31', endsOn: '2026-07-31' }
  const answer = await trial.keeper.post(`${trial.base}/seasons`, fields)
  expect(answer.status).toBe(422)
  expect(plain(answer.text)).toContain('This season lies over another one')
})

it('a weight and two people at once are entered as they happened', async () => {
  const harvest = {
    id: newId(),
    plantingId: carrot('Lower'),
    harvestedOn: '2026-01-28',
    marketable: '1,5',
    unmarketable: '850 g',
    why: 'forked',
  }
  expect((await trial.keeper.post(`${week()}/harvests`, harvest)).status).toBe(303)
  const hours = {
    id: newId(),
    place: `garden:${trial.gardens.lower}`,
    task: 'weeding',
    time: '2 x 1:30',
    phase: 'established',
    workedOn: '',
  }
  expect((await trial.keeper.post(`${week()}/hours`, hours)).status).toBe(303)
  const page = (await trial.keeper.get(`${week()}/ledger`)).text
  expect(rowOf(page, 'carrot, Kestrel · Lower Terrace, Bed 1').slice(1, 4)).toEqual(['1.5 kg', '0.850 kg', 'forked'])
  const labour = page.slice(page.lastIndexOf('Person-hours'))
  expect(rowOf(labour, 'Lower Terrace').slice(1, 4)).toEqual(['weeding', '3.00 h', '2'])
})

it('a wrong unit names the field and keeps what was typed', async () => {
  const harvest = { id: newId(), plantingId: carrot('Lower'), harvestedOn: '2026-01-28', marketable: '2 stone' }
  const answer = await trial.keeper.post(`${week()}/harvests`, harvest)
  expect(answer.status).toBe(422)
  expect(answer.text).toContain('value="2 stone"')
  expect(plain(answer.text)).toContain('This is no weight')
})

it('a great deal from a small bed is asked about once', async () => {
  const harvest = { id: newId(), plantingId: carrot('Long'), harvestedOn: '2026-01-28', marketable: '90' }
  const asked = await trial.keeper.post(`${week()}/harvests`, harvest)
  expect(plain(asked.text)).toContain('90.0 kg from 4.0 m² of carrot in one day is a great deal')
  expect((await trial.keeper.post(`${week()}/harvests`, { ...harvest, surely: 'yes' })).status).toBe(303)
})

it('the container comes off, and less than it weighs is refused', async () => {
  const crate = newId()
  await trial.keeper.post(`${week()}/containers`, { id: crate, name: 'Blue crate', tareG: '1,2 kg' })
  const harvest = { plantingId: plantingOf(trial, 'potato', 'Long'), harvestedOn: '2026-01-29', containerId: crate }
  expect((await trial.keeper.post(`${week()}/harvests`, { ...harvest, id: newId(), marketable: '1' })).status).toBe(422)
  expect((await trial.keeper.post(`${week()}/harvests`, { ...harvest, id: newId(), marketable: '5' })).status).toBe(303)
  expect(rowOf((await trial.keeper.get(`${week()}/ledger`)).text, 'potato, Heron · Long Bank, Bed 1')[1]).toBe('3.8 kg')
})

it('days that cannot be are refused, and a week that does not exist is not there', async () => {
  const day = async (harvestedOn: IsoDate) =>
    (
      await trial.keeper.post(`${week()}/harvests`, {
        id: newId(),
        plantingId: carrot('Lower'),
        harvestedOn,
        marketable: '1',
      })
    ).text
  expect(plain(await day('2026-02-02'))).toContain('This day is not in the week')
  expect((await trial.keeper.get(`${trial.base}/weeks/2025-W53`)).status).toBe(404)
})

it('a closed week refuses, says why, and opens again with a reason', async () => {
  const closing = { gardenId: trial.gardens.bank, what: 'hours' }
  const hours = {
    place: `garden:${trial.gardens.bank}`,
    task: 'watering',
    time: '90 min',
    phase: 'established',
    workedOn: '',
  }
  await trial.keeper.post(`${week()}/closings`, closing)
  const refused = await trial.keeper.post(`${week()}/hours`, { ...hours, id: newId() })
  expect(plain(refused.text)).toContain('This week is closed for that garden')
  expect((await trial.keeper.post(`${week()}/reopenings`, { ...closing, reason: '' })).status).toBe(422)
  await trial.keeper.post(`${week()}/reopenings`, { ...closing, reason: 'Found a slip of paper' })
  expect((await trial.keeper.post(`${week()}/hours`, { ...hours, id: newId() })).status).toBe(303)
})

it('a form sent twenty times at once is stored once', async () => {
  const id = newId()
  const harvest = { id, plantingId: plantingOf(trial, 'potato', 'Lower'), harvestedOn: '2026-01-30', marketable: '2' }
  const answers = await Promise.all(Array.from({ length: 20 }, () => trial.keeper.post(`${week()}/harvests`, harvest)))
  expect(new Set(answers.map((answer) => answer.status))).toEqual(new Set([303]))
  const stored = await rowsOf(trial)
  expect(stored.filter((row) => row.id === id)).toHaveLength(1)
})

it('the wall holds where a query forgets its own condition', async () => {
  const other = await setUpTrial(place)
  expect((await rowsOf(trial)).length).toBeGreaterThan(0)
  expect(await rowsOf(other)).toEqual([])
})

/** All harvests that a member of the group can see, asked for without any condition. */
async function rowsOf({ keeper }: Trial) {
  const groupId = await groupNamed(place.database, keeper.slug)
  return asMember(place.database, { personId: null, groupId }, (tx) => tx.select().from(harvests))
}

const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''
const firstCorrection = (html: string, kind: string) => new RegExp(`/correct/${kind}/([0-9a-f-]{36})`).exec(html)?.[1]

it('hours go to a bed or a planting too, and the phase is that of the method there', async () => {
  const hours = { task: 'watering', time: '45 min', phase: '', workedOn: '2026-01-28', who: 'R.', effort: '2' }
  const at = plantingOf(trial, 'carrot', 'Lower')
  const answer = await trial.keeper.post(`${week()}/hours`, { ...hours, id: newId(), place: `planting:${at}` })
  expect(answer.status).toBe(303)
  const page = (await trial.keeper.get(`${week()}/ledger`)).text
  const labour = page.slice(page.lastIndexOf('Person-hours'))
  expect(rowOf(labour, 'carrot, Kestrel · Lower Terrace, Bed 1').slice(1, 3)).toEqual(['watering', '0.75 h'])
  const strange = await trial.keeper.post(`${week()}/hours`, { ...hours, id: newId(), place: `bed:${newId()}` })
  expect(strange.status).toBe(422)
})

it('an entry far beyond a working day is asked about once', async () => {
  const hours = {
    task: 'weeding',
    time: '17',
    phase: '',
    workedOn: '2026-01-28',
    place: `garden:${trial.gardens.lower}`,
  }
  const asked = await trial.keeper.post(`${week()}/hours`, { ...hours, id: newId() })
  expect(plain(asked.text)).toContain('more than one person works in that time')
  expect((await trial.keeper.post(`${week()}/hours`, { ...hours, id: newId(), surely: 'yes' })).status).toBe(303)
})

it('a crate is divided by plants only where they were counted, and by shares only where one is given', async () => {
  const plantingIds = [carrot('Lower'), carrot('Long')]
  const crate = { plantingIds, harvestedOn: '2026-01-30', marketable: '3', unmarketable: '' }
  const send = (more: object) => trial.keeper.post(`${week()}/shared-harvests`, { ...crate, id: newId(), ...more })
  expect(plain((await send({ shareRule: 'plants' })).text)).toContain(
    'number of plants of the carrot is not written down',
  )
  expect((await send({ shareRule: 'given', shares: { [plantingIds[0] ?? '']: '' } })).status).toBe(422)
  expect(
    (await send({ shareRule: 'given', shares: { [plantingIds[0] ?? '']: '2', [plantingIds[1] ?? '']: '1' } })).status,
  ).toBe(303)
})

it('what was saved is undone by one button, and the history keeps it', async () => {
  const harvest = { id: newId(), plantingId: carrot('Lower'), harvestedOn: '2026-01-31', marketable: '0,777' }
  const saved = await trial.keeper.post(`${week()}/harvests`, harvest)
  expect(saved.location).toBe(`${week()}/ledger?left=harvests&harvestedOn=2026-01-31#weights`)
  const page = (await trial.keeper.get(`${week()}/ledger`)).text
  expect(page).toContain('0.777 kg')
  const undo =
    /<form method="post" action="([^"]+\/removals)">[\s\S]*?name="entry" value="([^"]+)"[\s\S]*?name="reason" value="([^"]+)"/.exec(
      page,
    )
  expect(undo?.[2]).toBe(`harvests:${harvest.id}`)
  await trial.keeper.post(undo?.[1] ?? '', { entry: undo?.[2], reason: undo?.[3] })
  expect((await trial.keeper.get(`${week()}/ledger`)).text).not.toContain('0.777 kg')
})

it('a closed week is not changed by a removal or a correction either', async () => {
  const harvest = { id: newId(), plantingId: carrot('Long'), harvestedOn: '2026-01-31', marketable: '0,333' }
  await trial.keeper.post(`${week()}/harvests`, harvest)
  const closing = { gardenId: trial.gardens.bank, what: 'weights' }
  await trial.keeper.post(`${week()}/closings`, closing)
  const removal = { entry: `harvests:${harvest.id}`, reason: 'A slip' }
  expect((await trial.keeper.post(`${week()}/removals`, removal)).status).toBe(422)
  const address = `${trial.base}/correct/harvests/${harvest.id}`
  const fields = { marketable: '0,444', unmarketable: '0', why: '', version: '1' }
  expect(plain((await trial.keeper.post(address, fields)).text)).toContain('Its week is closed for that garden')
  await trial.keeper.post(`${week()}/reopenings`, { ...closing, reason: 'Read the scale wrong' })
  expect((await trial.keeper.post(address, fields)).status).toBe(303)
  expect((await trial.keeper.get(`${week()}/ledger`)).text).toContain('0.444 kg')
})

it('hours are corrected on a page of their own', async () => {
  const id = firstCorrection((await trial.keeper.get(`${week()}/ledger`)).text, 'labour') ?? ''
  const address = `${trial.base}/correct/labour/${id}`
  const version = versionIn((await trial.keeper.get(address)).text)
  const fields = { task: 'paths and edges', time: '2 x 40 min', phase: 'established', version }
  expect((await trial.keeper.post(address, fields)).status).toBe(303)
  expect(plain((await trial.keeper.get(`${week()}/ledger`)).text)).toContain('paths and edges 1.33 h 2')
})

it('a day in no season asks which season it counts toward', async () => {
  const winter = `${trial.base}/weeks/2026-W27`
  const hours = { task: 'spreading mulch or compost', time: '2', phase: 'established', workedOn: '2026-07-01' }
  const place = `garden:${trial.gardens.bank}`
  const asked = await trial.keeper.post(`${winter}/hours`, { ...hours, id: newId(), place })
  expect(asked.status).toBe(422)
  expect(plain(asked.text)).toContain('Say which season it counts toward')
  const named = { ...hours, id: newId(), place, seasonId: trial.season }
  expect((await trial.keeper.post(`${winter}/hours`, named)).status).toBe(303)
})

it('what was picked lately comes first, with the week before beside it, and a twin not weighed is named', async () => {
  const next = `${trial.base}/weeks/2026-W06`
  const page = (await trial.keeper.get(`${next}/ledger`)).text
  const select = page.split('name="plantingId"')[1]?.split('</select>')[0] ?? ''
  const options = [...select.matchAll(/<option[^>]*>([^<]*)/g)].map((option) => plain(option[1] ?? ''))
  expect([options[0], options[1]?.startsWith('carrot')]).toEqual(['', true])
  expect(options.some((option) => /the week before [\d.]+ kg/.test(option))).toBe(true)
  const harvest = { id: newId(), plantingId: carrot('Lower'), harvestedOn: '2026-02-03', marketable: '1' }
  await trial.keeper.post(`${next}/harvests`, harvest)
  const after = plain((await trial.keeper.get(`${next}/ledger`)).text)
  expect(after).toContain('not yet weighed in another: carrot, Kestrel · Long Bank, Bed 1')
  const found = (await trial.keeper.get(`${next}/ledger?find=potato`)).text
    .split('name="plantingId"')[1]
    ?.split('</select>')[0]
  expect(found).not.toContain('carrot')
})
