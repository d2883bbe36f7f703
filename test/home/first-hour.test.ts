import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { setUpTrial } from '../support/trial.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const stepIn = (html: string, start: string) => {
  const row = (html.match(/<tr[\s>][\s\S]*?<\/tr>/g) ?? []).find((one) => plain(one).startsWith(start))
  return plain(row ?? '')
    .split(' ')
    .slice(-2)
    .join(' ')
}

it('an empty group is led to its ground first, and each step says why', async () => {
  const keeper = await place.keeper()
  const home = async () => (await keeper.get(`/g/${keeper.slug}`)).text
  expect(plain(await home())).toContain('Next: The ground: a site')
  await keeper.post(`/g/${keeper.slug}/gardens/sites`, { id: newId(), name: 'Quern Hill' })
  expect(plain(await home())).toContain('Next: Two methods with their working rules')
  expect(stepIn(await home(), 'The ground')).toMatch(/done$/)
  expect(stepIn(await home(), 'Beds in each garden')).toMatch(/not yet$/)
})

it('a group that is set up sees what is left, and a reader is not told to do it', async () => {
  const trial = await setUpTrial(place)
  const text = (await trial.keeper.get(trial.base)).text
  expect(stepIn(text, 'One cultivar in every garden')).toMatch(/done$/)
  expect(stepIn(text, 'The question of the season')).toMatch(/not yet$/)
  expect(plain(text)).toContain('Weeks that are over and not closed')
  const reader = await place.joined(trial.keeper, 'reader')
  expect(plain((await reader.get(trial.base)).text)).not.toContain('Next:')
})
