import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { wholeCompare } from '../support/compare.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const at = () => `${trial.base}/seasons/${trial.season}/question`
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

const fields = async () => ({
  version: /name="version" value="(\d*)"/.exec((await trial.keeper.get(at())).text)?.[1] ?? '',
  ...{ id: newId(), question: 'Does the mulch give more?', primaryMeasure: 'matched yield', seasonsToLookAt: '1' },
  ...{ weights: 'marketable', mix: 'equal parts', outsideLosses: 'counted', marginPercent: '' },
  ...{ sentenceIfSeen: 'It gave another weight.', sentenceIfNotSeen: 'We could not tell.' },
  referenceMethodId: choicesIn((await trial.keeper.get(at())).text)('referenceMethodId')['Compost mulch'] ?? '',
})

it('names a few pairs of methods, says them when it is locked, and takes no method of elsewhere', async () => {
  const place2 = await openPlace()
  const own = await setUpTrial(place2)
  const page = `${own.base}/seasons/${own.season}/question`
  const ids = choicesIn((await own.keeper.get(page)).text)('referenceMethodId')
  const [dug, mulch] = [ids['Dug every spring'] ?? '', ids['Compost mulch'] ?? '']
  const sent = { ...(await fields()), id: newId(), version: '', referenceMethodId: dug }
  expect((await own.keeper.post(page, { ...sent, pairs: `${dug} ${newId()}` })).status).toBe(422)
  expect((await own.keeper.post(page, { ...sent, pairs: `${dug}` })).status).toBe(422)
  expect((await own.keeper.post(page, { ...sent, pairs: `${dug} ${mulch}` })).status).toBe(303)
  expect((await own.keeper.post(`${page}/lock`)).status).toBe(303)
  const text = plain((await own.keeper.get(page)).text)
  expect(text).toMatch(/The pairs that it asks of[^.]* Compost mulch beside Dug every spring By which/)
  await place2.close()
})

it('a draft changes until it is locked, and never again', async () => {
  expect((await trial.keeper.post(at(), { ...(await fields()), sentenceIfSeen: '' })).status).toBe(422)
  expect((await trial.keeper.post(at(), await fields())).status).toBe(303)
  const again = { ...(await fields()), question: 'Does the mulch give another weight?' }
  expect((await trial.keeper.post(at(), again)).status).toBe(303)
  expect((await trial.keeper.post(`${at()}/lock`)).status).toBe(303)
  expect((await trial.keeper.post(`${at()}/lock`)).status).toBe(404)
  const late = await trial.keeper.post(at(), { ...again, question: 'Does it give less?' })
  expect(late.status).toBe(422)
  expect(plain(late.text)).toContain('locked and never changes')
  expect(plain((await trial.keeper.get(at())).text)).toContain('Does the mulch give another weight?')
})

it('is said to be late on its own page, since the season had begun', async () => {
  expect(plain((await trial.keeper.get(at())).text)).toMatch(/Locked late, on .* when the season had begun/)
})

it('names every term of a locked question, the crops among them', async () => {
  const text = plain((await trial.keeper.get(at())).text)
  expect(text).toContain('leave all blank for every one every matched crop')
  expect(text).toContain('every crop alike')
})

it('Compare takes the reference of a late question, and gives neither of its sentences as an answer', async () => {
  const week = `${trial.base}/weeks/2026-W05`
  for (const [garden, marketable] of [
    ['Lower', '8'],
    ['Long', '12'],
  ] as const) {
    const plantingId = plantingOf(trial, 'carrot', garden)
    await trial.keeper.post(`${week}/harvests`, { id: newId(), plantingId, harvestedOn: '2026-01-28', marketable })
    await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, { plantingId, clearedOn: '2026-02-01' })
  }
  const text = plain((await wholeCompare(trial.keeper, `${trial.base}/compare`)).text)
  expect(text).toContain('Does the mulch give another weight?')
  expect(text).toContain('Lower Terrace (Dug every spring) gave 0.67 times')
  expect(text).toMatch(/Asked late, and locked on .* a look around and not a test/)
  expect(text).not.toContain('The group waits')
})
