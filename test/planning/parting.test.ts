import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const at = () => `${trial.base}/seasons/${trial.season}/layout`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const methods = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)('methodId')
  await trial.keeper.post(at(), { way: 'draw beds', seed: 'barley', methods: Object.values(methods) })
})
afterAll(() => place.close())

const part = async (bed: string, name: string, areaCm2: string) => {
  const bedId = choicesIn((await trial.keeper.get(at())).text)('bedId')[bed] ?? ''
  return trial.keeper.post(`${at()}/split-beds`, { id: newId(), bedId, name, areaCm2 })
}
interface Compared {
  readonly methods: readonly { readonly method: string; readonly totals: { readonly bedAreaCm2: number } }[]
}
const bedAreas = async () => {
  const { methods } = await trial.keeper.json<Compared>(`${trial.base}/compare.json?season=${trial.season}`)
  return methods.map((one) => [one.method, one.totals.bedAreaCm2])
}

it('a part of a bed stays under the method of the bed, and no season loses ground', async () => {
  const before = await bedAreas()
  const method = /Bed 1 (Compost mulch|Dug every spring) /.exec(plain((await trial.keeper.get(at())).text))?.[1]
  expect((await part('Lower Terrace, Bed 1', 'Bed 1b', '2')).status).toBe(303)
  const page = plain((await trial.keeper.get(at())).text)
  expect(page).toMatch(new RegExp(`Bed 1 ${method} .*Bed 1b ${method} 1 establishing at random barley`))
  // Two gardens of 20 m2 and 30 m2, each with half its beds under each method.
  expect(before.map((one) => one[1])).toEqual([250_000, 250_000])
  expect(await bedAreas()).toEqual(before)
})
