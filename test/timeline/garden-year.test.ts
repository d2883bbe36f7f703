import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { spreadToSowing } from '../../src/timeline/spread-to-sowing.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

describe('the days from spreading to the next sowing, by hand', () => {
  const beds = [{ id: 'a' }, { id: 'b' }]
  const planting = (id: string, bedId: string, sownOn: IsoDate | null, more: object = {}) => ({
    ...{ id, bedId, sownOn, plantedOn: null as IsoDate | null, how: 'direct', ...more },
  })
  const compost = (day: IsoDate, at: { bedId?: string; plantingId?: string } = {}) => ({
    ...{ bedId: at.bedId ?? null, plantingId: at.plantingId ?? null, day, input: 'compost' },
  })
  const found = (
    plantings: readonly ReturnType<typeof planting>[],
    spreadings: readonly ReturnType<typeof compost>[],
  ) => spreadToSowing({ beds, plantings, spreadings }).map(({ planting: { id }, days }) => [id, days])

  it('count to the first planting that comes in, and not to those after it', () => {
    const carrots = [planting('early', 'a', '2025-10-13'), planting('late', 'a', '2026-01-05')] as const
    // 30 September has one day left, then 12 in October.
    expect(found(carrots, [compost('2025-10-01', { bedId: 'a' })])).toEqual([['early', 12]])
    expect(found(carrots, [compost('2025-10-13', { bedId: 'a' })])).toEqual([['early', 0]])
    expect(found(carrots, [compost('2025-10-14', { bedId: 'a' })])).toEqual([['late', 83]])
    expect(found(carrots, [compost('2026-01-06', { bedId: 'a' })])).toEqual([])
  })

  it('what went over the whole garden counts bed by bed, with all that came in on one day', () => {
    const sown = [
      planting('one', 'a', '2025-10-11'),
      planting('two', 'a', '2025-10-11'),
      planting('b', 'b', '2025-11-01'),
    ] as const
    expect(found(sown, [compost('2025-10-01')])).toEqual([
      ['one', 10],
      ['two', 10],
      ['b', 31],
    ])
  })

  it('of the same thing spread twice before one sowing the later counts', () => {
    const sown = [planting('one', 'a', '2025-10-11')] as const
    expect(found(sown, [compost('2024-10-01'), compost('2025-10-01')])).toEqual([['one', 10]])
    const lime = { ...compost('2025-09-01'), input: 'lime' } as const
    expect(found(sown, [lime, compost('2025-10-01')])).toEqual([
      ['one', 40],
      ['one', 10],
    ])
  })

  it('what was raised elsewhere comes in on the day it is planted out', () => {
    const leeks = planting('leeks', 'a', '2025-08-20', { how: 'transplanted', plantedOn: '2025-11-20' })
    expect(found([leeks], [compost('2025-11-01', { bedId: 'a' })])).toEqual([['leeks', 19]])
  })

  it('what was spread for one planting waits for that one, and feeding what stands is no waiting', () => {
    const two = [planting('first', 'a', '2025-10-05'), planting('own', 'a', '2025-10-20')] as const
    expect(found(two, [compost('2025-10-01', { plantingId: 'own' })])).toEqual([['own', 19]])
    expect(found(two, [compost('2025-10-21', { plantingId: 'own' })])).toEqual([])
  })
})

describe('a garden’s year on its page', () => {
  let place: Place
  let trial: Trial
  let garden: string
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
    garden = `${trial.base}/gardens/${trial.gardens.lower}`
    await writeAYear(trial, garden)
  })
  afterAll(() => place.close())

  const entries = (html: string) =>
    [...(/<dl class="days">(.*?)<\/dl>/s.exec(html)?.[1]?.matchAll(/<dd>(.*?)<\/dd>/gs) ?? [])].map((one) =>
      plain(one[1] ?? ''),
    )
  const shown = async (query = '') => entries((await trial.keeper.get(`${garden}${query}`)).text)

  it('tells what was spread, sown, seen, counted, tested and picked, in the order of the days', async () => {
    expect(await shown('?season=all')).toEqual([
      'Soil sampled in the whole garden: P 22.5 mg/L by Olsen, 0 to 15 cm (Harbour laboratory).',
      'Soil sampled over the whole site: pH 6.1 by water (Harbour laboratory).',
      'Spread on Bed 1: 0.5 m3 of Green compost.',
      'Sown in Bed 1: carrot, Kestrel, 4.0 m².',
      'Sown in Bed 1: potato, Heron, 4.0 m².',
      'carrot, Kestrel came into Bed 1, 12 days after Green compost was spread there.',
      'potato, Heron came into Bed 1, 12 days after Green compost was spread there.',
      'Seen in Bed 1 (germination, severity 3 of 5): Carrots up in patches.',
      'Counted in the whole garden: earthworms, 7 worms (one spade).',
      'Patch of couch grass in Bed 1: 0.5 m², 40 shoots per m².',
      'Picked in Bed 1 in week 2026-W05: carrot, Kestrel, 4.5 kg marketable, 0.5 kg not.',
      'Picked in Bed 1 in week 2026-W06: carrot, Kestrel, 1.0 kg marketable.',
    ])
  })

  it('adds a week’s weighings up, a crate by its rule, and leaves other gardens out', async () => {
    const crate = { id: newId(), harvestedOn: '2026-02-10', marketable: '3', shareRule: 'given', pieces: '' } as const
    const [here, there] = [plantingOf(trial, 'carrot', 'Lower'), plantingOf(trial, 'carrot', 'Long')]
    const shares = { [here]: '1', [there]: '2' }
    const sent = { ...crate, plantingIds: [here, there], shares }
    expect((await trial.keeper.post(`${trial.base}/weeks/2026-W07/shared-harvests`, sent)).status).toBe(303)
    expect((await shown('?kind=picked')).at(-1)).toBe(
      'Picked in Bed 1 in week 2026-W07: carrot, Kestrel, 1.0 kg marketable.',
    )
  })

  it('shows one kind, and the days of one season, as the address asks', async () => {
    expect(await shown('?kind=timing')).toHaveLength(2)
    expect(await shown('?kind=counted')).toHaveLength(2)
    expect(await shown(`?kind=tested&season=${trial.season}`)).toEqual([
      'Soil sampled over the whole site: pH 6.1 by water (Harbour laboratory).',
    ])
    // The sample of June lies before every season: it is shown where all days are.
    expect(await shown()).toEqual((await shown('?season=all')).slice(1))
    const page = await trial.keeper.get(`${garden}?kind=lost&season=all`)
    expect(plain(page.text)).toContain('Nothing of this kind is written down for these days.')
    expect(page.text).toContain('<option value="lost" selected>')
    for (const foreign of ['?kind=gossip', `?season=${newId()}`]) {
      expect((await trial.keeper.get(`${garden}${foreign}`)).status).toBe(404)
      expect((await trial.keeper.get(`${garden}.json${foreign}`)).status).toBe(404)
    }
  })

  it('gives the same as JSON, in whole units', async () => {
    const told = await trial.keeper.json<{ events: object[]; beds: { id: string; name: string }[] }>(
      `${garden}.json?kind=picked&season=${trial.season}`,
    )
    const bedId = told.beds.find((bed) => bed.name === 'Bed 1')?.id
    expect(told.events[0]).toEqual({
      ...{ what: 'picked', date: '2026-01-30', bedId, subject: 'carrot, Kestrel' },
      ...{ isoWeek: '2026-W05', marketableG: 4500, unmarketableG: 500, planned: false },
    })
    const timing = await trial.keeper.json<{ events: object[] }>(`${garden}.json?kind=timing`)
    expect(timing.events[0]).toMatchObject({ what: 'sownAfter', days: 12, after: 'Green compost' })
    const stranger = await place.keeper()
    expect((await stranger.get(`${garden}.json`)).status).toBe(404)
  })

  it('tells the cause of a loss and what a bed was covered with', async () => {
    const loss = {
      id: newId(),
      plantingId: plantingOf(trial, 'potato', 'Lower'),
      lostOn: '2026-02-11',
      percent: '40',
    } as const
    const why = { cause: 'water', outside: 'no', alsoNextDoor: 'no' }
    expect((await trial.keeper.post(`${trial.base}/weeks/2026-W07/losses`, { ...loss, ...why })).status).toBe(303)
    expect(await shown('?kind=lost')).toEqual([
      'Lost in Bed 1: 40 % of what stood of potato, Heron (too wet or too dry).',
    ])
    const bedId = choicesIn((await trial.keeper.get(garden)).text)('bedId')['Bed 2']
    const cover = {
      id: newId(),
      bedId,
      fromDay: '2026-02-12',
      toDay: '',
      why: 'couch grass',
      material: 'black sheet',
    } as const
    expect((await trial.keeper.post(`${garden}/closures`, cover)).status).toBe(303)
    await trial.keeper.post(`${garden}/closures`, { ...cover, id: newId(), fromDay: '2026-03-12', material: '' })
    expect(await shown('?kind=covered&season=all')).toEqual([
      'Bed 2 covered with black sheet: couch grass.',
      'Bed 2 covered: couch grass.',
    ])
  })

  it('tells what is still to come as planned', async () => {
    const year = { id: newId(), name: 'far ahead', startsOn: '2098-08-01', endsOn: '2099-05-31' } as const
    await trial.keeper.post(`${trial.base}/seasons`, year)
    const season = `${trial.base}/seasons/${year.id}`
    const choices = choicesIn((await trial.keeper.get(season)).text)
    const beds = { [trial.gardens.lower ?? '']: choices(`beds[${trial.gardens.lower}]`)['Bed 2'] ?? '' }
    const leek = { id: newId(), cropId: choices('cropId').leek, cultivar: 'Smew', areaCm2: '2', how: 'transplanted' }
    const days = { sownOn: '2098-09-01', plantedOn: '2098-12-03', purpose: 'harvest' } as const
    expect((await trial.keeper.post(`${season}/plantings`, { ...leek, ...days, beds })).status).toBe(303)
    const bedId = choicesIn((await trial.keeper.get(garden)).text)('bedId')['Bed 2']
    const cover = {
      id: newId(),
      bedId,
      fromDay: '2098-10-01',
      toDay: '2098-11-01',
      why: 'rest',
      material: 'straw',
    } as const
    expect((await trial.keeper.post(`${garden}/closures`, cover)).status).toBe(303)
    expect(await shown(`?season=${year.id}`)).toEqual([
      'To be sown for Bed 2: leek, Smew, 2.0 m².',
      'Bed 2 is to be covered with straw: rest.',
      'Bed 2 is to be uncovered.',
      'To be planted in Bed 2: leek, Smew, 2.0 m².',
    ])
    // Without a season in the address the page opens at the latest in which something happened.
    expect((await shown()).some((line) => line.includes('To be'))).toBe(false)
    const told = await trial.keeper.json<{ events: { planned: boolean }[] }>(`${garden}.json?season=${year.id}`)
    expect(told.events.map((one) => one.planned)).toEqual([true, true, true, true])
  })
})

/** Carrots and potatoes stand since 1 October 2025 in Bed 1 of Lower Terrace. */
async function writeAYear({ keeper, base, gardens, plantings, ...trial }: Trial, garden: string): Promise<void> {
  const saved = async (address: string, fields: Record<string, unknown>) =>
    expect([address, (await keeper.post(`${base}/${address}`, { id: newId(), ...fields })).status]).toEqual([
      address,
      303,
    ])
  const bed = `bed:${choicesIn((await keeper.get(garden)).text)('bedId')['Bed 1']}`
  const lower = `garden:${gardens.lower}`
  const sites = choicesIn((await keeper.get(`${base}/soil`)).text)('place')
  const site = Object.entries(sites).find(([label]) => label.includes('the whole site'))?.[1]
  const lab = { laboratory: 'Harbour laboratory', lowUnder: '', highFrom: '' }
  const phosphorus = { analyte: 'P', extractant: 'Olsen', value: '22.5', unit: 'mg/L', depthMm: '15 cm' }
  await saved('soil', { ...lab, ...phosphorus, place: lower, sampledOn: '2025-06-05' })
  const acidity = { analyte: 'pH', extractant: 'water', value: '6.1', unit: 'pH', depthMm: '' }
  await saved('soil', { ...lab, ...acidity, place: site, sampledOn: '2025-08-05' })
  const compost = { name: 'Green compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '3' }
  const load = {
    id: newId(),
    deliveredOn: '2025-09-01',
    quantityThousandths: '2',
    priceMinor: '100',
    supplier: '',
  } as const
  await saved('inputs/deliveries', { ...compost, ...load, deliveryPriceMinor: '' })
  const spread = {
    deliveryId: load.id,
    place: bed,
    appliedOn: '2025-09-19',
    quantityThousandths: '0,5',
    phase: 'established',
    seasonId: trial.season,
  } as const
  await saved('inputs/spreadings', spread)
  const seen = { kind: 'germination', severity: '3', words: 'Carrots up in patches.' }
  await saved('notes/notes', { ...seen, place: bed, seenOn: '2025-10-20' })
  const worms = { what: 'earthworms', otherWhat: '', otherUnit: '', method: 'one spade', value: '7', outOf: '' }
  await saved('notes/counts', { ...worms, place: lower, countedOn: '2025-10-21' })
  const couch = { species: 'couch grass', areaCm2: '0,5', shootsPerM2: '40', position: '' }
  await saved('notes/patches', { ...couch, place: bed, seenOn: '2025-11-01' })
  const [here, there] = ['Lower', 'Long'].map((at) => plantingOf({ plantings } as Trial, 'carrot', at))
  const weighed = (week: string, fields: Record<string, string | undefined>) =>
    saved(`weeks/${week}/harvests`, { unmarketable: '', why: '', pieces: '', ...fields })
  const bad = { unmarketable: '0,5', why: 'split' }
  await weighed('2026-W05', { plantingId: here, harvestedOn: '2026-01-28', marketable: '2,5', ...bad })
  await weighed('2026-W05', { plantingId: here, harvestedOn: '2026-01-30', marketable: '2' })
  await weighed('2026-W06', { plantingId: here, harvestedOn: '2026-02-04', marketable: '1' })
  await weighed('2026-W05', { plantingId: there, harvestedOn: '2026-01-29', marketable: '9' })
}
