import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
let recorder: Client
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
})
afterAll(() => place.close())

const at = (form: string, of: string) => `${trial.base}/weeks/${of}${form && `/${form}`}`
const carrots = () => ['Lower', 'Long'].map((garden) => plantingOf(trial, 'carrot', garden))
const labelOf = async (garden: string, of: string) =>
  rowOf((await trial.keeper.get(at('labels', of))).text, `${garden}, Bed 1: carrot, Kestrel`)[1] ?? ''

describe('a sheet in a week of labels', () => {
  const fresh = '2026-W08'

  it('the sheet has a line for each label and no field for what it hides', async () => {
    await trial.keeper.post(at('labels', fresh), { id: newId(), plantingIds: carrots() })
    const [lower, bank] = [await labelOf('Lower Terrace', fresh), await labelOf('Long Bank', fresh)]
    const paper = (await recorder.get(at('sheet', fresh))).text
    expect([lower, bank].map((label) => rowOf(paper, `label ${label}`)[0])).toEqual([`label ${lower}`, `label ${bank}`])
    expect(rowOf(paper, 'carrot, Kestrel')).toEqual(['carrot, Kestrel', 'by its label', 'by its label'])
    for (const id of carrots()) expect(paper).not.toContain(id)
    const typing = (await recorder.get(`${at('', fresh)}?from=paper`)).text
    for (const id of carrots()) expect(typing).not.toContain(`w[${id}]`)
    const sheet = { id: newId(), source: 'paper', l: { [lower]: { good: 'We 3' }, [bank]: { good: 'many' } } }
    const wrong = await recorder.post(at('', fresh), sheet)
    expect([wrong.status, plain(wrong.text).includes('This is no weight.')]).toEqual([422, true])
    sheet.l[bank] = { good: '4' }
    for (let sent = 0; sent < 2; sent++) expect((await recorder.post(at('', fresh), sheet)).status).toBe(303)
    const page = (await recorder.get(at('ledger', fresh))).text
    expect([rowOf(page, `label ${lower}`)[1], rowOf(page, `label ${bank}`)[1]]).toEqual(['3.0 kg', '4.0 kg'])
    expect(page.split(`<th scope="row">label ${lower}`)).toHaveLength(2)
  })

  it('a sheet that was opened before the label was drawn is not stored by name', async () => {
    const [lower = ''] = carrots()
    const before = await trial.keeper.get(at('ledger', fresh))
    const answer = await recorder.post(at('', fresh), { id: newId(), w: { [lower]: { good: '9' } } })
    expect([answer.status, plain(answer.text).includes('label')]).toEqual([422, true])
    expect((await trial.keeper.get(at('ledger', fresh))).text.split('kg</td>')).toHaveLength(
      before.text.split('kg</td>').length,
    )
  })
})
