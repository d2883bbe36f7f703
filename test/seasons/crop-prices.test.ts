import { describe, expect, it } from 'vitest'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { type PriceFrom, priceAtLast, priceChange, priceOfSeason } from '../../src/seasons/crop-prices.ts'

const day = (text: string) => text as IsoDate
const prices: PriceFrom[] = [
  { from: null, minorPerKg: 300 },
  { from: day('2026-05-01'), minorPerKg: 350 },
  { from: day('2027-03-01'), minorPerKg: null },
]

describe('prices that hold from a day', () => {
  it('a season is worth what its last day says', () => {
    const worth = (endsOn: string) => priceOfSeason(prices, { endsOn: day(endsOn) })
    expect(['2026-04-30', '2026-05-01', '2027-02-28', '2027-03-01'].map(worth)).toEqual([300, 350, 350, null])
    expect(priceAtLast(prices)).toEqual(prices[2])
    expect(priceOfSeason([], { endsOn: day('2026-01-01') })).toBeNull()
  })

  it('another day keeps what held before it; the same day or none corrects the last price', () => {
    const change = (minorPerKg: number | null, from: string | null) =>
      priceChange(prices, { minorPerKg, from: from === null ? null : day(from) })
    expect(change(400, '2027-06-01')).toEqual({ from: '2027-06-01', minorPerKg: 400, until: null })
    expect(change(400, null)).toEqual({ from: '2027-03-01', minorPerKg: 400, until: null })
    expect(change(320, '2026-02-01')).toEqual({ from: '2026-02-01', minorPerKg: 320, until: '2026-05-01' })
    expect(change(300, '2026-02-01')).toBeNull()
    expect(change(null, null)).toBeNull()
  })

  it('the first price of all, without a day, holds from the beginning', () => {
    expect(priceChange([{ from: null, minorPerKg: null }], { minorPerKg: 250, from: null })).toEqual({
      ...{ from: null, minorPerKg: 250, until: null },
    })
  })
})
