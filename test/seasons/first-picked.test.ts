import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const week = (name: string) => `${trial.base}/weeks/${name}`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

/** The line of a cultivar in the plan of one garden. */
async function lineOf(garden: string, cultivar: string): Promise<string> {
  const page = (await trial.keeper.get(`${trial.base}/seasons/${trial.season}/plan`)).text
  const section = page.split(`aria-label="${garden}"`)[1]?.split('</table>')[0] ?? ''
  return (
    [...section.matchAll(/<li>(.*?)<\/li>/gs)]
      .map((one) => plain(one[1] ?? ''))
      .find((one) => one.includes(cultivar)) ?? ''
  )
}

it('days from sowing to the first weighing, of a planting alone and of one in a shared crate', async () => {
  const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)
  const weigh = (harvestedOn: IsoDate, marketable: string) =>
    trial.keeper.post(`${week('2026-W05')}/harvests`, {
      ...{ id: newId(), plantingId: carrot('Lower Terrace'), harvestedOn, marketable },
    })
  expect(await lineOf('Lower Terrace', 'Kestrel')).not.toContain('first weighed')
  expect((await weigh('2026-01-30', '3')).status).toBe(303)
  expect((await weigh('2026-01-28', '2')).status).toBe(303)
  // 1 October to 28 January: 30 + 30 + 31 + 28 days.
  expect(await lineOf('Lower Terrace', 'carrot, Kestrel, 4.0')).toContain(
    'first weighed on 28 January 2026, 119 days after sowing',
  )
  const crate = { id: newId(), plantingIds: [carrot('Lower Terrace'), carrot('Long Bank')], shareRule: 'area' }
  const shared = { ...crate, harvestedOn: '2026-01-27', marketable: '4' }
  expect((await trial.keeper.post(`${week('2026-W05')}/shared-harvests`, shared)).status).toBe(303)
  for (const garden of ['Lower Terrace', 'Long Bank']) {
    expect(await lineOf(garden, 'carrot, Kestrel, 4.0')).toContain(
      'first weighed on 27 January 2026, 118 days after sowing',
    )
  }
  expect(await lineOf('Lower Terrace', 'potato, Heron, 4.0')).not.toContain('first weighed')
})

it('what came up of what was sown: of the one planting of a bed, or of the one that the count names', async () => {
  const choices = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  const { lower = '' } = trial.gardens
  const bed = choices(`beds[${lower}]`)['Bed 2'] ?? ''
  const kale = { id: newId(), cropId: choices('cropId').kale, cultivar: 'Raven', areaCm2: '3', how: 'direct' }
  const sown = { ...kale, sownOn: '2025-11-01', purpose: 'harvest', beds: { [lower]: bed } }
  expect((await trial.keeper.post(`${trial.base}/seasons/${trial.season}/plantings`, sown)).status).toBe(303)
  const counted = { countedOn: '2025-11-20', what: 'plants standing', method: 'one row' }
  const count = (given: Record<string, string>) =>
    trial.keeper.post(`${trial.base}/notes/counts`, { id: newId(), ...counted, ...given })
  expect((await count({ place: `bed:${bed}`, value: '87', outOf: '120' })).status).toBe(303)
  expect(await lineOf('Lower Terrace', 'kale, Raven, 3.0')).toContain(
    '87 of 120 came up (73 %), counted on 20 November 2025',
  )
  // Carrots and potatoes share bed 1.
  const shared = { place: `bed:${choices(`beds[${lower}]`)['Bed 1']}`, value: '80', outOf: '100' }
  const unnamed = await count(shared)
  expect(unnamed.status).toBe(422)
  expect(plain(unnamed.text)).toContain(
    'Choose the planting: carrot, Kestrel and potato, Heron stood there on that day.',
  )
  expect((await count({ ...shared, plantingId: plantingOf(trial, 'carrot', 'Lower') })).status).toBe(303)
  expect(await lineOf('Lower Terrace', 'carrot, Kestrel, 4.0')).toContain('80 of 100 came up (80 %)')
  expect(await lineOf('Lower Terrace', 'potato, Heron, 4.0')).not.toContain('came up')
  expect(plain((await trial.keeper.get(`${trial.base}/gardens/${lower}?season=all`)).text)).toContain(
    'Counted in Bed 1, of carrot, Kestrel: plants standing, of plants sown, 80 of 100 plants (one row).',
  )
})
