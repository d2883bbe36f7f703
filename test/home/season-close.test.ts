import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const close = () => `${trial.base}/seasons/${trial.season}/close`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''

it('what is still open is listed with its link, before the season is closed', async () => {
  const page = (await trial.keeper.get(close())).text
  // 1 August 2025 is a Friday: its week belongs to July, by the Thursday.
  const text = plain(page)
  expect(text).toContain('Lower Terrace Hours: 43 weeks are open, 2025-W32 to 2026-W22')
  // In the order of the walk and of the beds: all of one garden stands together.
  const named = (name: string) => text.indexOf(`Bed 1 ${name}`)
  expect(text.indexOf('Long Bank Hours: 43 weeks')).toBeGreaterThan(named('carrot, Kestrel'))
  expect(text.match(/Bed 1 carrot, Kestrel .{0,60}Bed 1 potato, Heron/g)).toHaveLength(2)
  expect(page).toContain(`${trial.base}/weeks/2025-W32`)
})

/** Corrects how many plants a planting has, leaving the rest of its form as it stands. */
async function counted(id: string, plants: string) {
  const address = `${trial.base}/correct/plantings/${id}`
  const { text } = await trial.keeper.get(address)
  const inputs = [...text.matchAll(/<input[^>]*name="(\w+)"[^>]*value="([^"]*)"/g)].map((one) => [one[1], one[2]])
  const hidden = { version: versionIn(text), how: 'direct', purpose: 'harvest', interplanted: 'no', matchedSetId: '' }
  const answer = await trial.keeper.post(address, {
    ...Object.fromEntries(inputs),
    ...hidden,

    plants,
  })
  expect(answer.status).toBe(303)
}

it('a planting cleared with nothing weighed is an unmarked loss, and a crate shared by plants nobody counted is unsplit', async () => {
  const week = `${trial.base}/weeks/2026-W05`
  const [potato, other] = [plantingOf(trial, 'potato', 'Lower'), plantingOf(trial, 'potato', 'Long')]
  await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, {
    plantingId: potato,
    clearedOn: '2026-02-01',
  })
  const named = async () => {
    const text = plain((await trial.keeper.get(close())).text)
    return [
      text.includes('no loss written down Bed 1, potato, Heron'),
      text.includes('a crate of 2026-W05, shared by plants'),
    ]
  }
  expect(await named()).toEqual([true, false])
  const crate = {
    id: newId(),
    shareRule: 'plants',
    plantingIds: [potato, other],
    harvestedOn: '2026-01-28',
    marketable: '3',
  }
  for (const id of [potato, other]) await counted(id, '20')
  expect((await trial.keeper.post(`${week}/shared-harvests`, crate)).status).toBe(303)
  expect(await named()).toEqual([false, false])
  await counted(other, '')
  expect(await named()).toEqual([false, true])
})

it('closing twice from one page is refused the second time, and counts what is changed afterwards', async () => {
  const version = versionIn((await trial.keeper.get(close())).text)
  expect((await trial.keeper.post(close(), { version })).status).toBe(303)
  expect((await trial.keeper.post(close(), { version })).status).toBe(409)
  expect(plain((await trial.keeper.get(close())).text)).toContain('Nothing has been changed since')
  const harvest = {
    id: newId(),
    plantingId: plantingOf(trial, 'carrot', 'Lower'),
    harvestedOn: '2026-01-28',
    marketable: '1',
  }
  await trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, harvest)
  expect(plain((await trial.keeper.get(close())).text)).toContain('1 entry was written or changed')
})

it('whether a loss lay outside the method cannot be said once the season is closed', async () => {
  const loss = { id: newId(), plantingId: plantingOf(trial, 'potato', 'Long'), lostOn: '2026-01-28', percent: '50' }
  const fields = { ...loss, cause: 'weather', alsoNextDoor: 'no' }
  const refused = await trial.keeper.post(`${trial.base}/weeks/2026-W05/losses`, { ...fields, outside: 'yes' })
  expect(plain(refused.text)).toContain('before its result is known')
  expect((await trial.keeper.post(`${trial.base}/weeks/2026-W05/losses`, { ...fields, outside: 'no' })).status).toBe(
    303,
  )
})

it('what is open is settled in one step each on the page itself, and undone in one', async () => {
  const other = await setUpTrial(place)
  const at = `${other.base}/seasons/${other.season}/close`
  const shown = async () => plain((await other.keeper.get(at)).text)
  const { lower = '', bank = '' } = other.gardens
  const closing = await other.keeper.post(`${at}/weeks`, { gardenId: lower, what: 'hours' })
  expect(closing.status).toBe(303)
  expect((await shown()).match(/Hours: 43 weeks are open/g)).toHaveLength(1)
  const again = await other.keeper.post(`${at}/weeks`, { gardenId: bank, what: 'hours' })
  const form = /<form method="post" action="([^"]*\/undo)">([\s\S]*?)<\/form>/.exec(
    (await other.keeper.get(again.location)).text,
  )
  const fields = [...(form?.[2] ?? '').matchAll(/name="(\w+)" value="([^"]*)"/g)].map((one) => [one[1], one[2]])
  expect((await other.keeper.post(form?.[1] ?? '', Object.fromEntries(fields))).status).toBe(303)
  expect((await shown()).match(/Hours: 43 weeks are open/g)).toHaveLength(1)
  expect((await other.keeper.post(`${at}/weeks`, { gardenId: bank, what: 'hours' })).status).toBe(303)

  const all = await other.keeper.post(`${at}/weeks`, { gardenId: 'all', what: 'all' })
  expect([all.status, (await shown()).includes('weeks are open')]).toEqual([303, false])
  const carrots = ['Lower', 'Long'].map((garden) => plantingOf(other, 'carrot', garden))
  const potatoes = ['Lower', 'Long'].map((garden) => plantingOf(other, 'potato', garden))
  const [here = '', there = ''] = carrots
  const weighed = { id: newId(), plantingId: here, harvestedOn: '2026-03-02', marketable: '2' }
  expect((await other.keeper.post(`${other.base}/weeks/2026-W10/harvests`, weighed)).status).toBe(422)
  const why = { gardenId: lower, what: 'weights', reason: 'one crate was forgotten' }
  expect((await other.keeper.post(`${other.base}/weeks/2026-W10/reopenings`, why)).status).toBe(303)
  expect((await other.keeper.post(`${other.base}/weeks/2026-W10/harvests`, weighed)).status).toBe(303)
  const early = await other.keeper.post(`${at}/clearings`, { days: { [there]: '2026-04-01', [here]: '2026-02-01' } })
  expect(early.status).toBe(422)
  expect(early.text).toContain('value="2026-04-01"')
  expect((await shown()).match(/carrot, Kestrel Cleared on/g)).toHaveLength(2)
  const days = Object.fromEntries([...carrots, ...potatoes].map((id) => [id, '2026-04-01']))
  expect((await other.keeper.post(`${at}/clearings`, { days })).status).toBe(303)
  const cleared = await shown()
  expect(cleared).not.toContain('Plantings that still stand')
  // Of one carrot something was weighed; three are cleared with nothing.
  expect(cleared.match(/, 1 April 2026 Nothing came off it/g)).toHaveLength(3)
  const [potato = '', next = ''] = potatoes
  expect((await other.keeper.post(`${at}/losses`, { causes: { [potato]: '', [next]: '' } })).status).toBe(422)
  const lost = { [potato]: 'pest', [next]: 'unknown', [there]: '' }
  expect((await other.keeper.post(`${at}/losses`, { causes: lost })).status).toBe(303)
  const after = await shown()
  expect(after.match(/Nothing came off it/g)).toHaveLength(1)
  expect(after).toContain('Bed 1, potato, Heron: the loss of 1 April 2026')
  const { methods } = JSON.parse(
    (await other.keeper.get(`${other.base}/compare.json?season=${other.season}`)).text,
  ) as {
    methods: { totals: { lostAreaPermille: number; hoursClosed: number } }[]
  }
  expect(methods.map(({ totals }) => [totals.lostAreaPermille, totals.hoursClosed])).toEqual([
    [40_000_000, 43],
    [40_000_000, 43],
  ])
  const reader = await place.joined(other.keeper, 'recorder')
  expect((await reader.post(`${at}/weeks`, { gardenId: lower, what: 'weights' })).status).toBe(403)
})
