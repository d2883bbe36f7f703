import { describe, expect, it } from 'vitest'
import { heapSaid } from '../../src/inputs/heap.ts'
import { coverOf, gramsOf, inUnitOf, type LoadMeasure, millilitresOf } from '../../src/inputs/measures.ts'
import { asElements, nutrientsIn, phosphorusInOxide, potassiumInOxide } from '../../src/inputs/nutrients.ts'
import { readMeasured } from '../../src/quantities/measured.ts'

const barrow: LoadMeasure = { name: 'barrow', volumeMl: 85_000, massG: null }
const bag: LoadMeasure = { name: 'bulk bag', volumeMl: null, massG: 800_000 }
const counted = (unit: string, densityKgPerM3: number | null = null) => ({
  unit,
  densityKgPerM3,
  measures: [barrow, bag],
})

describe('a quantity as it is typed', () => {
  it.each([
    ['12 barrows', 12_000, 'barrows'],
    ['1,5 m3', 1_500, 'm3'],
    ['40', 40_000, null],
    ['0.5 bulk bag', 500, 'bulk bag'],
    ['1 200 L', 1_200_000, 'L'],
  ])('%s', (typed, thousandths, word) => {
    expect(readMeasured(typed)).toEqual({ kind: 'answer', value: { thousandths, word } })
  })

  it.each(['', 'barrow', '-2 m3', '1e3', '3..1 m3', '0 m3'])('"%s" is no quantity', (typed) => {
    expect(readMeasured(typed).kind).toBe('refused')
  })
})

describe('barrows and bags in the unit that an input is counted in', () => {
  it('12 barrows of 85 L are 1.020 m3', () => {
    expect(inUnitOf({ thousandths: 12_000, word: 'Barrows' }, counted('m3'))).toEqual({
      kind: 'answer',
      thousandths: 1_020,
    })
  })

  it('by density where one side is a volume and the other a weight: 2 bags of 800 kg at 640 kg/m3 are 2.5 m3', () => {
    expect(inUnitOf({ thousandths: 2_000, word: 'bulk bags' }, counted('m3', 640))).toEqual({
      kind: 'answer',
      thousandths: 2_500,
    })
    expect(inUnitOf({ thousandths: 2_500, word: 'm3' }, counted('kg', 640))).toEqual({
      kind: 'answer',
      thousandths: 1_600_000,
    })
  })

  it('the same word needs no size, and a word without a size is refused', () => {
    expect(inUnitOf({ thousandths: 3_000, word: 'bales' }, counted('bale'))).toEqual({
      kind: 'answer',
      thousandths: 3_000,
    })
    expect(inUnitOf({ thousandths: 3_000, word: 'stooks' }, counted('m3'))).toMatchObject({ reason: 'unknown measure' })
    expect(inUnitOf({ thousandths: 3_000, word: 'kg' }, counted('m3'))).toMatchObject({ reason: 'nothing in common' })
    expect(inUnitOf({ thousandths: 3_000, word: 'kg' }, counted('bale'))).toMatchObject({ reason: 'nothing in common' })
  })

  it('a pound is 453.59237 g and a cubic yard 764.554857984 L (NIST Special Publication 811)', () => {
    expect(inUnitOf({ thousandths: 1_000_000, word: 'lb' }, counted('kg'))).toMatchObject({ thousandths: 453_592 })
    expect(inUnitOf({ thousandths: 1_000_000, word: 'yd3' }, counted('L'))).toMatchObject({ thousandths: 764_554_858 })
  })

  it('1000 lb in a cubic yard are 593 kg in a m3, as the tables of compost have it', () => {
    const kg = inUnitOf({ thousandths: 1_000_000, word: 'lb' }, counted('kg'))
    const m3 = inUnitOf({ thousandths: 1_000_000, word: 'yd3' }, counted('m3'))
    if (kg.kind === 'refused' || m3.kind === 'refused') throw new Error('both have a size')
    expect(kg.thousandths / (m3.thousandths / 1000)).toBeCloseTo(593.276, 2)
  })

  it('volume and weight of what was spread', () => {
    expect(millilitresOf(1_000, counted('m3'))).toBe(1_000_000)
    expect(gramsOf(1_000, counted('m3', 600))).toBe(600_000)
    expect(gramsOf(1_000, counted('m3'))).toBeNull()
    expect(millilitresOf(1_000, counted('bale'))).toBeNull()
  })

  it('10 L cover 1 m2 at 10 mm; 2 m3 at 50 mm cover 40 m2, at 90.00 in all for 2.25 per m2', () => {
    expect(coverOf({ volumeMl: 10_000, depthMm: 10, costMinor: null })).toEqual({
      areaCm2: 10_000,
      costMinorPerM2: null,
    })
    expect(coverOf({ volumeMl: 2_000_000, depthMm: 50, costMinor: 9_000 })).toEqual({
      areaCm2: 400_000,
      costMinorPerM2: 225,
    })
  })
})

describe('an analysis', () => {
  it('P is 0.4364268 of P2O5 and K 0.8301513 of K2O, from the atomic weights of IUPAC', () => {
    expect(phosphorusInOxide).toBeCloseTo(0.4364268174, 7)
    expect(potassiumInOxide).toBeCloseTo(0.8301513022, 7)
  })

  it('given as oxides is kept as elements, and what is not given stays unknown', () => {
    const given = { nitrogen: 1.5, phosphorus: 1, potassium: null }
    expect(asElements({ basis: 'oxide', ...given })).toEqual({
      nitrogenMgPerKg: 15_000,
      phosphorusMgPerKg: 4_364,
      potassiumMgPerKg: null,
    })
    expect(asElements({ basis: 'element', ...given }).phosphorusMgPerKg).toBe(10_000)
  })

  it('5 cm on 1 m2 at 600 kg/m3, half dry, 1.5-0.4-1.0 per cent: 225 g N, 60 g P, 150 g K', () => {
    const analysis = { nitrogenMgPerKg: 15_000, phosphorusMgPerKg: 4_000, potassiumMgPerKg: 10_000 }
    const fresh = gramsOf(50, counted('m3', 600))
    expect(fresh).toBe(30_000)
    expect(nutrientsIn(fresh, { moisturePermille: 500, ...analysis })).toEqual({
      dryG: 15_000,
      nitrogenG: 225,
      phosphorusG: 60,
      potassiumG: 150,
    })
    expect(nutrientsIn(fresh, { moisturePermille: null, ...analysis }).nitrogenG).toBeNull()
  })
})

it('a heap is hot on the days that were measured within 55 to 77 degrees, each day once', () => {
  const at = (day: string, tenthsC: number) => ({ id: day + tenthsC, day, what: 'temperature', words: null, tenthsC })
  const log = [at('2026-02-01', 549), at('2026-02-02', 550), at('2026-02-02', 700), at('2026-02-03', 771)]
  const turned = { id: 't', day: '2026-02-03', what: 'turned', words: null, tenthsC: null }
  expect(heapSaid([...log, turned] as never)).toEqual({ turnings: 1, hotDays: 1, hottestTenthsC: 771 })
})
