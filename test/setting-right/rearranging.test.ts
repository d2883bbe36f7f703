import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const at = (planting: string, door = '') => `${trial.base}/plantings/${planting}/rearranging${door}`
const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''
const ledger = async () => (await trial.keeper.get(`${trial.base}/weeks/2026-W05/ledger`)).text
const measures = async () => {
  const json = await trial.keeper.get(`${trial.base}/compare.json?season=${trial.season}`)
  return [...json.text.matchAll(/"(?:marketableG|personMinutes|plantedAreaCm2)":(\d+)/g)].map((one) => one[0])
}
const undo = (page: string) => {
  const form = page.split('class="notice"')[1]?.split('</form>')[0] ?? ''
  const fields = [...form.matchAll(/name="([^"]+)" value="([^"]*)"/g)].map((one) => [one[1] ?? '', one[2] ?? ''])
  return trial.keeper.post(`${trial.base}/undo`, Object.fromEntries(fields))
}

it('one planting becomes two with what was written divided by area or gone along, and one again by one undo', async () => {
  const carrots = plantingOf(trial, 'carrot', 'Lower')
  const weigh = (marketable: string, day: string) =>
    trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, {
      ...{ id: newId(), plantingId: carrots, harvestedOn: day, marketable },
    })
  await weigh('3', '2026-01-26')
  await weigh('1', '2026-01-27')
  const worked = { id: newId(), place: `planting:${carrots}`, task: 'weeding', time: '2', workedOn: '' }
  expect((await trial.keeper.post(`${trial.base}/weeks/2026-W05/hours`, worked)).status).toBe(303)
  const before = await measures()
  expect(before.length).toBeGreaterThan(0)
  const page = (await trial.keeper.get(at(carrots))).text
  const line = (said: string) =>
    [...page.matchAll(/<label for="f-(line-[^"]+)">([^<]*)</g)].find((one) => one[2]?.includes(said))?.[1] ?? ''
  const bedId = choicesIn(page)('bedId')['Lower Terrace, Bed 2'] ?? ''
  const given = { id: newId(), version: versionIn(page), bedId, areaCm2: '1' }
  const asked = await trial.keeper.post(at(carrots, '/parted'), given)
  expect([asked.status, plain(asked.text).includes('Say where what is written of it goes')]).toEqual([422, true])
  const whole = { ...given, entries: 'divided', [line('1.0 kg weighed')]: 'goes' }
  const saved = await trial.keeper.post(at(carrots, '/parted'), whole)
  expect(saved.status).toBe(303)
  const after = await trial.keeper.get(saved.location)
  expect((await trial.keeper.post(at(carrots, '/parted'), whole)).status).toBe(303)
  const week = await ledger()
  expect(rowOf(week, 'carrot, Kestrel · Lower Terrace, Bed 2')[1]).toBe('1.0 kg')
  expect(rowOf(week, 'shared')[1]).toBe('3.0 kg')
  // 3 m2 and 1 m2 of two hours.
  expect(rowOf(week.split('id="hours"')[1] ?? week, 'carrot, Kestrel · Lower Terrace, Bed 1')).toContain('1.50 h')
  expect(week).toContain('0.50 h')
  // The garden has what it had.
  expect(await measures()).toEqual(before)
  expect((await undo(after.text)).status).toBe(303)
  expect(rowOf(await ledger(), 'carrot, Kestrel · Lower Terrace, Bed 1')[1]).toBe('3.0 kg')
  expect(await measures()).toEqual(before)
})

it('two plantings side by side become one with the weights of both', async () => {
  const season = `${trial.base}/seasons/${trial.season}`
  const page = (await trial.keeper.get(season)).text
  const [crop, beds] = [choicesIn(page)('cropId').leek ?? '', choicesIn(page)(`beds[${trial.gardens.bank}]`)]
  const ids = [newId(), newId()]
  for (const [i, id] of ids.entries()) {
    await trial.keeper.post(`${season}/plantings`, {
      ...{ id, cropId: crop, cultivar: 'Moor', areaCm2: String(2 + i), how: 'direct', purpose: 'harvest' },
      ...{ sownOn: '2025-10-03', beds: { [trial.gardens.bank ?? '']: beds['Bed 2'] ?? '' } },
    })
    await trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, {
      ...{ id: newId(), plantingId: id, harvestedOn: '2026-01-28', marketable: String(4 + i) },
    })
  }
  const [kept = '', other = ''] = ids
  const form = (await trial.keeper.get(at(kept))).text
  const given = { version: versionIn(form), otherId: other }
  expect((await trial.keeper.post(at(kept, '/joined'), given)).status).toBe(422)
  const saved = await trial.keeper.post(at(kept, '/joined'), { ...given, ground: 'each' })
  expect(saved.status).toBe(303)
  const after = (await trial.keeper.get(saved.location)).text
  const leeks = rowOf(after.split('aria-label="Plantings"')[1] ?? '', 'leek, Moor')
  expect([leeks[1], leeks[3]]).toEqual(['Long Bank', '5.0 m²'])
  const week = plain(await ledger())
  expect([week.includes('4.0 kg'), week.includes('5.0 kg'), week.includes('2 of 2')]).toEqual([true, true, false])
  expect((await undo(after)).status).toBe(303)
  const again = plain((await trial.keeper.get(season)).text)
  expect([again.includes('2.0 m²'), again.includes('3.0 m²')]).toEqual([true, true])
})

it('of a closed season neither is done without a reason, and by keepers alone', async () => {
  const carrots = plantingOf(trial, 'carrot', 'Long')
  const recorder = await place.joined(trial.keeper, 'recorder')
  expect((await recorder.get(at(carrots))).status).toBe(403)
  expect((await trial.keeper.get(at(newId()))).status).toBe(404)
  await trial.keeper.post(`${trial.base}/seasons/${trial.season}/close`, { version: '1' })
  const page = (await trial.keeper.get(at(carrots))).text
  const bedId = choicesIn(page)('bedId')['Long Bank, Bed 2'] ?? ''
  const given = { id: newId(), version: versionIn(page), bedId, areaCm2: '1', entries: 'stays' }
  const asked = await trial.keeper.post(at(carrots, '/parted'), given)
  expect([asked.status, plain(asked.text).includes('Say why it is corrected')]).toEqual([422, true])
  const saved = await trial.keeper.post(at(carrots, '/parted'), { ...given, closedReason: 'Two rows were one' })
  expect(saved.status).toBe(303)
})
