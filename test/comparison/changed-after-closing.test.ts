import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const [earlier, load, input, worked] = [newId(), newId(), newId(), newId()]
const week = () => `${trial.base}/weeks/2026-W05`
const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''

async function done(answer: Promise<{ status: number }>) {
  expect((await answer).status).toBe(303)
}

const close = async (season: string) => {
  const address = `${trial.base}/seasons/${season}/close`
  await done(trial.keeper.post(address, { version: versionIn((await trial.keeper.get(address)).text) }))
}

async function correct(kind: string, id: string, fields: Record<string, unknown>) {
  const address = `${trial.base}/correct/${kind}/${id}`
  const version = versionIn((await trial.keeper.get(address)).text)
  // Asked for where the season is closed.
  await done(trial.keeper.post(address, { ...fields, version, closedReason: 'written down wrongly' }))
}

/** On the page of the closing; as many are listed in the history, and Compare says as many where there is anything to compare. */
async function changed(season: string): Promise<number> {
  const page = (await trial.keeper.get(`${trial.base}/seasons/${season}/close`)).text
  const count = Number(/(\d+) entr(?:y was|ies were) written or changed/.exec(plain(page))?.[1] ?? 0)
  const listed = (await trial.keeper.get(`${trial.base}/history?closed=${season}`)).text
  expect([...listed.matchAll(/\/history\/\w+\/[0-9a-f-]{36}/g)]).toHaveLength(count)
  if (season !== trial.season) return count
  const compare = plain((await wholeCompare(trial.keeper, `${trial.base}/compare?season=${season}`)).text)
  const said = /(\d+) entr(?:y|ies) of these seasons (?:was|were) written or changed/.exec(compare)?.[1]
  expect(Number(said ?? 0)).toBe(count)
  return count
}

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const { keeper, base, season, gardens } = trial
  await done(
    keeper.post(`${base}/seasons`, { id: earlier, name: '2024/25', startsOn: '2024-08-01', endsOn: '2025-05-31' }),
  )
  const compost = { name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' }
  const came = { id: load, deliveredOn: '2025-09-01', quantityThousandths: '4', priceMinor: '300' }
  await done(keeper.post(`${base}/inputs/deliveries`, { ...compost, ...came }))
  const spread = { id: newId(), deliveryId: load, place: `garden:${gardens.bank}`, appliedOn: '2025-09-10' }
  await done(
    keeper.post(`${base}/inputs/spreadings`, {
      ...{ ...spread, seasonId: season, phase: 'established', quantityThousandths: '1' },
    }),
  )
  const hours = { id: worked, place: `garden:${gardens.lower}`, task: 'weeding', time: '2', workedOn: '2026-01-27' }
  await done(keeper.post(`${week()}/hours`, hours))
  for (const marketable of ['2', '3']) {
    const of = plantingOf(trial, 'carrot', marketable === '2' ? 'Lower' : 'Long')
    const weighed = { id: newId(), plantingId: of, harvestedOn: '2026-01-27', marketable }
    await done(keeper.post(`${week()}/harvests`, weighed))
  }
  await close(season)
  await close(earlier)
})
afterAll(() => place.close())

it('what is written down after a season closed counts for it, whatever table it lies in', async () => {
  const { keeper, base, season, gardens } = trial
  expect([await changed(season), await changed(earlier)]).toEqual([0, 0])
  const lost = { id: newId(), plantingId: plantingOf(trial, 'carrot', 'Lower'), lostOn: '2026-01-28', percent: '50' }
  await done(keeper.post(`${week()}/losses`, { ...lost, cause: 'pest', outside: 'no', alsoNextDoor: 'no' }))
  expect(await changed(season)).toBe(1)
  await correct('deliveries', load, { quantityThousandths: '4', deliveredOn: '2025-09-01', priceMinor: '500' })
  expect(await changed(season)).toBe(2)
  const html = (await keeper.get(`${base}/inputs`)).text
  const inputId = /correct\/inputs\/([0-9a-f-]{36})/.exec(html)?.[1] ?? input
  const kept = { name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', rawManure: 'no', basis: 'element' }
  // A season that is closed keeps the useful life that it was closed with.
  await correct('inputs', inputId, { ...kept, usefulLifeSeasons: '3' })
  expect(await changed(season)).toBe(2)
  await correct('inputs', inputId, { ...kept, usefulLifeSeasons: '3', ownMade: 'own' })
  expect(await changed(season)).toBe(3)
  await done(keeper.post(`${week()}/closings`, { gardenId: gardens.lower, what: 'hours' }))
  expect(await changed(season)).toBe(4)
  await done(keeper.post(`${base}/weeks/2026-W28/closings`, { gardenId: gardens.lower, what: 'hours' }))
  expect([await changed(season), await changed(earlier)]).toEqual([4, 0])
})

it('the area of a bed and of a garden counts for every season in which a method lay on it; a name counts for none', async () => {
  const { keeper, base, season, gardens } = trial
  const bedId = choicesIn((await keeper.get(`${base}/gardens/${gardens.lower}`)).text)('bedId')['Bed 2'] ?? ''
  await correct('beds', bedId, { name: 'Long Bed', areaCm2: '10', blockId: '' })
  expect(await changed(season)).toBe(4)
  await correct('beds', bedId, { name: 'Long Bed', areaCm2: '9', blockId: '' })
  expect(await changed(season)).toBe(5)
  await correct('gardens', gardens.lower ?? '', { name: 'Lower Terrace', grossAreaCm2: '33', position: '1' })
  expect([await changed(season), await changed(earlier)]).toEqual([6, 0])
})

it('what is moved from one season to another counts for both', async () => {
  const reopen = { gardenId: trial.gardens.lower, what: 'hours', reason: 'a day was wrong' }
  await done(trial.keeper.post(`${week()}/reopenings`, reopen))
  expect(await changed(trial.season)).toBe(7)
  const place = `garden:${trial.gardens.lower}`
  await correct('labour', worked, { place, workedOn: '2025-02-04', task: 'weeding', time: '2', phase: 'established' })
  expect([await changed(trial.season), await changed(earlier)]).toEqual([8, 1])
})
