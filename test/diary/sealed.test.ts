import { eq } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { groups } from '../../src/accounts/accounts.table.ts'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { secondWeeksOf } from '../../src/diary/second-weeks.ts'
import { daysOf } from '../../src/quantities/iso-week.ts'
import { tablesBehind } from '../../src/reports/rows.queries.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
const week = '2026-W05'
const day = '2026-01-28'
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
})
afterAll(() => place.close())

const at = (form: string, of = week) => `${trial.base}/weeks/${of}${form && `/${form}`}`
const carrots = () => ['Lower', 'Long'].map((garden) => plantingOf(trial, 'carrot', garden))
const labelOf = async (garden: string, of = week) =>
  rowOf((await trial.keeper.get(at('labels', of))).text, `${garden}, Bed 1: carrot, Kestrel`)[1] ?? ''

interface Told {
  methods: { totals: { marketableG: number; entries: number } }[]
}
const compared = async () =>
  (await trial.keeper.json<Told>(`${trial.base}/compare.json`)).methods.map(({ totals }) => [
    totals.marketableG,
    totals.entries,
  ])

const season = async (form: 'close' | 'reopen') => {
  const address = `${trial.base}/seasons/${trial.season}`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(`${address}/close`)).text)?.[1]
  return trial.keeper.post(`${address}/${form}`, { version })
}

const rowsOfHarvests = async () => {
  const [group] = await place.database.drizzle.select().from(groups).where(eq(groups.slug, trial.keeper.slug))
  const who = { personId: null, groupId: group?.id ?? '', readOnly: true }
  const tables = await asMember(place.database, who, (tx) => tablesBehind(tx, who.groupId, [trial.season]))
  return tables.harvests?.slice(1).length
}

const picked = async (garden: string) => {
  const { events } = await trial.keeper.json<{ events: { what: string }[] }>(
    `${trial.base}/gardens/${trial.gardens[garden]}.json`,
  )
  return events.filter((one) => one.what === 'picked').length
}

/** How many weighings the page of rows of a garden says to wait under labels, and how many it lists. */
const behind = async (garden: string) => {
  const { text } = await trial.keeper.get(`${trial.base}/compare/rows?garden=${trial.gardens[garden]}`)
  const waiting = /under labels that are not opened yet: (\d+)\./.exec(plain(text))?.[1] ?? null
  return { waiting, weighings: new Set(text.match(/correct\/harvests\/[0-9a-f-]+/g)).size }
}

describe('what lies under a sealed label', () => {
  it('is in no figure, no list and no file of rows before its week is closed, and in all of them after', async () => {
    expect((await trial.keeper.post(at('labels'), { id: newId(), plantingIds: carrots() })).status).toBe(303)
    const [lower, bank] = [await labelOf('Lower Terrace'), await labelOf('Long Bank')]
    for (const [label, marketable] of [
      [lower, '2'],
      [bank, '5'],
    ] as const) {
      const weighed = { id: newId(), label, harvestedOn: day, marketable, unmarketable: '', why: '', containerId: '' }
      expect((await recorder.post(at('labelled'), weighed)).status).toBe(303)
    }
    const page = plain((await wholeCompare(trial.keeper, `${trial.base}/compare`)).text)
    expect(page).toContain('Weighings under labels that are not opened yet: 2. They are left out here')
    expect(await compared()).toEqual([
      [0, 0],
      [0, 0],
    ])
    expect([await rowsOfHarvests(), await picked('lower'), await picked('bank')]).toEqual([0, 0, 0])
    expect(await behind('lower')).toEqual({ waiting: '2', weighings: 0 })

    await trial.keeper.post(at('closings'), { gardenId: trial.gardens.bank, what: 'weights' })
    expect(await compared()).toEqual([
      [0, 0],
      [5000, 1],
    ])
    expect([await rowsOfHarvests(), await picked('lower'), await picked('bank')]).toEqual([1, 0, 1])

    await trial.keeper.post(at('closings'), { gardenId: trial.gardens.lower, what: 'weights' })
    expect(await compared()).toEqual([
      [2000, 1],
      [5000, 1],
    ])
    expect(plain((await wholeCompare(trial.keeper, `${trial.base}/compare`)).text)).not.toContain('under labels')
    expect([await rowsOfHarvests(), await picked('lower')]).toEqual([2, 1])
    expect(await behind('lower')).toEqual({ waiting: null, weighings: 1 })
  })

  it('is corrected by its label, and its page tells no planting', async () => {
    const reason = 'A crate came late'
    await trial.keeper.post(at('reopenings'), { gardenId: trial.gardens.lower, what: 'weights', reason })
    const label = await labelOf('Lower Terrace')
    const page = await recorder.get(at('ledger'))
    const row = page.text.split(`<th scope="row">label ${label}</th>`)[1]?.split('</tr>')[0] ?? ''
    const address = /\/g\/[^"]+\/correct\/harvests\/[0-9a-f-]+/.exec(row)?.[0] ?? ''
    const correction = await recorder.get(address)
    expect(plain(correction.text)).toContain(`label ${label}, ${day}`)
    for (const told of ['carrot', 'Lower Terrace', ...carrots()]) expect(correction.text).not.toContain(told)
    const typed = { version: '1', harvestedOn: day, marketable: '2.2', unmarketable: '0', why: '', pieces: '' }
    const moved = await recorder.post(address, { ...typed, harvestedOn: '2026-01-14' })
    expect([moved.status, plain(moved.text).includes('stays in its week')]).toEqual([422, true])
    // A planting sent by hand is not looked at: the label says which it is.
    const [, other = ''] = carrots()
    expect((await recorder.post(address, { ...typed, plantingId: other })).status).toBe(303)
    expect(rowOf((await recorder.get(at('ledger'))).text, `label ${label}`)[1]).toBe('2.2 kg')
    await trial.keeper.post(at('closings'), { gardenId: trial.gardens.lower, what: 'weights' })
    expect(await compared()).toEqual([
      [2200, 1],
      [5000, 1],
    ])
  })

  it('is opened where its season is closed, though its week never was', async () => {
    const later = '2026-W07'
    await trial.keeper.post(at('labels', later), { id: newId(), plantingIds: carrots() })
    const weighed = {
      id: newId(),
      label: await labelOf('Long Bank', later),
      harvestedOn: '2026-02-11',
      marketable: '1',
    }
    expect((await recorder.post(at('labelled', later), weighed)).status).toBe(303)
    expect((await compared())[1]).toEqual([5000, 1])
    expect((await season('close')).status).toBe(303)
    expect((await compared())[1]).toEqual([6000, 2])
    expect((await season('reopen')).status).toBe(303)
    expect((await compared())[1]).toEqual([5000, 1])
  })
})

it('a line of a file for a planting under a sealed label is refused with the reason', async () => {
  const text = 'day,garden,crop,weight\n2026-02-11,Long Bank,carrot,2\n2026-02-11,Long Bank,potato,2\n'
  const file = { name: 'rows.csv', bytes: Buffer.from(text) }
  const sent = await recorder.upload(`${trial.base}/exchange/rows`, { kind: 'harvests' }, file)
  let page = await recorder.get(sent.location)
  while (page.text.includes('http-equiv="refresh"')) page = await recorder.get(sent.location)
  expect(plain(page.text)).toContain('This planting has a label this week: write its weight down under the label.')
  expect(plain(page.text)).toContain('1 row to be stored')
})

it('a second reading is chosen by its label, and the page holds no id of what it hides', async () => {
  // The later of the two: the first may be a week in which the recorder of this file has weighed the same crop already.
  const [, drawn = ''] = secondWeeksOf({ id: trial.season, startsOn: '2025-08-01', endsOn: '2026-05-31' })
  await trial.keeper.post(at('labels', drawn), { id: newId(), plantingIds: carrots() })
  const label = await labelOf('Long Bank', drawn)
  const page = (await recorder.get(at('ledger', drawn))).text
  const weights = page.split('<h2 id="weights">')[1]?.split('<h2')[0] ?? ''
  for (const id of carrots()) expect(weights).not.toContain(id)
  expect(choicesIn(page)('read')[`label ${label}`]).toBe(`label:${label}`)
  const weighed = { id: newId(), label, harvestedOn: daysOf(drawn as Parameters<typeof daysOf>[0])[2], marketable: '4' }
  expect((await trial.keeper.post(at('labelled', drawn), weighed)).status).toBe(303)
  const reading = { id: newId(), read: `label:${label}`, weighed: '4.1' }
  expect((await recorder.post(at('second-readings', drawn), { ...reading, read: 'label:QQ1' })).status).toBe(422)
  expect((await recorder.post(at('second-readings', drawn), { ...reading, read: newId() })).status).toBe(422)
  expect((await recorder.post(at('second-readings', drawn), reading)).status).toBe(303)
  expect(plain((await recorder.get(at('ledger', drawn))).text)).toContain(`Read by a second person: label ${label}`)
})
