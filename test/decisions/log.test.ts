import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { dueForALook } from '../../src/decisions/due.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.decisions
let place: Place
let trial: Trial
const decided = newId()
const decide = (fields: Record<string, unknown> = {}) =>
  trial.keeper.post(`${trial.base}/decisions`, {
    id: decided,
    seasonId: trial.season,
    decidedOn: '2026-06-02',
    decision: 'Compost to 3 cm on Long Bank again.',
    finding: 'One season: Long Bank gave more, and it may be the ground.',
    expected: 'As many kg per m2 as this season.',
    lookAgainOn: '2026-07-01',
    ...fields,
  })

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

it('a decision is due on the day to look again, and no longer once somebody said what happened', () => {
  const one = { lookAgainOn: '2026-07-01', happened: null } as const
  expect(dueForALook([one], '2026-06-30')).toEqual([])
  expect(dueForALook([one], '2026-07-01')).toEqual([one])
  expect(dueForALook([{ ...one, happened: 'It did not come.' }], '2026-07-02')).toEqual([])
  expect(dueForALook([{ ...one, lookAgainOn: null }], '2026-07-02')).toEqual([])
})

it('what was decided, on what, what is expected and when to look again is kept, once', async () => {
  expect(plain((await decide({ lookAgainOn: '2026-06-02' })).text)).toContain(words.lookFirst)
  expect(plain((await decide({ decidedOn: '2199-01-01', lookAgainOn: '' })).text)).toContain(words.ahead)
  expect((await decide({ expected: '' })).status).toBe(422)
  expect((await decide()).status).toBe(303)
  expect((await decide()).status).toBe(303)
  const text = plain((await trial.keeper.get(`${trial.base}/decisions`)).text)
  expect(text.split('2 June 2026: Compost to 3 cm on Long Bank again.')).toHaveLength(3)
  expect(text).toContain('What is expected As many kg per m2 as this season. Look again 1 July 2026')
})

it('it is named at home until somebody says what happened', async () => {
  const home = async () => plain((await trial.keeper.get(trial.base)).text)
  expect(await home()).toContain('Compost to 3 cm on Long Bank again. due since 1 July 2026')
  const form = (await trial.keeper.get(`${trial.base}/decisions`)).text
  expect(Object.values(choicesIn(form)('decisionId'))).toEqual([decided])
  const happened = { decisionId: decided, happened: 'A tenth less, in a dry year.' }
  expect((await trial.keeper.post(`${trial.base}/decisions/happened`, happened)).status).toBe(303)
  expect(await home()).not.toContain('due since')
  const again = await trial.keeper.post(`${trial.base}/decisions/happened`, { ...happened, happened: 'No.' })
  expect([again.status, plain(again.text)]).toEqual([422, expect.stringContaining(words.happenedAlready)])
})

it('the page of the next season puts what was expected beside what happened', async () => {
  const next = newId()
  const year = { id: next, name: '2026/27', startsOn: '2026-08-01', endsOn: '2027-05-31' } as const
  await trial.keeper.post(`${trial.base}/seasons`, year)
  const text = (await trial.keeper.get(`${trial.base}/seasons/${next}`)).text
  expect(plain(text)).toContain(
    `Compost to 3 cm on Long Bank again. ${words.beforeSaid('As many kg per m2 as this season.', 'A tenth less, in a dry year.')}`,
  )
  expect((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text).not.toContain(words.beforeHeading)
})

it('it is corrected on its page, and a recorder reads it and decides nothing', async () => {
  const address = `${trial.base}/correct/decisions/${decided}`
  const page = await trial.keeper.get(address)
  const version = /name="version" value="(\d+)"/.exec(page.text)?.[1] ?? ''
  expect(version).toBe('2')
  const fields = {
    seasonId: trial.season,
    decidedOn: '2026-06-02',
    decision: 'Compost to 2 cm.',
    finding: 'As before.',
  } as const
  const corrected = { version, ...fields, expected: 'The same.', lookAgainOn: '', happened: '' }
  expect((await trial.keeper.post(address, corrected)).status).toBe(303)
  const text = plain((await trial.keeper.get(`${trial.base}/decisions`)).text)
  expect(text).toContain('2 June 2026: Compost to 2 cm.')
  const recorder = await place.joined(trial.keeper, 'recorder')
  const seen = await recorder.get(`${trial.base}/decisions`)
  expect([seen.status, seen.text.includes('add-decision')]).toEqual([200, false])
  expect((await recorder.post(`${trial.base}/decisions`, { id: newId() })).status).toBe(403)
})
