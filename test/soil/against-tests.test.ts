import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { heldAgainstTests, type TestsAndFlows } from '../../src/soil/against-tests.ts'
import { errorOfValue } from '../../src/soil/laboratory-error.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, plantingOf, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.againstTests

/** 20 cm at 1.2 g/cm3: 240 kg of soil on a m2. */
const held = (given: Partial<TestsAndFlows> = {}): TestsAndFlows => ({
  tests: [
    { day: '2023-08-05', value: 205, error: null },
    { day: '2025-08-05', value: 186, error: null },
  ],
  flows: [],
  ...{ broughtMgPerM2: 48_000, takenMgPerM2: 12_000 },
  ...{ unit: 'mg/kg', depthMm: 200, bulkDensity: 1.2, laboratoryError: 0.1, seasons: 3 },
  ...given,
})
function found(given: Partial<TestsAndFlows> = {}) {
  const answer = heldAgainstTests(held(given))
  if (answer.kind === 'refused') throw new Error(answer.detail)
  return answer
}
const flow = (mgPerM2: number | null, day: '2024-01-01' | '2026-01-01' = '2024-01-01') => ({ day, mgPerM2 })

describe('tests beside the sum, by hand', () => {
  // 150 g brought and 15 g taken are 562.5 mg/kg in 240 kg, the figure of the methods' own worked arithmetic.
  it('135 g a m2 more are 562.5 mg in each of 240 kg', () => {
    const { ifAllStayed } = found({ flows: [flow(150_000), flow(-15_000)] })
    expect(ifAllStayed.map((one) => one.expected)).toEqual([205, 767.5])
  })

  it('a group whose tests went from 205 to 186 is told 1634 by nobody: nothing is projected', () => {
    const { gap, allowed, projected, ifAllStayed } = found({ flows: [flow((1634 - 205) * 240)] })
    expect(ifAllStayed.at(-1)?.expected).toBeCloseTo(1634, 8)
    expect(gap).toBeCloseTo(1448, 8)
    // 19 and twice a tenth of sqrt(205^2 + 186^2).
    expect(allowed).toBeCloseTo(19 + 0.2 * Math.sqrt(205 ** 2 + 186 ** 2), 10)
    expect(projected).toBeNull()
  })

  it('the edge: as far apart as allowed is agreed, a milligram more is not', () => {
    const edge = 19 + 0.2 * Math.sqrt(205 ** 2 + 186 ** 2)
    const sum = (gap: number) => found({ flows: [flow((186 + gap - 205) * 240)] }).projected !== null
    expect([sum(edge - 0.001), sum(edge + 0.001), sum(-edge + 0.001), sum(-edge - 0.001)]).toEqual([
      ...[true, false, true, false],
    ])
    expect(found({ laboratoryError: 0, flows: [flow(0)] }).projected).not.toBeNull()
    expect(found({ laboratoryError: 0, flows: [flow(240)] }).projected).toBeNull()
  })

  it('a laboratory’s own error takes the place of the tenth, of the one value or of both', () => {
    const tests = (first: number | null, last: number | null): TestsAndFlows['tests'] => [
      { day: '2023-08-05', value: 205, error: first },
      { day: '2025-08-05', value: 186, error: last },
    ]
    const two = (first: number | null, last: number | null) => found({ tests: tests(first, last) }).twoErrors
    // 2 x sqrt(3^2 + 4^2); a tenth of 186 beside 3.
    expect(two(3, 4)).toBeCloseTo(10, 10)
    expect(two(3, null)).toBeCloseTo(2 * Math.hypot(3, 18.6), 10)
    const edge = (gap: number) => found({ tests: tests(3, 4), flows: [flow((186 + gap - 205) * 240)] }).disagree
    // Their own change of 19 and 10; downward the ledger falls as they did, upward it runs against them from 19 on.
    expect([edge(-28.9), edge(-29.1), edge(29.1)]).toEqual([null, 'apart', 'apart'])
    expect(errorOfValue({ value: '186', standardError: '5', standardErrorOf: 'percent' })).toBeCloseTo(9.3, 10)
    expect(errorOfValue({ value: '186', standardError: '5', standardErrorOf: 'unit' })).toBe(5)
  })

  // 44 to 52 with a ledger that falls by 1: 9 apart, 8 and two errors allowed.
  it.each([
    ['errs by a tenth: 8 is within two errors of 13.6', null, -240, null],
    ['errs by 3 per cent: 8 is beyond 4.1, and the ledger falls', 0.03, -240, 'against'],
    ['the same, and the ledger rises', 0.03, 240, null],
    ['the same, and the ledger stands still', 0.03, 0, null],
    ['errs by 6 per cent: 8 is within 8.17', 0.06, -240, null],
  ] as const)('tests rise by 8; the laboratory %s', (_, share, mgPerM2, disagree) => {
    const [day, later] = ['2023-08-05', '2025-08-05'] as const
    const of = (value: number) => (share === null ? null : share * value)
    const tests = [
      { day, value: 44, error: of(44) },
      { day: later, value: 52, error: of(52) },
    ]
    const answer = found({ tests, flows: [flow(mgPerM2)] })
    expect([answer.disagree, answer.projected === null]).toEqual([disagree, disagree !== null])
  })

  it('same again, half and none go on from the last test: 150, 50 and -50 mg/kg a season', () => {
    const { projected } = found({ flows: [flow(-4_560)] })
    expect(projected?.same).toEqual([186, 336, 486, 636])
    expect(projected?.half).toEqual([186, 236, 286, 336])
    expect(projected?.none).toEqual([186, 136, 86, 36])
    // Ground holds no less than nothing.
    expect(found({ flows: [flow(-4_560)], seasons: 5 }).projected?.none.slice(-2)).toEqual([0, 0])
  })

  it('mg/L count by the volume of the soil, and what lies after the last test is no part of the sum', () => {
    expect(found({ unit: 'mg/L', flows: [flow(20_000)] }).ifAllStayed[1]?.expected).toBe(305)
    expect(found({ flows: [flow(24_000, '2026-01-01')] }).ifAllStayed[1]?.expected).toBe(205)
  })

  it.each([
    ['one day', { tests: [{ day: '2023-08-05', value: 205, error: null }] }, 'too few'],
    ['twice on one day', { tests: [205, 186].map((value) => ({ day: '2023-08-05', value, error: null })) }, 'too few'],
    ['an unknown flow', { flows: [flow(null)] }, 'incomplete'],
    ['an index', { unit: 'index' }, 'out of range'],
    ['no depth', { depthMm: 0 }, 'out of range'],
    ['a soil lighter than snow', { bulkDensity: 0.05 }, 'out of range'],
    ['a soil of stone', { bulkDensity: 2.7 }, 'out of range'],
    ['a well', { depthMm: 5_000 }, 'out of range'],
  ] as const)('refuses %s', (_, given, reason) => {
    expect(heldAgainstTests(held(given as Partial<TestsAndFlows>))).toMatchObject({ kind: 'refused', reason })
  })
})

describe('on the page', () => {
  let place: Place
  let trial: Trial
  const post = (path: string, fields: Record<string, unknown>) =>
    trial.keeper.post(`${trial.base}/${path}`, { id: newId(), ...fields })
  const test = (sampledOn: string, given: Record<string, string>) =>
    post('soil', {
      ...{ place: `garden:${trial.gardens.bank}`, sampledOn, laboratory: 'Harbour', depthMm: '0-20 cm' },
      ...{ extractant: 'ammonium acetate', unit: 'mg/kg', lowUnder: '', highFrom: '' },
      ...given,
    })
  beforeAll(async () => {
    place = await openPlace()
    trial = await setUpTrial(place)
    await test('2025-08-05', { analyte: 'K', value: '205' })
    await test('2026-03-05', { analyte: 'K', value: '186', lowUnder: '120', highFrom: '180' })
    await test('2026-03-05', { analyte: 'pH', value: '6.4', unit: 'pH', extractant: 'water' })
    await test('2026-03-05', { analyte: 'P', value: '30', unit: 'mg/L', extractant: 'Olsen' })
  })
  afterAll(() => place.close())

  const page = async (query = '') => (await trial.keeper.get(`${trial.base}/soil/against-tests${query}`)).text

  it('with nothing brought the tests agree, and the three ways go on from the last of them', async () => {
    const text = plain(await page())
    const said = { name: 'Potassium', garden: 'Long Bank', unit: 'mg/kg', from: '205', to: '186' }
    expect(text).toContain(words.agree({ ...said, seasons: 5, ends: 'same again 186, half 186, none 186' }))
    expect(text).toContain(words.refused.tooFew({ ...said, name: 'Phosphorus', from: '', to: '' }))
    expect(rowOf(await page(), 'K')).toEqual(['K', 'ammonium acetate', '5 March 2026', '186 mg/kg', 'high'])
    expect(rowOf(await page(), 'pH')).toEqual(['pH', 'water', '5 March 2026', '6.4', words.noBand])
  })

  it('a load that the tests do not show stops the projection, in the sentence and in the figures', async () => {
    const load = newId()
    await post('inputs/deliveries', {
      ...{ id: load, name: 'Compost', kind: 'compost', unit: 'm3', ownMade: 'bought', usefulLifeSeasons: '1' },
      ...{ quantityThousandths: '3', orderedOn: '2025-07-01', deliveredOn: '2025-08-10', priceMinor: '90' },
      ...{ deliveryPriceMinor: '0', moisture: '50', densityKgPerM3: '600', potassium: '1' },
    })
    await post('inputs/spreadings', {
      ...{ deliveryId: load, place: `garden:${trial.gardens.bank}`, quantityThousandths: '3' },
      ...{ appliedOn: '2025-08-20', seasonId: trial.season, phase: 'established' },
    })
    // 3 m3, 900 kg dry, 9 kg of K on 30 m2: 300 g a m2 are 1250 mg in each of 240 kg.
    const text = plain(await page())
    const said = { name: 'Potassium', garden: 'Long Bank', unit: 'mg/kg', from: '205', to: '186' }
    expect(text).toContain(words.disagree.apart({ ...said, sum: '1 455' }))
    interface Figures {
      nutrients: { nutrient: string; found: { gap?: number; projected?: unknown } }[]
    }
    const { nutrients } = await trial.keeper.json<Figures>(`${trial.base}/soil/against-tests.json`)
    const potassium = nutrients.find((one) => one.nutrient === 'potassium')?.found
    expect([Math.round(potassium?.gap ?? 0), potassium?.projected]).toEqual([1269, null])
  })

  it('with the laboratory’s own error, tests that rose beyond it stop a ledger that falls, and the page says so', async () => {
    const { lower } = trial.gardens
    const of = { place: `garden:${lower}`, analyte: 'P', extractant: 'Olsen', standardError: '3 %' }
    await test('2025-08-05', { ...of, value: '44' })
    await test('2026-03-05', { ...of, value: '52' })
    const planting = plantingOf(trial, 'carrot', 'Lower')
    const picked = { planting, how: 'net', marketable: '20 kg', harvestedOn: '2026-01-28', surely: 'yes' }
    await post('weeks/2026-W05/harvests', { ...picked, plantingId: planting })
    const text = plain(await page(`?garden=${lower}`))
    // 20 kg of carrots take 7 g of phosphorus off 20 m2: 0.35 g a m2 are 1.46 mg in each of 240 kg.
    const said = { name: 'Phosphorus', garden: 'Lower Terrace', unit: 'mg/kg', from: '44', to: '52' }
    expect(text).toContain(words.disagree.against({ ...said, sum: '43' }))
    expect(text).toContain(words.errors({ two: '4.1', share: '10', told: 2 }))
  })

  it('what is typed reads back as itself, and what no soil is is refused', async () => {
    const text = await page('?bulkDensity=1.35&laboratoryError=7.5&seasons=12')
    const value = (name: string) => new RegExp(`name="${name}"[^>]*value="([^"]*)"`).exec(text)?.[1]
    expect(['bulkDensity', 'laboratoryError', 'seasons'].map(value)).toEqual(['1.35', '7.5', '12'])
    for (const bad of ['bulkDensity=0', 'bulkDensity=3', 'laboratoryError=-1', 'seasons=0', 'seasons=2.5', 'seasons=x'])
      expect([bad, (await trial.keeper.get(`${trial.base}/soil/against-tests?${bad}`)).status]).toEqual([bad, 422])
    expect(Object.keys(choicesIn(text)('garden'))).toEqual(['Lower Terrace', 'Long Bank'])
  })
})
