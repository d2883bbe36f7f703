import fc from 'fast-check'
import { expect, it } from 'vitest'
import { deal, turn } from '../../src/planning/deal.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { seedOf } from '../../src/statistics/seed-of.ts'

const places = (holders: readonly number[]) =>
  holders.flatMap((size, h) => Array.from({ length: size }, (_, i) => ({ id: `${h}.${i}`, holder: String(h) })))

it('a draw gives every method as often as any other, in all and within each holder as far as it goes round', () => {
  const holders = fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 6 })
  fc.assert(
    fc.property(holders, fc.integer({ min: 2, max: 4 }), fc.string(), (sizes, methods, seed) => {
      const methodIds = ['A', 'B', 'C', 'D'].slice(0, methods)
      const all = places(sizes)
      const dealt = deal(all, methodIds, chanceFrom(seedOf(seed)))
      expect(dealt.size).toBe(all.length)
      const counts = (own: typeof all) => methodIds.map((id) => own.filter((one) => dealt.get(one.id) === id).length)
      const spread = (own: typeof all) => Math.max(...counts(own)) - Math.min(...counts(own))
      expect(spread(all)).toBeLessThanOrEqual(1)
      for (const h of sizes.keys()) expect(spread(all.filter((one) => one.holder === String(h)))).toBeLessThanOrEqual(1)
      expect(deal(all, methodIds, chanceFrom(seedOf(seed)))).toEqual(dealt)
    }),
  )
})

it('over many seeds each method comes to each place alike', () => {
  const first = places([4, 4])
  const times = new Map<string, number>()
  for (let seed = 0; seed < 2000; seed++) {
    for (const [id, method] of deal(first, ['A', 'B'], chanceFrom(seedOf(String(seed))))) {
      if (method === 'A') times.set(id, (times.get(id) ?? 0) + 1)
    }
  }
  // Binomial with n 2000 and p 1/2: standard deviation 22.4; four of them on either side.
  for (const place of first) expect(Math.abs((times.get(place.id) ?? 0) - 1000)).toBeLessThan(90)
})

it('a turn moves each garden on by one, and over as many seasons as methods each has had each', () => {
  const gardens = places([3])
  const methodIds = ['A', 'B', 'C']
  const first = turn(gardens, methodIds, new Map())
  const second = turn(gardens, methodIds, first)
  const third = turn(gardens, methodIds, second)
  for (const { id } of gardens) expect([first, second, third].map((one) => one.get(id)).sort()).toEqual(methodIds)
  expect(turn(gardens, methodIds, third)).toEqual(first)
})

it('a seed is a whole number below 2^48, apart for words that differ by a letter', () => {
  const seeds = ['hay', 'hax', 'Hay', 'hay ', ''].map(seedOf)
  expect(new Set(seeds).size).toBe(5)
  for (const seed of seeds) expect(Number.isSafeInteger(seed) && seed >= 0 && seed < 2 ** 48).toBe(true)
})
