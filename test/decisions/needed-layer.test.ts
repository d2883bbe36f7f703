import { describe, expect, it } from 'vitest'
import { layable, neededLayer, perMillimetre } from '../../src/decisions/needed-layer.ts'
import { nitrogenStillFound } from '../../src/decisions/still-found.ts'
import type { HeldLimit } from '../../src/soil/limits.ts'

type Needs = Parameters<typeof neededLayer>[0]
/** 4.5 g of nitrogen in a mm, 0.54 of it found at once; 1.2 g of phosphorus, 3 g of potassium. */
const perMm = { nitrogen: 4.5, nitrogenFound: 0.54, phosphorus: 1.2, potassium: 3 }
const needs = (given: Partial<Needs> = {}): Needs => ({
  ...{ perMm, takenGPerM2: { nitrogen: 10, phosphorus: 2, potassium: 10 } },
  ...{ stillFoundGPerM2: 0, high: [], limits: [] },
  ...given,
})
const limit = (mostMgPerM2: number, given: Partial<HeldLimit> = {}): HeldLimit => ({
  ...{ source: 'compost', nutrient: 'nitrogen', from: null, rule: 'Byelaw 4' },
  mostMgPerM2,
  ...given,
})

describe('a layer worked back from need, by hand', () => {
  const compost = { name: 'Compost', kind: 'compost', rawManure: 0 }
  const made = { moisturePermille: 500, nitrogenMgPerKg: 15_000, phosphorusMgPerKg: 4_000, potassiumMgPerKg: 10_000 }

  it('a millimetre is a litre: 600 g, half of it dry, carry 4.5 g N, 1.2 g P and 3 g K, of the nitrogen 12 % found', () => {
    const own = { ...made, densityKgPerM3: 600, published: null }
    const found = perMillimetre({ ...compost, made: own })
    expect(found).toEqual({ ...perMm, nitrogenFound: expect.closeTo(0.54, 12) })
    const manure = perMillimetre({ ...compost, kind: 'manure', rawManure: 1, made: own })
    expect(manure.nitrogenFound).toBeCloseTo(4.5 * 0.25, 12)
    const unweighed = perMillimetre({ ...compost, made: { ...own, densityKgPerM3: null } })
    expect(Object.values(unweighed)).toEqual([null, null, null, null])
  })

  it('18.5 mm by nitrogen, 1.7 by phosphorus, 3.3 by potassium: the smallest is proposed, and named', () => {
    const found = neededLayer(needs())
    expect(found.by).toEqual({
      nitrogen: expect.closeTo(10 / 0.54, 10),
      phosphorus: expect.closeTo(2 / 1.2, 10),
      potassium: expect.closeTo(10 / 3, 10),
    })
    expect([found.binds, layable(found), found.missing]).toEqual(['phosphorus', 1.7, []])
  })

  it('what crops still find of earlier dressings is taken off, and covers all of it at most', () => {
    expect(neededLayer(needs({ stillFoundGPerM2: 9.46 })).by.nitrogen).toBeCloseTo(1, 10)
    const covered = neededLayer(needs({ stillFoundGPerM2: 11 }))
    expect([covered.by.nitrogen, covered.proposedMm, covered.binds]).toEqual([0, 0, 'nitrogen'])
    // Two reasons for none: the one that a test gives is named.
    expect(neededLayer(needs({ stillFoundGPerM2: 11, high: ['phosphorus'] })).binds).toBe('phosphorus')
  })

  it('a limit that is tighter binds, and its layer is never rounded beyond it', () => {
    // 7 g of nitrogen against 4.5 g a mm, and 5 g of phosphorus, are 1.5556 and 4.1667 mm.
    const two = [limit(5_000, { nutrient: 'phosphorus' }), limit(7_000)]
    const found = neededLayer(needs({ limits: two }))
    expect([found.binds, found.limit, layable(found)]).toEqual(['limit', two[1], 1.5])
    expect(neededLayer(needs({ limits: [limit(20_000)] })).binds).toBe('phosphorus')
    expect(neededLayer(needs({ limits: [limit(0)] })).proposedMm).toBe(0)
  })

  it('phosphorus that is high already needs none; potassium that is high neither asks nor forbids', () => {
    const high = neededLayer(needs({ high: ['phosphorus'] }))
    expect([high.proposedMm, high.binds]).toEqual([0, 'phosphorus'])
    const potassium = neededLayer(needs({ high: ['potassium'] }))
    expect([potassium.by.potassium, potassium.binds, layable(potassium)]).toEqual([0, 'phosphorus', 1.7])
  })

  it('says which figure is missing, and proposes by those that are there', () => {
    const noPhosphorus = neededLayer(needs({ perMm: { ...perMm, phosphorus: null } }))
    expect([noPhosphorus.missing, noPhosphorus.binds]).toEqual([['phosphorus'], 'potassium'])
    const untaken = neededLayer(needs({ takenGPerM2: null }))
    expect([untaken.missing.length, untaken.proposedMm, untaken.binds]).toEqual([3, null, null])
    // What brings nothing replaces nothing.
    expect(neededLayer(needs({ perMm: { ...perMm, potassium: 0 } })).missing).toEqual(['potassium'])
  })
})

// Montana State University Extension, nutrient management plan, step 5: a crop needs 160 lb of N, 50 of P2O5 and 75 of K2O
// an acre; a ton of the manure holds 18 lb of P2O5, 26 of K2O and 21 of N, of which 8.53 are available.
it('Montana’s worked example: 18.8 tons an acre by nitrogen, 2.8 by phosphate, 2.9 by potash', () => {
  const perTon = { nitrogen: 21, nitrogenFound: 8.53, phosphorus: 18, potassium: 26 }
  const takenGPerM2 = { nitrogen: 160, phosphorus: 50, potassium: 75 }
  const found = neededLayer(needs({ perMm: perTon, takenGPerM2 }))
  const { nitrogen, phosphorus, potassium } = found.by
  expect([nitrogen, phosphorus, potassium].map((tons) => Math.round(10 * (tons ?? 0)) / 10)).toEqual([18.8, 2.8, 2.9])
  expect(found.binds).toBe('phosphorus')
})

describe('nitrogen still found of earlier dressings', () => {
  const bed = (id: string) => ({ id, areas: [{ from: null, areaCm2: 100_000 }] })
  const rows = (seasonId: string) => ({
    seasons: [
      { id: '1', startsOn: '2024-08-01' },
      { id: '2', startsOn: '2025-08-01' },
      { id: '3', startsOn: '2026-08-01' },
    ],
    beds: [bed('a'), bed('b')],
    places: [{ id: 'g', gardenId: 'g', gardenName: 'Long Bank', bedIds: ['a', 'b'] }],
    measures: [],
    spreadings: [
      {
        ...{ seasonId, gardenId: 'g', bedId: null, plantingId: null, quantityThousandths: 1_000 },
        input: {
          ...{ name: 'Compost', kind: 'compost', unit: 'm3', rawManure: 0, moisturePermille: 500, densityKgPerM3: 600 },
          ...{ nitrogenMgPerKg: 15_000, phosphorusMgPerKg: null, potassiumMgPerKg: null },
        },
      },
    ],
  })
  const found = (seasonId: string, today: string, beds = ['a', 'b']) =>
    nitrogenStillFound(rows(seasonId) as never, new Set(beds), today as never)

  it('4500 g of a m3 on 20 m2: 7 per cent in the next season, 4 in the one after, nothing later', () => {
    expect(found('2', '2026-03-01')).toBeCloseTo((4_500 * 0.07) / 20, 10)
    expect(found('1', '2026-03-01')).toBeCloseTo((4_500 * 0.04) / 20, 10)
    expect(found('1', '2027-03-01')).toBe(0)
    // What lies there for the season to come itself is no earlier dressing.
    expect(found('3', '2026-03-01')).toBe(0)
  })

  it('half of the ground has half of the load, and as much a m2', () => {
    expect(found('2', '2026-03-01', ['a'])).toBeCloseTo((4_500 * 0.07) / 20, 10)
    expect(found('2', '2026-03-01', [])).toBe(0)
  })
})
