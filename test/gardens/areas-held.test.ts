import { describe, expect, it } from 'vitest'
import {
  always,
  areaAtLast,
  areaOn,
  areaOver,
  areasOf,
  lyingOn,
  lyingOver,
  sumOfAreas,
} from '../../src/gardens/areas-held.ts'

const span = { startsOn: '2025-03-01', endsOn: '2025-03-10' } as const

describe('areas with the day from which they hold', () => {
  const grown = areasOf({ from: null, areaCm2: 100_000 }, [
    { from: '2025-09-01', areaCm2: 0 },
    { from: '2025-03-08', areaCm2: 150_000 },
  ])

  it('one that never changed holds on every day', () => {
    expect([areaOn(always(7), '1900-01-01'), areaOn(always(7), '2199-12-31')]).toEqual([7, 7])
    expect(areaOver(always(7), span)).toBe(7)
  })

  it('a change holds from its day on, and nothing is there after it was given up', () => {
    expect(['2025-03-07', '2025-03-08', '2025-08-31', '2025-09-01'].map((day) => areaOn(grown, day))).toEqual([
      ...[100_000, 150_000, 150_000, 0],
    ])
    expect(areaAtLast(grown)).toBe(0)
  })

  it('over ten days, of which it was larger for the last three, it is the mean of the ten', () => {
    expect(areaOver(grown, span)).toBe((7 * 100_000 + 3 * 150_000) / 10)
  })

  it('a bed that came on the last day of ten has a tenth of its area, and one that came the day after has none', () => {
    expect(areaOver([{ from: '2025-03-10', areaCm2: 80_000 }], span)).toBe(8_000)
    expect(areaOver([{ from: '2025-03-11', areaCm2: 80_000 }], span)).toBe(0)
  })

  it('one given up on the first day has none, and one given up on the second a tenth', () => {
    expect(areaOver(areasOf({ from: null, areaCm2: 50 }, [{ from: '2025-03-01', areaCm2: 0 }]), span)).toBe(0)
    expect(areaOver(areasOf({ from: null, areaCm2: 50 }, [{ from: '2025-03-02', areaCm2: 0 }]), span)).toBe(5)
  })

  it('half a square centimetre and more is rounded up', () => {
    expect(areaOver([{ from: '2025-03-06', areaCm2: 3 }], span)).toBe(2)
  })

  it('only ground that is there lies there', () => {
    const ground = [
      { id: 'a', areas: grown },
      { id: 'b', areas: [{ from: '2025-03-11', areaCm2: 9 }] },
    ] as const
    expect(lyingOn(ground, '2025-03-09').map(({ id, areaCm2 }) => [id, areaCm2])).toEqual([['a', 150_000]])
    expect(lyingOver(ground, span).map(({ id, areaCm2 }) => [id, areaCm2])).toEqual([['a', 115_000]])
    expect(sumOfAreas(lyingOn(ground, '2026-01-01'))).toBe(9)
  })
})
