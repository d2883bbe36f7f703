import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.seasons
let place: Place
let trial: Trial

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const lay = (fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/seasons/${trial.season}/assignments`, {
    ...{ id: newId(), place: `garden:${trial.gardens.lower}`, phase: 'established', yearOfMethod: '1', how: 'choice' },
    ...fields,
  })
const laidOn = async (garden: string) => {
  const text = plain((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  return [...text.matchAll(new RegExp(`${garden} (Dug every spring|Compost mulch|Hay)`, 'g'))].map((one) => one[1])
}

it('a second method on the same ground asks before it replaces the first, and a closed season keeps what lay in it', async () => {
  const hay = newId()
  await trial.keeper.post(`${trial.base}/gardens/methods`, { id: hay, name: 'Hay' })
  const asked = await lay({ methodId: hay })
  expect([asked.status, plain(asked.text)]).toEqual([
    422,
    expect.stringContaining(words.laidAlready('Dug every spring')),
  ])
  expect(asked.text).toContain('name="surely"')
  expect(await laidOn('Lower Terrace')).toContain('Dug every spring')
  expect((await lay({ methodId: hay, surely: 'yes' })).status).toBe(303)
  expect(await laidOn('Lower Terrace')).not.toContain('Dug every spring')

  const closing = `${trial.base}/seasons/${trial.season}/close`
  const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(closing)).text)?.[1]
  expect((await trial.keeper.post(closing, { version })).status).toBe(303)
  const late = await lay({ methodId: hay, surely: 'yes' })
  expect([late.status, plain(late.text)]).toEqual([422, expect.stringContaining(words.closedLayout)])
})
