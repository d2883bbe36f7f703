import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const post = (path: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
const beds = async (garden: string) =>
  choicesIn((await trial.keeper.get(`${trial.base}/gardens/${garden}`)).text)('bedId')

it('a patch of couch is noted, covered, uncovered and counted, and tells what covering another bed would take', async () => {
  const { bank = '', lower = '' } = trial.gardens
  const [first = '', other = ''] = [(await beds(bank))['Bed 2'], (await beds(lower))['Bed 2']]
  const back = async () => {
    const { text } = await trial.keeper.get(`${trial.base}/decide/restart?bed=${other}`)
    return ['low', 'middle', 'high'].map(
      (end) => new RegExp(`name="comesBack-${end}"[^>]*value="([^"]*)"`).exec(text)?.[1],
    )
  }
  const covering = async () => {
    const { text } = await trial.keeper.get(`${trial.base}/decide/restart?bed=${other}`)
    return [/name="coverMinutes-middle"[^>]*value="([^"]*)"/.exec(text)?.[1], plain(text)]
  }
  // Six minutes a m2, from memory, on 10 m2, as long as nobody here has covered a bed.
  expect((await covering())[0]).toBe('60 min')
  expect(await back()).toEqual(['20', '50', '80'])

  const noted = { place: `bed:${first}`, species: 'couch', seenOn: '2025-09-20', areaCm2: '6', shootsPerM2: '80' }
  expect((await post('notes/patches', { ...noted, position: 'along the hedge', words: '' })).status).toBe(303)
  const id = newId()
  const covered = { id, bedId: first, fromDay: '2025-10-01', toDay: '', why: 'couch grass', material: 'woven' }
  expect((await post(`gardens/${bank}/closures`, covered)).status).toBe(303)
  const work = { place: `bed:${first}`, task: 'preparing beds', time: '2 x 1:30' }
  expect((await post('weeks/2025-W40/hours', { ...work, workedOn: '2025-10-01' })).status).toBe(303)
  // While it is covered its work is not known whole, and it stands in no figure of Decide.
  expect((await covering())[0]).toBe('60 min')

  const page = `${trial.base}/correct/bed-closures/${id}`
  const seen = { fromDay: '2025-10-01', toDay: '2025-11-26', why: 'couch grass', material: 'woven', version: '1' }
  const counts = {
    regrowthAfter4Weeks: '12',
    regrowthAfter8Weeks: '3',
    regrowthAfter12Weeks: '0',
    regrowth: 'no rhizomes',
  }
  expect((await trial.keeper.post(page, { ...seen, ...counts })).status).toBe(303)
  const shown = plain((await trial.keeper.get(`${trial.base}/gardens/${bank}`)).text)
  // 15 m2 that could grow nothing for 8 weeks.
  expect(shown).toMatch(/8\.0 weeks.*120\.0.*4 weeks: 12 8 weeks: 3 12 weeks: 0/)

  // 180 person-minutes on 15 m2: 12 a m2, of the 10 m2 that are thought about now.
  const [minutes, said] = await covering()
  expect(minutes).toBe('120 min')
  // None of one at its last count: R's prop.test(0, 1, correct = FALSE) gives 0 to 0.7935, its middle 0.3967.
  expect(await back()).toEqual(['0', '40', '79'])
  expect(said).toContain('shoots at the last count on 0 of 1 cover of yours')
  expect(said).toContain('what covering took a m² on the one bed of yours that was covered and uncovered again')
})
