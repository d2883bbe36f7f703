import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

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

it('offers every planting of the season before on the same day of the year and the week, and stores nothing', async () => {
  const page = (await trial.keeper.get(at())).text
  expect(plain(page)).toContain('on the same day of the year and of the week')
  expect(page.match(/type="checkbox" name="t" value="\d+" checked/g)).toHaveLength(4)
  expect(plain(page)).toContain('carrot, Kestrel 4.0 m²; stood in Bed 1 from 1 October 2025')
  // 1 October 2025 is a Wednesday, and so is 30 September 2026.
  expect(page.match(/type="date" name="d\d+" value="2026-09-30"/g)).toHaveLength(4)
  expect(page).not.toContain('Not stored yet')
  expect(await planted()).toEqual([])
})

it('shows what it would lead to: the next bed in turn, and a family that comes back', async () => {
  const turned = (await trial.keeper.get(at('?t=0&t=1&t=2&t=3'))).text
  expect(rowOf(turned, 'carrot, Kestrel')).toEqual([
    'carrot, Kestrel',
    '30 September 2026',
    '4.0 m²',
    'Lower Terrace',
    'Bed 2',
  ])
  expect(plain(turned)).toContain('No family comes back to a bed sooner than 3 years')
  const same = plain((await trial.keeper.get(at('?t=2&t=3&b2=0&b3=1'))).text)
  expect(same).toContain('2 plantings would be added.')
  expect(same).toContain('Apiaceae again in this bed: carrot, Kestrel stood here in 2025/26, 1 year before.')
  expect(same).toContain('1 planting brings its family back')
  expect(same).not.toContain('Solanaceae again')
  const once = plain((await trial.keeper.get(at('?t=2&t=3&b2=0&b3=1&years=1'))).text)
  expect([once.includes('Apiaceae again'), once.includes('sooner than 1 year after')]).toEqual([false, true])
  const wrong = await trial.keeper.get(at('?t=0&years=some'))
  expect([wrong.status, plain(wrong.text).includes('Please write a number')]).toEqual([422, true])
  expect(plain((await trial.keeper.get(at('?b0=0'))).text)).toContain('Tick at least one planting.')
  expect(await planted()).toEqual([])
})

it('what has no room in the bed that was chosen is left for later, and does not hold up the rest', async () => {
  // Carrots and potatoes of last season have no day of clearing: they stand on in bed 1, 8 of 10 m2.
  const page = (await trial.keeper.get(at('?t=0&t=2&b0=0&b2=1'))).text
  expect(plain(page)).toContain('Lower Terrace, Bed 1 has no room for it on that day. Choose another bed or day')
  expect(plain(page)).toContain('1 planting would be added.')
  expect(page.match(/type="checkbox" name="t" value="\d+" checked/g)).toHaveLength(2)
  expect(confirmed(page).lines.split(',')).toHaveLength(1)
  expect(await planted()).toEqual([])
})

it('a first day of sowing moves all, and a day of its own one line', async () => {
  const all = (await trial.keeper.get(at('?t=0&t=1&w=&first=2026-10-20&d0=2026-09-30'))).text
  expect(all.match(/type="date" name="d\d+" value="2026-10-20"/g)).toHaveLength(4)
  const one = (await trial.keeper.get(at('?t=0&t=1&w=&first=&d0=2026-10-08&d1=2026-09-30'))).text
  expect(
    confirmed(one)
      .lines.split(',')
      .map((line) => line.slice(-10)),
  ).toEqual(['2026-10-08', '2026-09-30'])
})

it('stores what was looked at, once, with its matched sets', async () => {
  const form = confirmed((await trial.keeper.get(at('?t=0&t=1&t=2'))).text)
  const saved = await trial.keeper.post(at(), form)
  expect([saved.status, saved.location]).toEqual([303, `${trial.base}/seasons/${next}/plan`])
  expect((await trial.keeper.post(at(), form)).status).toBe(303)
  const stored = await planted()
  expect(stored).toHaveLength(3)
  expect(stored).toContainEqual(['carrot, Kestrel', 'Lower Terrace', 'Bed 2', '4.0 m²', '30 September 2026', 'Kestrel'])
  expect(stored).toContainEqual(['carrot, Kestrel', 'Long Bank', 'Bed 2', '4.0 m²', '30 September 2026', 'Kestrel'])
  // Potatoes went alone: no set of one.
  expect(stored).toContainEqual(['potato, Heron', 'Lower Terrace', 'Bed 2', '4.0 m²', '30 September 2026', ''])
})

it('takes no planting or bed that is not of this group and this season before, and nobody but a keeper', async () => {
  const { lines } = confirmed((await trial.keeper.get(at('?t=0'))).text)
  const [planting = '', bed = '', day = ''] = lines.split(':')
  const status = async (sent: string) => (await trial.keeper.post(at(), { id: newId(), lines: sent })).status
  expect(await status(`${newId()}:${bed}:${day}`)).toBe(422)
  expect(await status(`${planting}:${newId()}:${day}`)).toBe(422)
  expect(await status('Bed 2')).toBe(422)
  expect(await status('')).toBe(422)
  const first = `${trial.base}/seasons/${trial.season}/plan/carried`
  expect(plain((await trial.keeper.get(first)).text)).toContain('There is no season before this one.')
  expect((await trial.keeper.post(first, { id: newId(), lines })).status).toBe(422)
  const recorder = await place.joined(trial.keeper, 'recorder')
  expect((await recorder.get(at())).status).toBe(403)
  expect(await planted()).toHaveLength(3)
})

it('what was cleared last season is meant to go as many days after it comes, so that the next can follow it', async () => {
  const clearings = `${trial.base}/seasons/${trial.season}/clearings`
  const clear = { plantingId: plantingOf(trial, 'potato', 'Long Bank'), clearedOn: '2026-02-20' }
  expect((await trial.keeper.post(clearings, clear)).status).toBe(303)
  const page = (await trial.keeper.get(at('?t=3'))).text
  const saved = await trial.keeper.post(at(), confirmed(page))
  expect(saved.status).toBe(303)
  // 142 days from 1 October 2025, and as many from 30 September 2026.
  expect(plain((await trial.keeper.get(saved.location)).text)).toContain(
    '30 September 2026 to 19 February 2027 (planned): potato, Heron, 4.0 m²',
  )
  // Its twin went before it: now that both are here they are one set again.
  expect((await planted()).filter((cells) => cells[0] === 'potato, Heron').map((cells) => cells[5])).toEqual([
    'Heron',
    'Heron',
  ])
})

it('what was carried already is known whatever was corrected since, and is neither ticked nor stored again', async () => {
  const season = (await trial.keeper.get(`${trial.base}/seasons/${next}`)).text
  const id = /correct\/plantings\/([0-9a-f-]{36})/.exec(season.split('aria-label="Plantings"')[1] ?? '')?.[1] ?? ''
  const address = `${trial.base}/correct/plantings/${id}`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(address)).text)?.[1] ?? ''
  const right = { areaCm2: '3', how: 'direct', sownOn: '2026-10-11', purpose: 'harvest', version }
  expect((await trial.keeper.post(address, right)).status).toBe(303)
  const page = (await trial.keeper.get(at())).text
  expect(page.match(/type="checkbox" name="t" value="\d+"/g)).toHaveLength(4)
  expect(page).not.toMatch(/name="t" value="\d+" checked/)
  expect(plain(page).match(/stands in Bed 2 of this season already/g)).toHaveLength(4)
  const all = (await trial.keeper.get(at('?t=0&t=1&t=2&t=3&d0=2027-03-01&d1=2027-03-01&d2=2027-03-01&d3=2027-03-01')))
    .text
  expect((await trial.keeper.post(at(), confirmed(all))).status).not.toBe(500)
  expect(await planted()).toHaveLength(4)
})

it('goes to a bed under the method that it stood under, and stays where it stands on', async () => {
  const methods = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${next}`)).text)('methodId')
  const bank = (await trial.keeper.get(`${trial.base}/seasons/${next}/layout`)).text
  const bed2 = choicesIn(bank)('bedId')['Long Bank, Bed 2'] ?? ''
  const layout = `${trial.base}/seasons/${next}/layout`
  const laid = {
    [`to-${trial.gardens.lower}`]: methods['Dug every spring'],
    [`to-${trial.gardens.bank}`]: methods['Compost mulch'],
  }
  expect(
    (await trial.keeper.post(layout, { ...laid, way: 'by hand', [`to-${bed2}`]: methods['Dug every spring'] })).status,
  ).toBe(303)
  const season = `${trial.base}/seasons/${trial.season}`
  const beds = choicesIn((await trial.keeper.get(season)).text)(`beds[${trial.gardens.bank}]`)
  const perennial = {
    ...{ id: newId(), cropId: choicesIn((await trial.keeper.get(season)).text)('cropId').leek, cultivar: 'Moor' },
    ...{ areaCm2: '1', how: 'direct', purpose: 'harvest', sownOn: '2025-09-01', standsUntil: '2030-12-31' },
  }
  await trial.keeper.post(`${season}/plantings`, { ...perennial, beds: { [trial.gardens.bank ?? '']: beds['Bed 1'] } })
  const page = (await trial.keeper.get(at())).text
  const line = page.slice(page.indexOf('leek, Moor')).split('</tr>')[0] ?? ''
  expect(plain(line)).toContain('stands on through this season')
  expect(page).not.toMatch(/name="t" value="\d+" checked/)
  // Of the bank's beds only bed 1 lies under what the whole garden lay under.
  expect(line).toMatch(/<option value="0" selected>Bed 1/)
})
