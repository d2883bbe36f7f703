import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bandOf } from '../../src/soil/bands.ts'
import { analytesApart, apartOf, type Measured, seriesOf } from '../../src/soil/series-of.ts'

const test = (given: Partial<Measured>): Measured => ({
  ...{ analyte: 'P', extractant: 'Olsen', unit: 'mg/L', depthMm: 150, laboratory: 'Harbour laboratory' },
  ...given,
})

const anyTest: fc.Arbitrary<Measured> = fc.record({
  analyte: fc.constantFrom('P', 'p', 'K', 'pH', 'organic matter', 'Organic-matter'),
  extractant: fc.constantFrom('Olsen', 'olsen ', 'Mehlich-3', 'mehlich 3', 'Bray P1', null),
  unit: fc.constantFrom('mg/L', 'mg/kg', 'MG/KG', '%'),
  depthMm: fc.constantFrom(100, 150, 300, null),
  laboratory: fc.constantFrom('Harbour laboratory', 'Second laboratory'),
})

/** The quantity that a value is of, written apart from the code under test: lower case, letters and digits and slashes only. */
const quantity = (one: Measured) => {
  const bare = (name: string | null) => name?.toLowerCase().replace(/[^a-z0-9/%]/g, '') ?? 'unknown'
  return `${bare(one.analyte)} ${bare(one.extractant)} ${bare(one.unit)} ${one.depthMm}`
}

describe('values that may be read over time', () => {
  it('never stand in one series where extractant, unit, depth or analyte differ, and none is lost or doubled', () => {
    fc.assert(
      fc.property(fc.array(anyTest, { maxLength: 30 }), (tests) => {
        const series = seriesOf(tests)
        for (const one of series) expect(new Set(one.tests.map(quantity)).size).toBe(1)
        const placed = series.flatMap((one) => one.tests)
        expect(placed).toHaveLength(tests.length)
        expect(new Set(placed)).toEqual(new Set(tests))
      }),
    )
  })

  it('stand together whatever the laboratory where the extractant is known, and never where it is not', () => {
    fc.assert(
      fc.property(fc.array(anyTest, { minLength: 2, maxLength: 30 }), (tests) => {
        const series = seriesOf(tests)
        const at = (one: Measured) => series.findIndex((each) => each.tests.includes(one))
        for (const one of tests)
          for (const other of tests) {
            if (quantity(one) !== quantity(other)) continue
            const together = one.extractant !== null || one.laboratory === other.laboratory
            expect(at(one) === at(other)).toBe(together)
          }
      }),
    )
  })

  it('are in the same series in whatever order they were written down', () => {
    const tests = [test({}), test({ extractant: 'Mehlich-3' }), test({ extractant: 'OLSEN' }), test({ depthMm: null })]
    const keys = (of: readonly Measured[]) => seriesOf(of).map((one) => [one.key, one.tests.length])
    expect(keys(tests.toReversed())).toEqual(keys(tests))
    expect(keys(tests).map(([, count]) => count)).toEqual(expect.arrayContaining([2, 1, 1]))
  })

  it('say in what the series of one analyte differ', () => {
    const apart = analytesApart(
      seriesOf([test({}), test({ extractant: 'Mehlich-3', unit: 'mg/kg' }), test({ analyte: 'K' })]),
    )
    expect(apartOf(apart, 'P')).toEqual(['extractant', 'unit'])
    expect(apartOf(apart, 'K')).toEqual([])
  })
})

it('a laboratory that prints its bands is followed, and nobody else’s bands are put in', () => {
  const bands = { lowUnder: '15', highFrom: '30.0' }
  expect(['14.9', '15', '29.9', '30'].map((value) => bandOf({ value }, bands))).toEqual([
    'low',
    'optimum',
    'optimum',
    'high',
  ])
  expect(bandOf({ value: '20' }, null)).toBeNull()
  expect(bandOf({ value: '20' }, { lowUnder: '15', highFrom: null })).toBeNull()
})

it('a limit is low or high only where all that lies beyond it is', () => {
  const bands = { lowUnder: '15', highFrom: '30' }
  const below = ['5', '15', '16', '40'].map((value) => bandOf({ value, beyond: 'below' }, bands))
  expect(below).toEqual(['low', 'low', null, null])
  const above = ['5', '29', '30', '40'].map((value) => bandOf({ value, beyond: 'above' }, bands))
  expect(above).toEqual([null, null, 'high', 'high'])
})
