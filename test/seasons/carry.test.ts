import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const next = newId()
const at = (more = '') => `${trial.base}/seasons/${next}/plan/carried${more}`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const year = { id: next, name: '2026/27', startsOn: '2026-08-03', endsOn: '2027-05-31' }
  expect((await trial.keeper.post(`${trial.base}/seasons`, year)).status).toBe(303)
})
afterAll(() => place.close())

const planted = async () => {
  const page = (await trial.keeper.get(`${trial.base}/seasons/${next}`)).text
  const table = page.split('aria-label="Plantings"')[1]?.split('</table>')[0] ?? ''
  const cells = (row: string) => [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/gs)].map((cell) => plain(cell[1] ?? ''))
  return table
    .split('<tr>')
    .slice(2)
    .map((row) => cells(row).slice(0, 6))
}
/** The form that confirms a preview. */
const confirmed = (html: string) => {
  const form = html.split('Not stored yet</h2>')[1]?.split('</form>')[0] ?? ''
  const value = (name: string) => new RegExp(`name="${name}" value="([^"]*)"`).exec(form)?.[1] ?? ''
  return { id: value('id'), lines: value('lines') }
}

it('offers every planting of the season before, moved by the days between the two, and stores nothing', async () => {
  const page = (await trial.keeper.get(at())).text
  // 1 August 2025 to 3 August 2026.
  expect(plain(page)).toContain('moved by the 367 days between')
  expect(page.match(/type="checkbox" name="t" value="\d+" checked/g)).toHaveLength(4)
  expect(plain(page)).toContain('3 October 2026: carrot, Kestrel, 4.0 m²; stood in Bed 1')
  expect(page).not.toContain('Not stored yet')
  expect(await planted()).toEqual([])
})

it('shows what it would lead to: the next bed in turn, and a family that comes back', async () => {
  const turned = (await trial.keeper.get(at('?t=0&t=1&t=2&t=3'))).text
  expect(rowOf(turned, 'carrot, Kestrel')).toEqual([
    'carrot, Kestrel',
    '3 October 2026',
    '4.0 m²',
    'Lower Terrace',
    'Bed 2',
  ])
  expect(plain(turned)).toContain('No family comes back to a bed sooner than 3 years')
  const same = plain((await trial.keeper.get(at('?t=0&t=1&b0=0&b1=1'))).text)
  expect(same).toContain('2 plantings would be added.')
  expect(same).toContain('Apiaceae again in this bed: carrot, Kestrel stood here in 2025/26, 1 year before.')
  expect(same).toContain('1 planting brings its family back')
  expect(same).not.toContain('Solanaceae again')
  const once = plain((await trial.keeper.get(at('?t=0&t=1&b0=0&b1=1&years=1'))).text)
  expect([once.includes('Apiaceae again'), once.includes('sooner than 1 year after')]).toEqual([false, true])
  const wrong = await trial.keeper.get(at('?t=0&years=some'))
  expect([wrong.status, plain(wrong.text).includes('Please write a number')]).toEqual([422, true])
  expect(plain((await trial.keeper.get(at('?b0=0'))).text)).toContain('Tick at least one planting.')
  expect(await planted()).toEqual([])
})

it('is refused whole where a bed would be too full, and shows the choice again', async () => {
  // Carrots and potatoes of last season have no day of clearing: they stand on in bed 1, 8 of 10 m2.
  const page = (await trial.keeper.get(at('?t=0&t=2&b0=0&b2=1'))).text
  expect(plain(page)).toContain('Lower Terrace, Bed 1: 12.0 m² would stand together, and it holds 10.0 m²')
  const refused = await trial.keeper.post(at(), confirmed(page))
  expect([refused.status, plain(refused.text).includes('One bed would be too full. Nothing is stored.')]).toEqual([
    422,
    true,
  ])
  expect(refused.text.match(/type="checkbox" name="t" value="\d+" checked/g)).toHaveLength(2)
  expect(plain(refused.text)).toContain('2 plantings would be added.')
  expect(await planted()).toEqual([])
})

it('stores what was looked at, once, with its matched sets', async () => {
  const form = confirmed((await trial.keeper.get(at('?t=0&t=1&t=2'))).text)
  const saved = await trial.keeper.post(at(), form)
  expect([saved.status, saved.location]).toEqual([303, `${trial.base}/seasons/${next}/plan`])
  expect((await trial.keeper.post(at(), form)).status).toBe(303)
  const stored = await planted()
  expect(stored).toHaveLength(3)
  expect(stored).toContainEqual(['carrot, Kestrel', 'Lower Terrace', 'Bed 2', '4.0 m²', '3 October 2026', 'Kestrel'])
  expect(stored).toContainEqual(['carrot, Kestrel', 'Long Bank', 'Bed 2', '4.0 m²', '3 October 2026', 'Kestrel'])
  // Potatoes went alone: no set of one.
  expect(stored).toContainEqual(['potato, Heron', 'Lower Terrace', 'Bed 2', '4.0 m²', '3 October 2026', ''])
})

it('takes no planting or bed that is not of this group and this season before, and nobody but a keeper', async () => {
  const { lines } = confirmed((await trial.keeper.get(at('?t=0'))).text)
  const [planting = '', bed = ''] = lines.split(':')
  const status = async (sent: string) => (await trial.keeper.post(at(), { id: newId(), lines: sent })).status
  expect(await status(`${newId()}:${bed}`)).toBe(422)
  expect(await status(`${planting}:${newId()}`)).toBe(422)
  expect(await status('Bed 2')).toBe(422)
  expect(await status('')).toBe(422)
  const first = `${trial.base}/seasons/${trial.season}/plan/carried`
  expect(plain((await trial.keeper.get(first)).text)).toContain('There is no season before this one.')
  expect((await trial.keeper.post(first, { id: newId(), lines })).status).toBe(422)
  const recorder = await place.joined(trial.keeper, 'recorder')
  expect((await recorder.get(at())).status).toBe(403)
  expect(await planted()).toHaveLength(3)
})

it('what was cleared last season is meant to go on the same day of this one, so that the next can follow it', async () => {
  const clearings = `${trial.base}/seasons/${trial.season}/clearings`
  const clear = { plantingId: plantingOf(trial, 'potato', 'Long Bank'), clearedOn: '2026-02-20' }
  expect((await trial.keeper.post(clearings, clear)).status).toBe(303)
  const page = (await trial.keeper.get(at('?t=3'))).text
  const saved = await trial.keeper.post(at(), confirmed(page))
  expect(saved.status).toBe(303)
  // 20 February 2026 and 367 days.
  expect(plain((await trial.keeper.get(saved.location)).text)).toContain(
    '3 October 2026 to 22 February 2027 (planned): potato, Heron, 4.0 m²',
  )
})

it('what was carried already is said beside its line and not ticked again', async () => {
  const page = (await trial.keeper.get(at())).text
  expect(page.match(/type="checkbox" name="t" value="\d+"/g)).toHaveLength(4)
  expect(page).not.toMatch(/name="t" value="\d+" checked/)
  expect(plain(page)).toContain(
    '3 October 2026: carrot, Kestrel, 4.0 m²; stood in Bed 1; stands in Bed 2 of this season already',
  )
  // It is known again where it went to another bed than the next, and where it is missing it is offered.
  const year = { id: newId(), name: '2027/28', startsOn: '2027-08-01', endsOn: '2028-05-31' }
  await trial.keeper.post(`${trial.base}/seasons`, year)
  const then = `${trial.base}/seasons/${year.id}/plan/carried`
  const kept = confirmed((await trial.keeper.get(`${then}?t=2&b2=1`)).text)
  expect((await trial.keeper.post(then, kept)).status).toBe(303)
  const again = (await trial.keeper.get(then)).text
  expect(again.match(/name="t" value="\d+" checked/g)).toHaveLength(3)
  expect(plain(again).match(/of this season already/g)).toHaveLength(1)
  expect(again).not.toContain('name="t" value="2" checked')
})
