import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const at = (more = '') => `${trial.base}/seasons/${trial.season}/plan${more}`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

/** The cells of a bed of one garden. */
const bedIn = (html: string, garden: string, bed: string) => {
  const section = html.split(`aria-label="${garden}"`)[1]?.split('</table>')[0] ?? ''
  const row = section.split('<tr>').find((one) => plain(one).startsWith(bed)) ?? ''
  return plain(row.replaceAll('</li>', ' | '))
}
const season = async () => (await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text

it('shows each bed with what stands in it, what is free and what lies empty', async () => {
  const page = (await trial.keeper.get(at())).text
  const lower = bedIn(page, 'Lower Terrace', 'Bed 1')
  expect(lower).toContain('10.0 m²; 2.0 m² stays free on its fullest day')
  expect(lower).toContain('1 August 2025 to 30 September 2025: empty (61 days)')
  expect(lower).toContain('From 1 October 2025, no end known: carrot, Kestrel, 4.0 m²')
  expect(lower).toContain('potato, Heron, 4.0 m² beside carrot, Kestrel')
  expect(bedIn(page, 'Long Bank', 'Bed 2')).toContain('all of 15.0 m² is free')
  expect(page.indexOf('Lower Terrace')).toBeLessThan(page.indexOf('Long Bank'))
  expect(await season()).toContain(`<a href="${at()}"`)
})

it('shows what follows what, with the days between, and a family that comes back', async () => {
  const choices = choicesIn(await season())
  const bed = choices(`beds[${trial.gardens.lower}]`)['Bed 2'] ?? ''
  const plant = async (crop: string, cultivar: string, sownOn: IsoDate) => {
    const fields = { id: newId(), cropId: choices('cropId')[crop], cultivar, areaCm2: '10', how: 'direct', sownOn }
    const added = await trial.keeper.post(`${trial.base}/seasons/${trial.season}/plantings`, {
      ...fields,
      ...{ purpose: 'harvest', beds: { [trial.gardens.lower ?? '']: bed } },
    })
    expect(added.status).toBe(303)
    return fields.id
  }
  const radishes = await plant('radish', 'Dunlin', '2025-09-01')
  const clearings = `${trial.base}/seasons/${trial.season}/clearings`
  expect((await trial.keeper.post(clearings, { plantingId: radishes, clearedOn: '2025-10-20' })).status).toBe(303)
  const kale = await plant('kale', 'Curlew', '2025-11-01')
  const two = bedIn((await trial.keeper.get(at())).text, 'Lower Terrace', 'Bed 2')
  expect(two).toContain('1 September 2025 to 20 October 2025: radish, Dunlin, 10.0 m²')
  expect(two).toContain('20 October 2025 to 31 October 2025: empty (12 days)')
  expect(two).toContain('follows radish, Dunlin, after 12 days of empty ground')
  expect(two).toContain('Brassicaceae again in this bed: radish, Dunlin stood here in this season.')
  expect(two).toContain('full on its fullest day')
  expect(kale).not.toBe(radishes)
  const said = plain(await season())
  expect(said).toContain('Brassicaceae again in this bed: radish, Dunlin stood here in this season.')
})

it('asks over how many years, and says what cannot be read', async () => {
  const longer = plain((await trial.keeper.get(at('?years=5'))).text)
  expect(longer).toContain('sooner than 5 years after it stood there')
  const wrong = await trial.keeper.get(at('?years=some'))
  expect([wrong.status, plain(wrong.text).includes('Please write a number')]).toEqual([422, true])
  expect(wrong.text).toContain('value="some"')
})

it('is open to readers and nobody else', async () => {
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.get(at())).status).toBe(200)
  expect((await (await place.keeper()).get(at())).status).toBe(404)
  expect((await trial.keeper.get(`${trial.base}/seasons/${newId()}/plan`)).status).toBe(404)
})
