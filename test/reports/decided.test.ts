import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { keptDecidedForm } from '../../src/decisions/kept-decided.form.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'
import { shareReport, writeReport } from './reports.ts'

let place: Place
let trial: Trial
const decided = newId()
const given = () => ({
  ...{ id: decided, seasonId: trial.season, decidedOn: '2026-06-02', decision: 'Cover bed 2 of Long Bank.' },
  ...{ question: 'Cover Long Bank, Bed 2, or keep hoeing?', finding: 'Covering pays above 1.3 h.', happened: '' },
  ...{ assumptions: 'Seasons to look ahead: 5\nPrice of a kilogram: 4', address: 'decide/restart?seasons=5' },
  ...{ expected: 'It takes four hours.', lookAgainOn: '', measure: 'workOnGround', expectedFigure: '4' },
})
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  const ground = choicesIn((await trial.keeper.get(`${trial.base}/decisions?form=decisions`)).text)('ground')
  const saved = await trial.keeper.post(`${trial.base}/decisions`, {
    ...given(),
    ...{ ground: ground['Long Bank, Bed 2'], aboutSeasonId: trial.season },
  })
  expect(saved.status).toBe(303)
})
afterAll(() => place.close())

const open = async (id: string) => (await trial.keeper.get(`${trial.base}/reports/${id}`)).text
const all = ['findings', 'decided', 'gardens']

it('a report tells the question, the answer, what it took for granted, its address and what came of it', async () => {
  const { id, answer } = await writeReport(trial, { sections: all, rowsAgreed: 'yes' })
  expect(answer.status).toBe(303)
  const part = plain((await open(id)).split('id="part-decided"')[1]?.split('</details>')[0] ?? '')
  for (const said of [
    '2 June 2026: Cover bed 2 of Long Bank.',
    'The question Cover Long Bank, Bed 2, or keep hoeing?',
    'Covering pays above 1.3 h.',
    'What it takes for granted Seasons to look ahead: 5 Price of a kilogram: 4',
    'decide/restart?seasons=5',
    'Hours on some ground without harvest work, on Long Bank, Bed 2, in 2025/26: 4.00 h.',
    'It says so when 2025/26 is closed.',
  ])
    expect(part).toContain(said)
  const link = await shareReport(trial, id)
  const guest = place.guest()
  expect(plain((await guest.get(link)).text)).toContain('Covering pays above 1.3 h.')
  const json = JSON.parse((await guest.get(`${link}.json`)).text)
  expect(JSON.stringify(json)).toContain('Covering pays above 1.3 h.')
})

it('it is frozen with the rest, and out of every report that does not ask for it', async () => {
  const [frozen, live, without] = await Promise.all([
    writeReport(trial, { sections: all, title: 'Frozen' }),
    writeReport(trial, { sections: all, title: 'Live', keeps: 'live' }),
    writeReport(trial, { sections: ['findings', 'gardens'], title: 'Without' }),
  ])
  const address = `${trial.base}/correct/decisions/${decided}`
  const page = (await trial.keeper.get(address)).text
  const ground = choicesIn(page)('ground')['Long Bank, Bed 2'] ?? ''
  const { id: _, ...same } = given()
  const fields = { ...same, ground, aboutSeasonId: trial.season, finding: 'It may never pay.', version: '1' }
  expect((await trial.keeper.post(address, fields)).status).toBe(303)
  expect(await open(frozen.id)).toContain('Covering pays above 1.3 h.')
  expect(await open(frozen.id)).not.toContain('It may never pay.')
  expect(await open(live.id)).toContain('It may never pay.')
  expect(await open(without.id)).not.toMatch(/Covering pays|may never pay|part-decided/)
  const link = await shareReport(trial, without.id)
  expect((await place.guest().get(`${link}.json`)).text).not.toMatch(/Covering pays|may never pay/)
})

it('what a package brings of it is held to its shape', () => {
  const one = {
    ...{ decidedOn: '2026-06-02', decision: 'a', finding: 'b', expected: 'c', question: null, assumptions: null },
    ...{ address: null, happened: null, figure: null },
  }
  const fits = (decision: object) => keptDecidedForm.safeParse({ decided: [{ ...one, ...decision }] }).success
  expect([fits({}), keptDecidedForm.safeParse({}).success]).toEqual([true, true])
  expect([fits({ decision: 3 }), fits({ decidedOn: 'soon' }), fits({ figure: { of: {} } })]).toEqual([
    false,
    false,
    false,
  ])
})
