import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { cutNumber } from '../../src/diary/cuts.ts'
import { shrinkage } from '../../src/diary/state.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

it('cuts are numbered by their days, and a lot lost what it weighs less', () => {
  expect(['2026-01-28', '2026-02-11', '2026-03-01'].map((day) => cutNumber(['2026-02-11', '2026-01-28'], day))).toEqual(
    [...[1, 2, null]],
  )
  expect([shrinkage(5000, 3500), shrinkage(0, 0)]).toEqual([300, null])
})

describe('carrots that count dried', () => {
  let place: Place
  let trial: Trial
  let carrot: string
  let potato: string
  const fresh = newId()
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
    carrot = plantingOf(trial, 'carrot', 'Lower')
    potato = plantingOf(trial, 'potato', 'Lower')
    await correctCrop('carrot', { weighedAs: 'dried' })
  })
  afterAll(() => place.close())

  const versionIn = (html: string) => /name="version" value="(\d+)"/.exec(html)?.[1] ?? ''
  const choicesOf = async () => choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
  const correctCrop = async (name: string, more: Record<string, string>) => {
    const page = `${trial.base}/correct/crops/${(await choicesOf())('cropId')[name]}`
    const given = { version: versionIn((await trial.keeper.get(page)).text), name, family: '', touchesSoil: 'yes' }
    expect((await trial.keeper.post(page, { ...given, source: '', ...more })).status).toBe(303)
  }
  const weigh = (week: string, fields: Record<string, string>) =>
    trial.keeper.post(`${trial.base}/weeks/${week}/harvests`, { id: newId(), plantingId: carrot, ...fields })
  const clear = (plantingId: string, clearedOn: string) =>
    trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, { plantingId, clearedOn })
  const ledger = async (week: string) => plain((await trial.keeper.get(`${trial.base}/weeks/${week}/ledger`)).text)
  const grams = async () => {
    const { text } = await trial.keeper.get(`${trial.base}/compare.json?season=${trial.season}`)
    const { methods } = JSON.parse(text) as { methods: { totals: { marketableG: number; entries: number } }[] }
    return [methods[0]?.totals.marketableG, methods[0]?.totals.entries]
  }

  it('a weight in another state is shown and not added; one for a cleared planting is listed as still to come', async () => {
    const lifted = { id: fresh, harvestedOn: '2026-01-28', marketable: '5', state: 'fresh' }
    expect((await weigh('2026-W05', lifted)).status).toBe(303)
    expect(await grams()).toEqual([0, 0])
    expect(await ledger('2026-W05')).toContain('fresh from the bed: shown, and not added to the yield')
    expect((await clear(carrot, '2026-01-28')).status).toBe(303)
    expect(await ledger('2026-W09')).toMatch(/Cleared, and their weight is still to come carrot, Kestrel/)
    const labels = plain((await trial.keeper.get(`${trial.base}/weeks/2026-W09/labels`)).text)
    expect(labels).toContain('carrot, Kestrel')
  })

  it('dried, the same lot counts, and what it lost is said', async () => {
    const dried = { harvestedOn: '2026-02-25', liftedOn: '2026-01-28', marketable: '3.5', sameLotAs: fresh }
    expect((await weigh('2026-W09', { ...dried, liftedOn: '2026-02-26' })).status).toBe(422)
    const other = await weigh('2026-W09', { ...dried, plantingId: potato })
    expect(plain(other.text)).toContain('That is no earlier weighing of this planting.')
    expect((await weigh('2026-W09', dried)).status).toBe(303)
    expect(await grams()).toEqual([3500, 1])
    const said = await ledger('2026-W09')
    expect(said).toContain('lifted on 28 January 2026')
    expect(said).toMatch(/30(\.0)?\s% less than on 28 January 2026 \(5\S*\skg, fresh from the bed\)/)
    expect(said).not.toContain('Cleared, and their weight is still to come')
  })

  it('fresh from the bed is not weighed after clearing, but for what was lifted before', async () => {
    expect((await clear(potato, '2026-01-28')).status).toBe(303)
    const late = { plantingId: potato, harvestedOn: '2026-02-11', marketable: '1' }
    expect((await weigh('2026-W07', late)).status).toBe(422)
    expect((await weigh('2026-W07', { ...late, liftedOn: '2026-01-28' })).status).toBe(303)
    const out = { plantingId: potato, harvestedOn: '2026-03-11', marketable: '0.8', state: 'from store' }
    expect((await weigh('2026-W11', out)).status).toBe(303)
    expect(await grams()).toEqual([4500, 2])
  })

  it('another state of the crop counts in open seasons, and moves no closed one', async () => {
    await correctCrop('carrot', { weighedAs: '' })
    expect(await grams()).toEqual([6000, 2])
    await correctCrop('carrot', { weighedAs: 'dried' })
    expect(await grams()).toEqual([4500, 2])
    const closing = `${trial.base}/seasons/${trial.season}/close`
    const version = versionIn((await trial.keeper.get(closing)).text)
    expect((await trial.keeper.post(closing, { version })).status).toBe(303)
    await correctCrop('carrot', { weighedAs: '' })
    expect(await grams()).toEqual([4500, 2])
    const store = { harvestedOn: '2026-06-10', marketable: '2', state: 'from store' }
    expect((await weigh('2026-W24', store)).status).toBe(303)
    expect(await grams()).toEqual([4500, 2])
    expect(plain((await trial.keeper.get(closing)).text)).toContain('Nothing has been changed since.')
    await trial.keeper.post(`${trial.base}/seasons/${trial.season}/reopen`, { version: String(Number(version) + 1) })
  })

  it('seed that was saved is a harvest of its own, tied to the planting that sows its lot', async () => {
    const seed = { plantingId: potato, harvestedOn: '2026-03-11', marketable: '0.2', state: 'seed' }
    expect(plain((await weigh('2026-W11', seed)).text)).toContain('Say what the lot of this seed is called')
    expect((await weigh('2026-W11', { ...seed, seedLot: 'Heron 26' })).status).toBe(303)
    expect(await grams()).toEqual([4500, 2])
    const choices = await choicesOf()
    const [garden = ''] = Object.values(trial.gardens)
    const bed = choices(`beds[${garden}]`)['Bed 2'] ?? ''
    const planted = {
      cropId: choices('cropId').potato,
      cultivar: 'Heron',
      areaCm2: '2',
      how: 'direct',
      purpose: 'harvest',
    }
    const sown = { id: newId(), ...planted, sownOn: '2026-04-20', seedLot: 'heron 26', beds: { [garden]: bed } }
    expect((await trial.keeper.post(`${trial.base}/seasons/${trial.season}/plantings`, sown)).status).toBe(303)
    const page = plain((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
    expect(page).toContain('seed lot heron 26 saved from potato, Heron on 11 March 2026')
  })

  it('cuts of what grows again are numbered on the week and in the file of rows', async () => {
    await correctCrop('potato', { regrows: 'yes' })
    const other = plantingOf(trial, 'potato', 'Long')
    for (const [week, harvestedOn] of [
      ['2026-W05', '2026-01-28'],
      ['2026-W07', '2026-02-11'],
    ] as const) {
      expect((await weigh(week, { plantingId: other, harvestedOn, marketable: '1' })).status).toBe(303)
    }
    expect(await ledger('2026-W05')).toContain('cut 1')
    expect(await ledger('2026-W07')).toContain('cut 2')
    const compare = await trial.keeper.get(`${trial.base}/compare.json?season=${trial.season}`)
    const methodId = /"methodId":"([^"]+)","method":"Compost mulch"/.exec(compare.text)?.[1]
    const rows = await trial.keeper.get(
      `${trial.base}/compare/rows.csv?season=${trial.season}&method=${methodId}&table=weighings`,
    )
    expect(rows.text.split('\n').map((line) => line.trim().split(',').at(-1))).toEqual(['cut', '1', '2', ''])
  })
})
