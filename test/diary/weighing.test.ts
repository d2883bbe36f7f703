import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { drawLabels, mostLabels } from '../../src/diary/crate-label.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

describe('labels that are drawn', () => {
  it('are two letters and a digit, none twice, none taken, and the same for the same seed', () => {
    const drawn = drawLabels(200, new Set(), chanceFrom(7))
    expect(new Set(drawn).size).toBe(200)
    expect(drawn.filter((label) => !/^[A-Z]{2}[2-9]$/.test(label))).toEqual([])
    expect(drawLabels(200, new Set(), chanceFrom(7))).toEqual(drawn)
    expect(drawLabels(200, new Set(), chanceFrom(8))).not.toEqual(drawn)
    const more = drawLabels(200, new Set(drawn), chanceFrom(7))
    expect(more.filter((label) => drawn.includes(label))).toEqual([])
  })

  it('end where none is left', () => {
    const all = drawLabels(mostLabels, new Set(), chanceFrom(1))
    expect(all).toHaveLength(mostLabels)
    expect(drawLabels(3, new Set(all.slice(1)), chanceFrom(2))).toEqual([all[0]])
  })
})

let place: Place
let trial: Trial
let recorder: Client
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  recorder = await place.joined(trial.keeper, 'recorder')
})
afterAll(() => place.close())

const weekPage = async (client: Client, week: string) => (await client.get(`${trial.base}/weeks/${week}/ledger`)).text

describe('weighing without knowing which planting it is', () => {
  const week = '2026-W05'
  const labels = () => `${trial.base}/weeks/${week}/labels`
  const carrots = () => ['Lower', 'Long'].map((garden) => plantingOf(trial, 'carrot', garden))
  const labelOf = async (garden: string) => {
    const row = rowOf((await trial.keeper.get(labels())).text, `${garden}, Bed 1: carrot, Kestrel`)
    return row[1] ?? ''
  }
  const weigh = (fields: Record<string, string>) =>
    recorder.post(`${trial.base}/weeks/${week}/labelled`, {
      ...{ id: newId(), harvestedOn: '2026-01-28', marketable: '', unmarketable: '', why: '', containerId: '' },
      ...fields,
    })

  it('a keeper draws labels for the plantings chosen; the same form again draws nothing more', async () => {
    const drawing = { id: newId(), plantingIds: carrots() }
    expect((await trial.keeper.post(labels(), drawing)).status).toBe(303)
    const first = [await labelOf('Lower Terrace'), await labelOf('Long Bank')]
    expect(new Set(first).size).toBe(2)
    for (const label of first) expect(label).toMatch(/^[A-Z]{2}[2-9]$/)
    expect((await trial.keeper.post(labels(), drawing)).status).toBe(303)
    expect([await labelOf('Lower Terrace'), await labelOf('Long Bank')]).toEqual(first)
    const none = await trial.keeper.post(labels(), { id: newId() })
    expect([none.status, plain(none.text).includes('Choose one planting or more.')]).toEqual([422, true])
    const foreign = await trial.keeper.post(labels(), { id: newId(), plantingIds: [newId()] })
    expect(foreign.status).toBe(422)
    expect((await recorder.get(labels())).status).toBe(403)
  })

  it('a weight goes under the label by the rules of any weight, and the week tells no planting', async () => {
    const label = await labelOf('Lower Terrace')
    expect(plain((await weigh({ label: 'QQ1', marketable: '2' })).text)).toContain(
      'No crate of this week has this label',
    )
    const much = await weigh({ label, marketable: '500' })
    expect(much.status).toBe(422)
    expect(plain(much.text)).toContain('That is a great deal for what this label stands on')
    expect(plain(/role="alert">[^<]*/.exec(much.text)?.[0] ?? '')).not.toContain('carrot')
    expect((await weigh({ label, harvestedOn: '2026-02-20', marketable: '2' })).status).toBe(422)
    const good = { id: newId(), label: label.toLowerCase(), marketable: '2,5', unmarketable: '300 g', why: 'small' }
    for (const _ of [1, 2]) expect((await weigh(good)).status).toBe(303)
    for (const client of [recorder, trial.keeper]) {
      const page = await weekPage(client, week)
      expect(rowOf(page, `label ${label}`).slice(1, 4)).toEqual(['2.5 kg', '0.3 kg', 'small'])
      expect(rowOf(page, 'carrot, Kestrel · Lower Terrace, Bed 1')).toEqual([])
      expect(page.split(`label ${label}</th>`)).toHaveLength(2)
      // Carrots stand in one matched set: naming what is not weighed yet in the other garden would tell the label's crop.
      expect(plain(page)).not.toContain('not yet weighed in another')
      const choices = page.split('name="plantingId"')[1]?.split('</select>')[0] ?? ''
      expect([choices.includes('potato'), choices.includes('carrot')]).toEqual([true, false])
    }
    const after = await weekPage(recorder, '2026-W06')
    expect(plain(after)).not.toContain('the week before 2.5 kg')
  })

  it('a planting with a label is weighed by its label only', async () => {
    const byName = { id: newId(), plantingId: carrots()[0], harvestedOn: '2026-01-28', marketable: '1' }
    const answer = await recorder.post(`${trial.base}/weeks/${week}/harvests`, byName)
    expect([answer.status, plain(answer.text).includes('write its weight down under the label')]).toEqual([422, true])
    const crate = { ...byName, id: newId(), plantingIds: carrots(), shareRule: 'area' }
    expect((await recorder.post(`${trial.base}/weeks/${week}/shared-harvests`, crate)).status).toBe(422)
  })

  it('nor do its twins in other gardens tell it', async () => {
    // Only the potatoes of Lower Terrace have a label; those of Long Bank stand in the same matched set without one.
    const potatoes = { id: newId(), plantingIds: [plantingOf(trial, 'potato', 'Lower')] }
    expect((await trial.keeper.post(labels(), potatoes)).status).toBe(303)
    const row = rowOf((await trial.keeper.get(labels())).text, 'Lower Terrace, Bed 1: potato, Heron')
    expect((await weigh({ label: row[1] ?? '', marketable: '1' })).status).toBe(303)
    expect(plain(await weekPage(recorder, week))).not.toContain('not yet weighed in another')
    const named = {
      id: newId(),
      plantingId: plantingOf(trial, 'potato', 'Long'),
      harvestedOn: '2026-01-28',
      marketable: '1',
    }
    expect((await recorder.post(`${trial.base}/weeks/${week}/harvests`, named)).status).toBe(303)
    expect(plain(await weekPage(recorder, week))).not.toContain('not yet weighed in another')
  })

  it('a label that was put on by mistake is taken off, with a reason, and its planting weighed by name', async () => {
    const other = `${trial.base}/weeks/2026-W07`
    const mistaken = { id: newId(), plantingIds: [plantingOf(trial, 'potato', 'Long')] }
    expect((await trial.keeper.post(`${other}/labels`, mistaken)).status).toBe(303)
    const page = (await trial.keeper.get(`${other}/labels`)).text
    const label = rowOf(page, 'Long Bank, Bed 1: potato, Heron')[1] ?? ''
    const weighed = { id: newId(), label, harvestedOn: '2026-02-11', marketable: '1' }
    expect((await recorder.post(`${other}/labelled`, weighed)).status).toBe(303)
    const off = { label: choicesIn(page)('label')[label] ?? '', reason: 'Wrong crate' }
    expect((await trial.keeper.post(`${other}/labels/removals`, { ...off, reason: '' })).status).toBe(422)
    expect((await trial.keeper.post(`${labels()}/removals`, off)).status).toBe(422)
    expect((await trial.keeper.post(`${other}/labels/removals`, off)).status).toBe(303)
    expect((await trial.keeper.post(`${other}/labels/removals`, off)).status).toBe(422)
    expect(rowOf((await trial.keeper.get(`${other}/labels`)).text, 'Long Bank, Bed 1: potato, Heron')).toEqual([])
    expect(rowOf(await weekPage(recorder, '2026-W07'), 'potato, Heron · Long Bank, Bed 1')[1]).toBe('1.0 kg')
  })

  it('the labels of a garden are opened when its weights are closed, and sealed again when they are reopened', async () => {
    const close = { gardenId: trial.gardens.lower, what: 'weights' }
    const [lower, bank] = [await labelOf('Lower Terrace'), await labelOf('Long Bank')]
    expect((await weigh({ label: bank, marketable: '4' })).status).toBe(303)
    await trial.keeper.post(`${trial.base}/weeks/${week}/closings`, close)
    const page = await weekPage(recorder, week)
    expect(rowOf(page, 'carrot, Kestrel · Lower Terrace, Bed 1')[1]).toBe('2.5 kg')
    expect(rowOf(page, `label ${bank}`)[1]).toBe('4.0 kg')
    expect(plain((await weigh({ label: lower, marketable: '1' })).text)).toContain(
      'This week is closed for that garden',
    )
    expect(rowOf((await trial.keeper.get(labels())).text, 'Lower Terrace, Bed 1: carrot, Kestrel')[2]).toContain(
      'opened',
    )
    await trial.keeper.post(`${trial.base}/weeks/${week}/reopenings`, { ...close, reason: 'One crate is missing' })
    expect(rowOf(await weekPage(recorder, week), `label ${lower}`)[1]).toBe('2.5 kg')
  })
})
