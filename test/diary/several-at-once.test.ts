import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
const compost = newId()
let beds: Record<string, string> = {}
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
  await trial.keeper.post(`${trial.base}/inputs/deliveries`, {
    ...{ id: compost, name: 'Compost', kind: 'compost', unit: 'm3', quantityThousandths: '2', ownMade: 'bought' },
    ...{ usefulLifeSeasons: '1', deliveredOn: '2025-10-08', orderedOn: '' },
  })
  const page = (await trial.keeper.get(at())).text
  const named = page.matchAll(/value="(bed:[^"]+)">([^<]+, Bed \d)</g)
  beds = Object.fromEntries([...named].map((found) => [plain(found[2] ?? ''), found[1] ?? '']))
})
afterAll(() => place.close())

const at = (week = '05') => `${trial.base}/weeks/2026-W${week}`
const send = (sheet: object, week?: string) =>
  trial.keeper.post(at(week), { id: newId(), day: '2026-01-28', to: 'save', ...sheet })
const carrot = (garden: string) => plantingOf(trial, 'carrot', garden)
const potato = (garden: string) => plantingOf(trial, 'potato', garden)
const losses = async () => (await trial.keeper.get(at())).text.match(/correct\/losses\//g)?.length ?? 0
const spreadings = async () => {
  const { text } = await trial.keeper.get(`${trial.base}/inputs`)
  return [...text.matchAll(/correct\/applications\/[^"]+/g)].length
}

const pageAfter = async ({ location }: { location: string }) => (await trial.keeper.get(location)).text

/** Presses the button beside the notice of the page that a save led to. */
async function takeBack(text: string): Promise<void> {
  const form = text.split('/undo"')[1]?.split('</form>')[0] ?? ''
  const fields = [...form.matchAll(/name="(first|last|back)" value="([^"]+)"/g)].map((one) => [one[1], one[2]])
  expect((await trial.keeper.post(`${trial.base}/undo`, Object.fromEntries(fields))).status).toBe(303)
}

describe('several at once', () => {
  it('one loss over many is a row each, stored once, and taken back by one button', async () => {
    const hail = { plantings: [carrot('Lower'), carrot('Long'), potato('Long')], percent: '30', cause: 'weather' }
    const sheet = { id: newId(), many: hail }
    const saved = await send(sheet)
    expect(saved.status).toBe(303)
    expect((await send(sheet)).status).toBe(303)
    expect(await losses()).toBe(3)
    const again = { id: newId(), many: { ...hail, percent: '10' } }
    await takeBack(await pageAfter(await send(again)))
    expect(await losses()).toBe(3)
  })

  it('comes back whole, with what was ticked, where one of them is not right', async () => {
    const before = await losses()
    const many = { plantings: [carrot('Lower'), newId()], percent: '30', cause: 'weather' }
    const refused = await send({ many })
    expect(refused.status).toBe(422)
    expect(refused.text).toContain(`value="${carrot('Lower')}" checked`)
    expect(await losses()).toBe(before)
    const nothing = await send({ many: { plantings: [carrot('Lower')], percent: '30', cause: 'bad luck' } })
    expect(plain(nothing.text)).toContain('Say the cause by one of the words of the list.')
  })

  it('many are cleared on one day, and stand again by one button; never before what was weighed of them', async () => {
    expect((await send({ w: { [carrot('Lower')]: { good: '2' } }, day: '2026-01-30' })).status).toBe(303)
    const early = await send({ many: { plantings: [potato('Lower'), carrot('Lower')], cleared: 'yes' } })
    expect(plain(early.text)).toContain('carrot: Something was weighed or lost of it on a later day')
    // What is cleared can still be weighed, and is no longer offered where something was lost or cleared.
    const stands = async () =>
      (await trial.keeper.get(at('08'))).text.match(/name="many\[plantings\]\[\]"/g)?.length ?? 0
    const all = await stands()
    expect(all).toBe(4)
    const both = { plantings: [potato('Lower'), potato('Long')], cleared: 'yes', day: '2026-01-29' }
    const cleared = await send({ many: both })
    expect(cleared.status).toBe(303)
    expect(plain((await trial.keeper.get(at())).text)).toContain('2 cleared')
    expect(await stands()).toBe(2)
    const again = await send({ many: both })
    expect(again.status).toBe(303)
  })

  it('one load goes over many beds by their area, adds up exactly, and is one undo', async () => {
    const over = [beds['Lower Terrace, Bed 1'], beds['Lower Terrace, Bed 2'], beds['Long Bank, Bed 1']]
    const saved = await send({ spread: { load: compost, quantity: '1', over } })
    expect(saved.status).toBe(303)
    // 10, 10 and 15 m2 of bed: a cubic metre goes as 0.286, 0.286 and 0.428.
    const after = await pageAfter(saved)
    const inputs = plain((await trial.keeper.get(`${trial.base}/inputs`)).text)
    expect(inputs).toContain('Compost: 2 m3 came, 1 m3 of it spread, 1 m3 left.')
    expect([...inputs.matchAll(/28 January 2026 (0\.\d+) m3/g)].map((one) => one[1])).toEqual(['0.29', '0.29', '0.43'])
    expect(await spreadings()).toBe(3)
    await takeBack(after)
    expect(await spreadings()).toBe(0)
    const twice = await send({ spread: { load: compost, quantity: '1', place: `garden:${trial.gardens.lower}`, over } })
    expect(plain(twice.text)).toContain('Choose each bed once')
    const much = await send({ spread: { load: compost, quantity: '2.5', over } })
    expect(much.status).toBe(422)
    expect(await spreadings()).toBe(0)
  })
})
