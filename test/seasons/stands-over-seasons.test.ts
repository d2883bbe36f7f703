import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { seasonsStood } from '../../src/seasons/seasons-stood.ts'
import { openPlace, type Place } from '../support/app.ts'
import { aDay } from '../support/calendar.ts'
import { plain } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

describe('the seasons that a planting counts in', () => {
  const seasons = ['2026', '2027', '2028', '2029'].map((id) => ({ id, startsOn: aDay(`${id}-01-01`) }))
  const planted = { seasonId: '2027', standsOverSeasons: 1, establishingSeasons: 2, clearedOn: null }
  const stood = (of: Partial<typeof planted> & { clearedOn?: string | null }) =>
    seasonsStood({ ...planted, ...of }, seasons).map((one) => `${one.seasonId}${one.establishing ? ' not yet' : ''}`)

  it.each([
    ['its own alone', { standsOverSeasons: 0, establishingSeasons: null }, ['2027']],
    ['each from its first on, and it does not bear in the first two', {}, ['2027 not yet', '2028 not yet', '2029']],
    ['those that began before it was cleared', { clearedOn: '2028-02-01' }, ['2027 not yet', '2028 not yet']],
    ['it bears at once where nothing is said', { establishingSeasons: null }, ['2027', '2028', '2029']],
  ])('%s', (_name, of, found) => {
    expect(stood(of as Partial<typeof planted>)).toEqual(found)
  })
})

describe('asparagus in both gardens', () => {
  let place: Place
  let trial: Trial
  const [next, asparagus] = [newId(), newId()]
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
    await post('seasons', { id: next, name: '2026/27', startsOn: aDay('2026-06-01'), endsOn: '2027-05-31' })
    for (const garden of Object.values(trial.gardens)) {
      const methods = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${next}`)).text)('methodId')
      const methodId = methods[garden === trial.gardens.lower ? 'Dug every spring' : 'Compost mulch']
      const laid = { methodId, phase: 'established', yearOfMethod: '4', how: 'choice' }
      await post(`seasons/${next}/assignments`, { place: `garden:${garden}`, ...laid })
    }
  })
  afterAll(() => place.close())

  const post = (path: string, fields: Record<string, unknown>) =>
    trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
  const figures = (season: string) => trial.keeper.get(`${trial.base}/compare.json?season=${season}`)
  const totalsOf = async (season: string) => {
    const { methods } = JSON.parse((await figures(season)).text) as {
      methods: { method: string; totals: Record<string, number> }[]
    }
    return Object.fromEntries(methods.map((one) => [one.method, one.totals]))
  }
  const planting = async (season: string, garden: string) => {
    const week = season === next ? '2026-W28' : '2026-W18'
    const choices = choicesIn((await trial.keeper.get(`${trial.base}/weeks/${week}/ledger`)).text)('plantingId')
    return Object.entries(choices).find(([label]) => label.includes('asparagus') && label.includes(garden))?.[1] ?? ''
  }

  it('is planted once, and stands in the next season without being carried over', async () => {
    const choices = choicesIn((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
    const beds = Object.fromEntries(
      Object.values(trial.gardens).map((id) => [id, choices(`beds[${id}]`)['Bed 2'] ?? '']),
    )
    const fields = { id: asparagus, cropId: choices('cropId').asparagus, cultivar: 'Plover', areaCm2: '6', beds }
    const how = { how: 'direct', purpose: 'harvest', plantedOn: '2026-03-20', establishingSeasons: '1' }
    const without = await post(`seasons/${trial.season}/plantings`, { ...fields, ...how })
    expect(without.status).toBe(422)
    expect(plain(without.text)).toContain('Only what stands over seasons has seasons in which it does not bear yet.')
    const answer = await post(`seasons/${trial.season}/plantings`, { ...fields, ...how, standsOverSeasons: 'yes' })
    expect(answer.status).toBe(303)
    const rows = (html: string) => plain(html.split('id="each-planting"')[1] ?? '')
    const first = rows((await trial.keeper.get(`${trial.base}/seasons/${trial.season}`)).text)
    expect(first.match(/asparagus, Plover stands over seasons; it does not bear yet/g)).toHaveLength(2)
    const second = rows((await trial.keeper.get(`${trial.base}/seasons/${next}`)).text)
    expect(
      second.match(/asparagus, Plover stands over seasons Lower|asparagus, Plover stands over seasons Long/g),
    ).toHaveLength(2)
    const carried = plain((await trial.keeper.get(`${trial.base}/seasons/${next}/plan/carried`)).text)
    expect(carried).toContain('asparagus')
  })

  it('has its hours and kilograms by their day, and those of the first year are compared with none', async () => {
    const id = await planting(trial.season, 'Lower')
    const hours = { place: `planting:${id}`, task: 'weeding', time: '1:00' }
    expect((await post('weeks/2026-W18/hours', { ...hours, workedOn: '2026-04-28' })).status).toBe(303)
    expect((await post('weeks/2026-W27/hours', { ...hours, workedOn: '2026-07-01' })).status).toBe(303)
    const cut = { plantingId: id, harvestedOn: '2026-04-29', marketable: '0.4' }
    expect((await post('weeks/2026-W18/harvests', cut)).status).toBe(303)
    const later = { plantingId: id, harvestedOn: '2026-07-02', marketable: '1.8' }
    expect((await post('weeks/2026-W27/harvests', later)).status).toBe(303)
    const [before, after] = [await totalsOf(trial.season), await totalsOf(next)]
    // 4 m2 of carrot and of potato in each garden, and 6 m2 of asparagus; it is alone in the second season.
    expect(before['Dug every spring']).toMatchObject({ marketableG: 400, plantedAreaCm2: 140_000, plantings: 3 })
    expect(before['Dug every spring']).toMatchObject({ minutesWithoutHarvest: 60 })
    expect(after['Dug every spring']).toMatchObject({ marketableG: 1800, plantedAreaCm2: 60_000, plantings: 1 })
    expect(after['Dug every spring']).toMatchObject({ minutesWithoutHarvest: 60, bedAreaCm2: 200_000 })
  })

  it('moves nothing of a closed season when it is cleared later, and that is no change of it', async () => {
    const closing = `${trial.base}/seasons/${trial.season}/close`
    const version = /name="version" value="(\d+)"/.exec((await trial.keeper.get(closing)).text)?.[1]
    expect((await trial.keeper.post(closing, { version })).status).toBe(303)
    const before = (await figures(trial.season)).text
    const id = await planting(next, 'Lower')
    const cleared = await trial.keeper.post(`${trial.base}/seasons/${trial.season}/clearings`, {
      ...{ plantingId: id, clearedOn: '2026-07-20' },
    })
    expect(cleared.status).toBe(303)
    expect((await figures(trial.season)).text).toBe(before)
    const closed = plain((await trial.keeper.get(closing)).text)
    expect(closed).toContain('Nothing has been changed since.')
    expect(closed).not.toContain('asparagus')
  })

  it('counts by the days it stood where it is grubbed up without a picking, whole where it was picked or lost', async () => {
    const id = await planting(next, 'Long')
    const path = `seasons/${trial.season}/clearings`
    expect((await post(path, { plantingId: id, clearedOn: '2026-07-20' })).status).toBe(303)
    // 1 June to 20 July are 50 of 365 days: 6 m2 x 50/365. The other was picked before it went: 6 m2.
    const totals = await totalsOf(next)
    expect(['Compost mulch', 'Dug every spring'].map((method) => totals[method]?.plantedAreaCm2)).toEqual([
      8219, 60_000,
    ])
    const at = `${trial.base}/compare/rows?season=${next}&garden=${trial.gardens.bank}`
    const said = plain((await trial.keeper.get(at)).text)
    expect(said).toContain('0.8219 m² of 6.0 m²: grubbed up without a picking, so it counts by the days it stood')
    const lost = { plantingId: id, lostOn: '2026-07-10', percent: '100', cause: 'weather', outside: 'no' }
    expect((await post('weeks/2026-W28/losses', { ...lost, alsoNextDoor: 'no' })).status).toBe(303)
    expect((await totalsOf(next))['Compost mulch']).toMatchObject({ plantedAreaCm2: 60_000 })
  })

  it('cannot be made a crop of one season once it counts in two', async () => {
    const id = await planting(next, 'Lower')
    const page = `${trial.base}/correct/plantings/${id}`
    const form = (await trial.keeper.get(page)).text
    const version = /name="version" value="(\d+)"/.exec(form)?.[1] ?? ''
    const given = { version, areaCm2: '6', how: 'direct', plantedOn: '2026-03-20', clearedOn: '2026-07-20' }
    const more = { purpose: 'harvest', interplanted: 'no', matchedSetId: asparagus, closedReason: 'looked again' }
    const answer = await trial.keeper.post(page, {
      ...given,
      ...more,
      establishingSeasons: '',
      standsOverSeasons: 'no',
    })
    expect(answer.status).toBe(422)
    expect(plain(answer.text)).toContain('Something of it counts toward a later season.')
  })
})
