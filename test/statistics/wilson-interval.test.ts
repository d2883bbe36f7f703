import { describe, expect, it } from 'vitest'
import { cameBack } from '../../src/decisions/came-back.ts'
import { wilsonInterval } from '../../src/statistics/wilson-interval.ts'
import { aDay } from '../support/calendar.ts'

// Newcombe 1998, Statistics in Medicine 17:857-872, table I, method 3 (its four decimals from memory); more of them by
// R 4.2.2: prop.test(events, n, correct = FALSE)$conf.int.
const published = [
  { events: 81, n: 263, low: 0.2552885, high: 0.3662096 },
  { events: 15, n: 148, low: 0.0623864, high: 0.1604872 },
  { events: 0, n: 20, low: 0, high: 0.1611252 },
  { events: 1, n: 29, low: 0.006113214, high: 0.171755219 },
  { events: 1, n: 1, low: 0.2065493, high: 1 },
]

describe('the score interval of a share', () => {
  for (const { events, n, low, high } of published)
    it(`${events} of ${n}`, () => {
      const found = wilsonInterval({ events, n })
      expect(found.low).toBeCloseTo(low, 6)
      expect(found.high).toBeCloseTo(high, 6)
      expect(found.centre).toBeGreaterThan(found.low)
      expect(found.centre).toBeLessThan(found.high)
    })
  it('at another level', () => {
    expect(wilsonInterval({ events: 81, n: 263 }, { level: 0.8 }).low).toBeCloseTo(0.2727881, 6)
  })
})

describe('what came back after a cover', () => {
  const lifted = (lastRegrowth: number | null) => ({
    ...{ bedId: 'b', fromDay: aDay('2024-03-01'), toDay: aDay('2025-03-01'), lastRegrowth },
  })
  it('counts covers that were lifted and counted, and no other', () => {
    const lying = { ...lifted(4), toDay: null }
    const found = cameBack({ closures: [lifted(0), lifted(3), lifted(null), lying] })
    expect(found).toMatchObject({ covers: 2, back: 1 })
    expect([found?.low, found?.high].map((one) => one?.toFixed(6))).toEqual(['0.094531', '0.905469'])
    expect(found?.middle).toBeCloseTo(0.5, 12)
    expect(cameBack({ closures: [lifted(null), lying] })).toBeNull()
  })
})
