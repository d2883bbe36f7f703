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

it('a recorder writes down what was planted, in every garden at once, and can take it back; a reader cannot', async () => {
  const recorder = await place.joined(trial.keeper, 'recorder')
  const address = `${trial.base}/seasons/${trial.season}`
  const choices = choicesIn((await recorder.get(address)).text)
  const bedOf = (garden: string) => choices(`beds[${garden}]`)['Bed 2'] ?? ''
  const { lower = '', bank = '' } = trial.gardens
  const fields = {
    ...{ id: newId(), cropId: choices('cropId').leek, cultivar: 'Moor', sownOn: '2025-10-20', areaCm2: '3' },
    ...{ how: 'direct', purpose: 'harvest', beds: { [lower]: bedOf(lower), [bank]: bedOf(bank) } },
  }
  const saved = await recorder.post(`${address}/plantings`, fields)
  expect(saved.status).toBe(303)
  const page = (await recorder.get(saved.location)).text
  expect(plain(page)).toContain('leek')
  // What else belongs to a season stays the keepers'.
  expect(page).not.toContain(`${address}/matched-sets"`)
  expect(page).not.toContain(`${address}/assignments"`)
  const undo = /<form method="post" action="([^"]*\/undo)">([\s\S]*?)<\/form>/.exec(page) ?? []
  const given = Object.fromEntries(
    [...(undo[2] ?? '').matchAll(/name="(first|last|back)" value="([^"]*)"/g)].map((one) => [one[1], one[2]]),
  )
  expect((await recorder.post(undo[1] ?? '', given)).status).toBe(303)
  expect(plain((await recorder.get(address)).text)).not.toContain('leek, Moor')
  const reader = await place.joined(trial.keeper, 'reader')
  expect((await reader.post(`${address}/plantings`, { ...fields, id: newId() })).status).toBe(403)
})

it('no list of crops, beds or places begins with a choice, and a form sent so says what to choose', async () => {
  const recorder = await place.joined(trial.keeper, 'recorder')
  const season = `${trial.base}/seasons/${trial.season}`
  const firstOf = (html: string, action: string) => {
    const form = html.split(`action="${action}"`)[1]?.split('</form>')[0] ?? ''
    const lists = [
      ...form.matchAll(/<select[^>]*name="(place|cropId|beds\[[^\]]*\])"[^>]*>\s*<option value="([^"]*)"/g),
    ]
    return lists.map((list) => list[2])
  }
  expect(firstOf((await recorder.get(season)).text, `${season}/plantings`)).toEqual(['', '', ''])
  const notes = (await recorder.get(`${trial.base}/notes`)).text
  for (const kind of ['notes', 'counts', 'patches'])
    expect([kind, firstOf(notes, `${trial.base}/notes/${kind}`)]).toEqual([kind, ['']])
  const note = { id: newId(), place: '', seenOn: '2025-11-11', kind: 'pest', severity: '', words: 'Slugs.' }
  const refused = await recorder.post(`${trial.base}/notes/notes`, note)
  expect([refused.status, plain(refused.text).includes('Please choose one of the list.')]).toEqual([422, true])
})
