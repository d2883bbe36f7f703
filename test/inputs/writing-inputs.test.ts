import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { costOf, partOf, spreadBefore } from '../../src/inputs/load.ts'
import { countedToward } from '../../src/inputs/spreading-rule.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { aDay } from '../support/calendar.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.inputs
let place: Place
let trial: Trial
const load = newId()

const post = (form: string, fields: Record<string, unknown>) =>
  trial.keeper.post(`${trial.base}/inputs/${form}`, { id: newId(), ...fields })
const compost = { name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' }
const deliver = (fields: Record<string, unknown>) => post('deliveries', { ...compost, ...fields })
const spread = (fields: Record<string, unknown>) =>
  post('spreadings', {
    deliveryId: load,
    place: `garden:${trial.gardens.bank}`,
    appliedOn: '2025-09-10',
    seasonId: trial.season,
    phase: 'established',
    ...fields,
  })
const page = async () => (await trial.keeper.get(`${trial.base}/inputs`)).text

beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

it('what is ordered is said to be, comes on a day, and cannot be spread before', async () => {
  const ordered = { id: load, quantityThousandths: '4', orderedOn: '2025-08-02', priceMinor: '300' } as const
  expect((await deliver(ordered)).status).toBe(303)
  const waiting = await page()
  expect(rowOf(waiting, 'Compost bought · Correct Compost').slice(1, 4)).toEqual(['2 August 2025', 'not yet', '4 m3'])
  expect(plain(waiting)).toContain('Compost: 0 m3 came, 0 m3 of it spread, 0 m3 left; 4 m3 ordered and not come yet.')
  expect(plain((await spread({ quantityThousandths: '1' })).text)).toContain(words.notCome)
  const early = await post('arrivals', { deliveryId: load, deliveredOn: '2025-08-01' })
  expect([early.status, plain(early.text)]).toEqual([422, expect.stringContaining(words.beforeOrder)])
  await post('arrivals', { deliveryId: load, deliveredOn: '2025-09-01', priceMinor: '320', quantity: '' })
  const come = rowOf(await page(), 'Compost bought · Correct Compost')
  expect(come.slice(1, 7)).toEqual(['2 August 2025', '1 September 2025', '4 m3', '0 m3', '4 m3', '$320.00'])
})

it('a measure of the group’s own lets a spreading be typed in barrows, and its depth says what it covers and costs', async () => {
  expect(plain((await spread({ quantityThousandths: '12 barrows' })).text)).toContain(words.unknownMeasure('barrows'))
  expect((await post('measures', { name: 'barrow', litres: '85', weight: '' })).status).toBe(303)
  expect(plain((await post('measures', { name: 'Barrow', litres: '90' })).text)).toContain('taken')
  // 12 x 85 L = 1.02 m3; at 34 mm that covers 30 m2, for 320 x 1.02 / 4 = 81.60, that is 2.72 a m2.
  expect((await spread({ quantityThousandths: '12 barrows', depthMm: '3,4 cm' })).status).toBe(303)
  const text = await page()
  expect(rowOf(text, 'Compost').slice(1, 5)).toEqual([
    '10 September 2025',
    '1.02 m3',
    'Long Bank, the whole garden',
    '34 mm covers 30.0 m², $2.72 per m² of it',
  ])
  expect(plain(text)).toContain('Compost: 4 m3 came, 1.02 m3 of it spread, 2.98 m3 left.')
  for (const depthMm of ['0', '-3', '2001', '3 m', '10-20 cm', 'thick', 'NaN', '1e9']) {
    const wrong = await spread({ quantityThousandths: '1', depthMm })
    expect([depthMm, wrong.status]).toEqual([depthMm, 422])
  }
})

it('a depth that covers more ground than there is is asked about and kept', async () => {
  const bed = choicesIn(await page())('place')['Long Bank, Bed 1'] ?? ''
  expect((await spread({ place: bed, quantityThousandths: '1', depthMm: '10', appliedOn: '2025-09-11' })).status).toBe(
    303,
  )
  expect(plain(await page())).toContain(words.depthTooMuch('15.0 m²'))
})

it('a spreading on a planting counts on the bed that it stands in', async () => {
  const planting = plantingOf(trial, 'carrot', 'Long Bank')
  const before = await trial.keeper.json<{ methods: { method: string; totals: { costMinor: number } }[] }>(
    `${trial.base}/compare.json?season=${trial.season}`,
  )
  expect(
    (await spread({ place: `planting:${planting}`, quantityThousandths: '0,5', appliedOn: '2025-11-01' })).status,
  ).toBe(303)
  const text = await page()
  expect(plain(text)).toContain('Long Bank, Bed 1: carrot, Kestrel')
  const after = await trial.keeper.json<typeof before>(`${trial.base}/compare.json?season=${trial.season}`)
  const cost = (of: typeof before) => of.methods.find((one) => one.method === 'Compost mulch')?.totals.costMinor ?? 0
  expect(cost(after) - cost(before)).toBe(4_000)
})

it('an analysis as oxides is kept as elements, and the season says what was carried', async () => {
  const analysed = { name: 'Analysed compost', moisture: '50', densityKgPerM3: '600', basis: 'oxide', source: 'Label' }
  const id = newId()
  await deliver({
    ...analysed,
    id,
    quantityThousandths: '2',
    deliveredOn: '2025-09-02',
    nitrogen: '1,5',
    phosphorus: '1',
  })
  await spread({ deliveryId: id, quantityThousandths: '1', appliedOn: '2025-09-12' })
  const text = await page()
  // 600 kg fresh, 300 kg dry: N 4.5 kg; P2O5 3 kg is P 1.3 kg; K unknown.
  expect(rowOf(text, '2025/26').slice(2)).toEqual([
    '4.5 kg known of 1 of 4 spreadings',
    '1.3 kg known of 1 of 4 spreadings',
    'not known',
  ])
  const link = /correct\/inputs\/([\w-]+)"[^>]*>Correct<span class="unseen"> Analysed/.exec(text)?.[1] ?? ''
  const corrected = await trial.keeper.get(`${trial.base}/correct/inputs/${link}`)
  expect(corrected.text).toMatch(/name="phosphorus" type="text" value="0.4364"/)
})

it('the same figures stand in inputs.json and inputs.csv, in whole small units', async () => {
  const figures = await trial.keeper.json<{ seasons: Record<string, unknown>[]; spreadings: unknown[] }>(
    `${trial.base}/inputs.json`,
  )
  // Of the analysed load 600 kg: 4.5 kg N, and P2O5 of 1 per cent in 300 kg dry as 4364 mg P a kg.
  expect(figures.seasons).toMatchObject([
    {
      season: '2025/26',
      spreadings: 4,
      nitrogenG: 4_500,
      nitrogenKnown: 1,
      phosphorusG: 1_309.2,
      potassiumG: null,
      potassiumKnown: 0,
    },
  ])
  const csv = (await trial.keeper.get(`${trial.base}/inputs.csv?table=spreadings`)).text.trim().split('\r\n')
  expect(csv).toHaveLength(figures.spreadings.length + 1)
  expect(csv[0]).toContain('quantityThousandths')
  expect(csv.find((line) => line.includes('Long Bank,Bed 1,"carrot, Kestrel"'))).toContain(',500,')
  expect((await trial.keeper.get(`${trial.base}/inputs.csv?table=people`)).status).toBe(404)
})

it('the same input in another unit is asked back, and one more analysis goes to the input that is known', async () => {
  const other = await deliver({ unit: 'trailer', quantityThousandths: '2', deliveredOn: '2025-09-03' })
  expect(plain(other.text)).toContain(words.countedIn('m3'))
  expect((await deliver({ unit: 'L', quantityThousandths: '500', deliveredOn: '2025-09-03' })).status).toBe(303)
  expect(plain(await page())).toContain('Compost: 4.50 m3 came')
})

it('manure without its state is asked about, and residues are warned of when hay comes', async () => {
  const manure = { name: 'Cow manure', kind: 'manure', quantityThousandths: '2', deliveredOn: '2025-09-04' } as const
  expect(plain((await deliver(manure)).text)).toContain(words.rawManureMissing)
  expect((await deliver({ ...manure, rawManure: 'partly rotted' })).status).toBe(303)
  expect(plain(await page())).toContain('partly rotted manure')
  const rotted = await deliver({ ...manure, rawManure: 'no' })
  expect([rotted.status, plain(rotted.text)]).toEqual([
    422,
    expect.stringContaining(words.otherState('partly rotted manure')),
  ])
  await deliver({ name: 'Hay', kind: 'mulch', unit: 'bale', quantityThousandths: '2 bales', deliveredOn: '2025-09-04' })
  expect(plain(await page())).toContain(`The delivery is saved. ${words.bioassay}`)
})

it('a heap: what went in, turnings and temperatures by day, and when it was ready', async () => {
  const heapId = newId()
  const started = { id: heapId, name: 'North heap', inputName: 'Own compost', startedOn: '2025-09-01' } as const
  expect((await post('heaps', started)).status).toBe(303)
  const write = (fields: Record<string, unknown>) => post('heap-entries', { heapId, words: '', celsius: '', ...fields })
  expect(plain((await write({ day: '2025-08-01', what: 'turned' })).text)).toContain(catalogue.heaps.beforeStart)
  expect((await write({ day: '2025-09-05', what: 'temperature' })).status).toBe(422)
  await write({ day: '2025-09-05', what: 'temperature', celsius: '62,5' })
  await write({ day: '2025-09-01', what: 'added', words: 'grass and leaves, 4 barrows' })
  const turning = newId()
  await write({ id: turning, day: '2025-09-06', what: 'turned' })
  await write({ id: turning, day: '2025-09-06', what: 'turned' })
  await post('heaps-ready', { heapId, readyOn: '2025-12-01' })
  const text = plain(await page())
  expect(text).toContain(
    'Ready on 1 December 2025. Turned once. Hottest 62.5 °C; between 55 and 77 °C on 1 day of those measured.',
  )
  expect(text).toContain('1 September 2025: added, grass and leaves, 4 barrows 5 September 2025: temperature, 62.5 °C')
})

it('the hours of carrying a load stand beside it', async () => {
  const hours = { id: newId(), place: `garden:${trial.gardens.bank}`, task: 'carrying materials', time: '2 x 1:30' }
  const week = `${trial.base}/weeks/2025-W37`
  const unknown = await trial.keeper.post(`${week}/hours`, { ...hours, workedOn: '2025-09-10', deliveryId: newId() })
  expect(unknown.status).toBe(422)
  const saved = await trial.keeper.post(`${week}/hours`, { ...hours, workedOn: '2025-09-10', deliveryId: load })
  expect(saved.status).toBe(303)
  expect((await trial.keeper.get(week)).text).toContain('Compost, 1 September 2025')
  expect(rowOf(await page(), 'Compost bought · Correct Compost')[9]).toBe('3.00 h')
})

it('deliveries and spreadings are corrected on a page of their own, never below what was spread of them', async () => {
  const address = `${trial.base}/correct/deliveries/${load}`
  const form = (await trial.keeper.get(address)).text
  const version = /name="version" value="(\d+)"/.exec(form)?.[1] ?? ''
  const standing = {
    version,
    orderedOn: '',
    deliveredOn: '2025-09-01',
    deliveryPriceMinor: '',
    priceMinor: '320',
  } as const
  const less = await trial.keeper.post(address, { ...standing, quantityThousandths: '2 m3' })
  expect([less.status, plain(less.text)]).toEqual([422, expect.stringContaining('is spread already')])
  const late = await trial.keeper.post(address, { ...standing, quantityThousandths: '4', deliveredOn: '2025-10-01' })
  expect(plain(late.text)).toContain(words.afterSpreading)
  expect((await trial.keeper.post(address, { ...standing, quantityThousandths: '50 barrows' })).status).toBe(303)
  expect(rowOf(await page(), 'Compost bought · Correct Compost')[3]).toBe('4.25 m3')
  const second = await trial.keeper.post(address, { ...standing, quantityThousandths: '5' })
  expect(second.status).toBe(409)
  const removal = await trial.keeper.post(`${address}/removal`, {
    version: String(Number(version) + 1),
    reason: 'twice',
  })
  expect(plain(removal.text)).toContain(catalogue.correcting.stillUsed)

  const text = await page()
  const spreadingId = /correct\/applications\/([\w-]+)"/.exec(text)?.[1] ?? ''
  const at = `${trial.base}/correct/applications/${spreadingId}`
  const fields = {
    version: '1',
    appliedOn: '2025-09-10',
    seasonId: trial.season,
    phase: 'established',
    depthMm: '',
    place: `garden:${trial.gardens.bank}`,
  } as const
  const much = await trial.keeper.post(at, { ...fields, quantityThousandths: '40' })
  expect([much.status, plain(much.text)]).toEqual([422, expect.stringContaining('of that delivery is left')])
  expect((await trial.keeper.post(at, { ...fields, quantityThousandths: '10 barrows' })).status).toBe(303)
  expect(rowOf(await page(), 'Compost').slice(2, 5)).toEqual([
    '0.85 m3',
    'Long Bank, the whole garden',
    'about 28 mm if it lies evenly there',
  ])
  const moved = { ...fields, version: '2', quantityThousandths: '10 barrows', place: `garden:${trial.gardens.lower}` }
  const nowhere = await trial.keeper.post(at, { ...moved, place: `garden:${newId()}` })
  expect([nowhere.status, plain(nowhere.text)]).toEqual([422, expect.stringContaining(catalogue.fields.notChosen)])
  expect((await trial.keeper.post(at, moved)).status).toBe(303)
  expect(rowOf(await page(), 'Compost')[3]).toBe('Lower Terrace, the whole garden')
  const gone = await trial.keeper.post(`${at}/removal`, { version: '3', reason: 'written twice' })
  expect(gone.status).toBe(303)
  expect((await trial.keeper.get(at)).status).toBe(404)
})

it('a recorder takes back a measure and an entry of a heap from the notice', async () => {
  const recorder = await place.joined(trial.keeper, 'recorder')
  const base = `${trial.base}/inputs`
  const undo = async () => {
    const form = /action="([^"]*\/undo)">([\s\S]*?)<\/form>/.exec((await recorder.get(base)).text) ?? []
    const given = [...(form[2] ?? '').matchAll(/name="(\w+)" value="([^"]*)"/g)].map((one) => [one[1], one[2]])
    const { _csrf, ...fields } = Object.fromEntries(given)
    expect((await recorder.post(form[1] ?? '', fields)).status).toBe(303)
    return (await recorder.get(base)).text
  }
  await recorder.post(`${base}/measures`, { id: newId(), name: 'bucket', litres: '10' })
  expect(rowOf(await undo(), 'bucket')).toEqual([])
  const heapId = newId()
  await recorder.post(`${base}/heaps`, {
    id: heapId,
    name: 'South heap',
    inputName: 'Own compost',
    startedOn: '2025-10-01',
  })
  const entry = {
    id: newId(),
    heapId,
    day: '2025-10-02',
    what: 'note',
    words: 'smells of ammonia',
    celsius: '',
  } as const
  await recorder.post(`${base}/heap-entries`, entry)
  const after = plain(await undo())
  expect(after).toContain('South heap')
  expect(after).not.toContain('smells of ammonia')
})

it('two people who write down the first load of an input at once are both kept, under one input', async () => {
  const lime = { name: 'Sea lime', kind: 'amendment', unit: 'kg', deliveredOn: '2025-09-05' } as const
  const both = await Promise.all(['20', '30'].map((kg) => deliver({ ...lime, quantityThousandths: kg })))
  expect(both.map((answer) => answer.status)).toEqual([303, 303])
  expect(plain(await page())).toContain('Sea lime: 50 kg came')
})

describe('a spreading counts toward the season of its day, in the phase of its ground', () => {
  const seasons = [
    { id: 'one', name: '2024/25', startsOn: '2024-08-01', endsOn: '2025-05-31' },
    { id: 'two', name: '2025/26', startsOn: '2025-08-01', endsOn: '2026-05-31' },
  ] as const
  const at = (seasonId: string, bedId: string | null, phase: string) => ({ seasonId, gardenId: 'g', bedId, phase })
  const laid = [at('one', null, 'establishing'), at('two', null, 'established'), at('two', 'b2', 'establishing')]
  const ground = (...bedIds: string[]) => ({ gardenId: 'g', bedIds })
  const counted = (bedIds: string[], day: string, seasonId: string | null, phase: string | null) => {
    const found = countedToward(seasons, laid, ground(...bedIds), { day, seasonId, phase })
    return found.kind === 'answer' ? `${found.seasonId} ${found.phase}` : `${found.field} ${found.code}`
  }
  it.each([
    [['b1'], '2024-09-01', null, null, 'one establishing'],
    [['b1'], '2025-09-01', null, null, 'two established'],
    [['b2'], '2025-09-01', 'two', 'establishing', 'two establishing'],
    [['b1'], '2024-09-01', 'two', null, 'seasonId otherSeason'],
    [['b1'], '2025-09-01', null, 'establishing', 'phase otherPhase'],
    [['b1'], '2025-07-01', null, null, 'seasonId noSeason'],
    [['b1'], '2025-07-01', 'two', null, 'two established'],
    [['b1', 'b2'], '2025-09-01', null, null, 'two null'],
    [['b1', 'b2'], '2025-09-01', null, 'establishing', 'two establishing'],
  ])('%j on %s, said %s and %s: %s', (bedIds, day, seasonId, phase, expected) => {
    expect(counted(bedIds, day, seasonId, phase)).toBe(expected)
  })

  it('where nothing is laid the phase is said', () => {
    const bare = (phase: string | null) =>
      countedToward(seasons, [], ground('b1'), { day: '2025-09-01', seasonId: null, phase })
    expect(bare(null)).toMatchObject({ kind: 'refused', code: 'noPhase' })
    expect(bare('established')).toMatchObject({ kind: 'answer', phase: 'established' })
  })

  it('and the page refuses what speaks against it, with the season or the phase by name', async () => {
    const wrong = await spread({ quantityThousandths: '0.01', phase: 'establishing' })
    expect([wrong.status, plain(wrong.text)]).toEqual([422, expect.stringContaining(words.otherPhase('established'))])
    const outside = await spread({ quantityThousandths: '0.01', appliedOn: '2025-09-10', seasonId: newId() })
    expect([outside.status, plain(outside.text)]).toEqual([422, expect.stringContaining(words.otherSeason('2025/26'))])
  })
})

describe('the parts of a load add up to it', () => {
  it('103.34 in three parts, and no later part moves an earlier one', () => {
    const load = { quantityThousandths: 3000, priceMinor: 10_334, deliveryPriceMinor: 0 }
    const rows = [1, 2, 3].map((day) => ({
      ...{ id: `${4 - day}`, deliveryId: 'load', appliedOn: aDay(`2025-09-0${day}`), quantityThousandths: 1000 },
    }))
    const costs = (spread: typeof rows) => {
      const before = spreadBefore(spread)
      return spread.map((row) => costOf({ load, ...row, beforeThousandths: before.get(row.id) ?? 0 }))
    }
    expect(costs(rows)).toEqual([3445, 3444, 3445])
    expect(costs(rows.slice(0, 2))).toEqual([3445, 3444])
    expect(costs([...rows].reverse()).reverse()).toEqual([3445, 3444, 3445])
  })

  it('whatever it cost and however it is parted', () => {
    const parts = fc.array(fc.integer({ min: 1, max: 100_000 }), { minLength: 1, maxLength: 12 })
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), parts, (minor, quantities) => {
        const whole = quantities.reduce((sum, part) => sum + part, 0)
        let before = 0
        const costs = quantities.map((quantityThousandths) => {
          const cost = partOf(minor, { beforeThousandths: before, quantityThousandths }, whole)
          before += quantityThousandths
          return cost
        })
        expect(costs.reduce((sum, cost) => sum + cost, 0)).toBe(minor)
        expect(costs.every((cost) => cost >= 0)).toBe(true)
      }),
    )
  })
})
