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
  const typing = () => at('sheet/typed', fresh)

  it('the sheet has a line for each label and none for what it hides', async () => {
    await trial.keeper.post(at('labels', fresh), { id: newId(), plantingIds: carrots() })
    const [lower, bank] = [await labelOf('Lower Terrace', fresh), await labelOf('Long Bank', fresh)]
    for (const address of [at('sheet', fresh), typing()]) {
      const weights = (await recorder.get(address)).text.split(/<h2>(Losses|Hours)<\/h2>/)[0] ?? ''
      expect(rowOf(weights, lower)[0]).toBe(lower)
      expect(rowOf(weights, bank)[0]).toBe(bank)
      expect([weights.includes('carrot'), weights.includes('potato')]).toEqual([false, true])
      for (const id of carrots()) expect(weights).not.toContain(id)
    }
    const sheet = { id: newId(), labelled: { [lower]: { day: '2026-02-18', good: '3' }, [bank]: { good: 'many' } } }
    const wrong = await recorder.post(typing(), sheet)
    expect(wrong.status).toBe(422)
    expect(wrong.text).toContain(`<p class="wrong" id="wrong-labelled-${bank}-good">This is no weight.`)
    sheet.labelled[bank] = { good: '4' }
    for (let sent = 0; sent < 2; sent++) expect((await recorder.post(typing(), sheet)).status).toBe(303)
    const page = (await recorder.get(at('ledger', fresh))).text
    expect([rowOf(page, `label ${lower}`)[1], rowOf(page, `label ${bank}`)[1]]).toEqual(['3.0 kg', '4.0 kg'])
    expect(page.split(`<th scope="row">label ${lower}`)).toHaveLength(2)
  })

  it('a sheet that was opened before the label was drawn is not stored by name', async () => {
    const [lower = ''] = carrots()
    const before = await trial.keeper.get(at('ledger', fresh))
    const answer = await recorder.post(typing(), { id: newId(), weights: { [lower]: { good: '9' } } })
    expect([answer.status, plain(answer.text).includes('has a label since it was opened')]).toEqual([422, true])
    expect((await trial.keeper.get(at('ledger', fresh))).text.split('kg</td>')).toHaveLength(
      before.text.split('kg</td>').length,
    )
  })

  it('losses are typed from the sheet too, by the rules of any loss', async () => {
    const potatoes = plantingOf(trial, 'potato', 'Long')
    const line = { planting: potatoes, day: '', share: '30', cause: 'pest', nextDoor: 'no' }
    const wrong = await recorder.post(typing(), {
      id: newId(),
      losses: { line2: { ...line, share: '130', nextDoor: '' } },
    })
    expect([...wrong.text.matchAll(/id="wrong-losses-line2-([a-zA-Z]+)"/g)].map((found) => found[1])).toEqual([
      'share',
      'nextDoor',
    ])
    const sheet = { id: newId(), losses: { line1: line } }
    for (let sent = 0; sent < 2; sent++) expect((await recorder.post(typing(), sheet)).status).toBe(303)
    const page = (await recorder.get(at('ledger', fresh))).text
    const losses = page.split('<h2 id="losses">')[1]?.split('<h2')[0] ?? ''
    expect(rowOf(losses, 'potato, Heron · Long Bank, Bed 1').slice(1, 4)).toEqual(['30 %', 'pest', '19 February 2026'])
    expect(losses.split('<th scope="row">potato')).toHaveLength(2)
  })
})
