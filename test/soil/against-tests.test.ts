import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { heldAgainstTests, type TestsAndFlows } from '../../src/soil/against-tests.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'
import { choicesIn, setUpTrial, type Trial } from '../support/trial.ts'

const words = catalogue.againstTests

/** 20 cm at 1.2 g/cm3: 240 kg of soil on a m2. */
const held = (given: Partial<TestsAndFlows> = {}): TestsAndFlows => ({
  tests: [
    { day: '2023-08-05', value: 205 },
    { day: '2025-08-05', value: 186 },
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
    ['one day', { tests: [{ day: '2023-08-05', value: 205 }] }, 'too few'],
    ['twice on one day', { tests: [205, 186].map((value) => ({ day: '2023-08-05', value })) }, 'too few'],
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
    expect(text).toContain(words.disagree({ ...said, sum: '1 455' }))
    interface Figures {
      nutrients: { nutrient: string; found: { gap?: number; projected?: unknown } }[]
    }
    const { nutrients } = await trial.keeper.json<Figures>(`${trial.base}/soil/against-tests.json`)
    const potassium = nutrients.find((one) => one.nutrient === 'potassium')?.found
    expect([Math.round(potassium?.gap ?? 0), potassium?.projected]).toEqual([1269, null])
  })

  it('what is typed reads back as itself, and what no soil is is refused', async () => {
    const text = await page('?bulkDensity=1.35&laboratoryError=7.5&seasons=12')
    const value = (name: string) => new RegExp(`name="${name}"[^>]*value="([^"]*)"`).exec(text)?.[1]
    expect(['bulkDensity', 'laboratoryError', 'seasons'].map(value)).toEqual(['1.35', '7.5', '12'])
    for (const bad of ['bulkDensity=0', 'bulkDensity=3', 'laboratoryError=-1', 'seasons=0', 'seasons=2.5', 'seasons=x'])
      expect([bad, (await trial.keeper.get(`${trial.base}/soil/against-tests?${bad}`)).status]).toEqual([bad, 422])
    expect(Object.keys(choicesIn(text)('garden'))).toEqual(['Long Bank'])
  })
})
