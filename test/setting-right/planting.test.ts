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

const at = (crop: string, garden: string) => `${trial.base}/correct/plantings/${plantingOf(trial, crop, garden)}`
const versionIn = async (address: string) =>
  /name="version" value="(\d+)"/.exec((await trial.keeper.get(address)).text)?.[1] ?? ''
const stands = { areaCm2: '4', how: 'direct', sownOn: '2025-10-01', purpose: 'harvest' }
const correct = async (address: string, fields: Record<string, unknown>) =>
  trial.keeper.post(address, { ...stands, version: await versionIn(address), ...fields })
const weighed = (plantingId: string, marketable: string) =>
  trial.keeper.post(`${trial.base}/weeks/2026-W05/harvests`, {
    ...{ id: newId(), plantingId, harvestedOn: '2026-01-26', marketable },
  })
const ledger = async () => (await trial.keeper.get(`${trial.base}/weeks/2026-W05/ledger`)).text
/** Takes back what the page says was saved. */
const undo = (page: string) => {
  const form = page.split('class="notice"')[1]?.split('</form>')[0] ?? ''
  const fields = Object.fromEntries(
    [...form.matchAll(/name="([^"]+)" value="([^"]*)"/g)].map((one) => [one[1] ?? '', one[2] ?? '']),
  )
  return trial.keeper.post(`${trial.base}/undo`, fields)
}

it('a planting in the wrong bed is moved with its weights, hours, notes and counts, and back by one undo', async () => {
  const carrots = plantingOf(trial, 'carrot', 'Lower')
  expect((await weighed(carrots, '3')).status).toBe(303)
  const page = (await trial.keeper.get(at('carrot', 'Lower'))).text
  const bedId = choicesIn(page)('bedId')['Long Bank, Bed 2'] ?? ''
  const answer = await correct(at('carrot', 'Lower'), { bedId })
  expect(answer.status).toBe(303)
  const after = await trial.keeper.get(answer.location)
  expect(rowOf(await ledger(), 'carrot, Kestrel · Long Bank, Bed 2')[1]).toBe('3.0 kg')
  expect((await undo(after.text)).status).toBe(303)
  expect(rowOf(await ledger(), 'carrot, Kestrel · Lower Terrace, Bed 1')[1]).toBe('3.0 kg')
})

it('asks whether a wrong cultivar was wrong for the whole set, and renames all of it at once', async () => {
  const address = at('potato', 'Lower')
  const asked = await correct(address, { cultivar: 'Egret' })
  expect([asked.status, plain(asked.text).includes('Say whether that holds of them too.')]).toEqual([422, true])
  expect(asked.text).toContain('value="Egret"')
  expect((await correct(address, { cultivar: 'Egret', together: 'together' })).status).toBe(303)
  const season = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
  const table = plain(season.split('aria-label="Plantings"')[1]?.split('</table>')[0] ?? '')
  // Each of the two names itself once more beside its correction.
  expect([table.match(/potato, Egret/g)?.length, table.includes('Heron')]).toEqual([4, false])
})

it('of one alone the crop is put right, and it leaves its set', async () => {
  const address = at('potato', 'Lower')
  const leek = choicesIn((await trial.keeper.get(address)).text)('cropId').leek ?? ''
  expect((await correct(address, { cropId: leek, cultivar: 'Moor', together: 'alone' })).status).toBe(303)
  const season = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text
  expect(rowOf(season.split('aria-label="Plantings"')[1] ?? '', 'leek, Moor')[5]).toBe('')
  expect(rowOf(season.split('aria-label="Plantings"')[1] ?? '', 'potato, Egret')[1]).toBe('Long Bank')
})

it('a move out of a closed week wants a reason, which the history keeps', async () => {
  const week = { gardenId: trial.gardens.lower, what: 'weights' }
  expect((await trial.keeper.post(`${trial.base}/weeks/2026-W05/closings`, week)).status).toBe(303)
  const address = at('carrot', 'Lower')
  const bedId = choicesIn((await trial.keeper.get(address)).text)('bedId')['Long Bank, Bed 2'] ?? ''
  const asked = await correct(address, { bedId })
  expect([asked.status, plain(asked.text).includes('Say why it is corrected')]).toEqual([422, true])
  expect((await correct(address, { bedId, closedReason: 'The sheet named the wrong bed' })).status).toBe(303)
  const history = await trial.keeper.get(`${trial.base}/history/plantings/${plantingOf(trial, 'carrot', 'Lower')}`)
  expect(plain(history.text)).toContain('The sheet named the wrong bed')
})

it('of a closed season nothing is corrected without a reason: planting, weight and the season itself', async () => {
  const closed = await trial.keeper.post(`${trial.base}/seasons/${trial.season}/close`, { version: '1' })
  expect(closed.status).toBe(303)
  const address = at('carrot', 'Long')
  expect(plain((await trial.keeper.get(address)).text)).toContain('Why it is corrected')
  expect((await correct(address, { areaCm2: '5' })).status).toBe(422)
  expect((await correct(address, { areaCm2: '5', closedReason: 'Measured again' })).status).toBe(303)
  const season = `${trial.base}/correct/seasons/${trial.season}`
  const named = { name: '2025-26', startsOn: '2025-08-01', endsOn: '2026-05-31', isUniformYear: 'no' }
  const version = await versionIn(season)
  expect((await trial.keeper.post(season, { ...named, version })).status).toBe(422)
  expect((await trial.keeper.post(season, { ...named, version, closedReason: 'As all others' })).status).toBe(303)
})
