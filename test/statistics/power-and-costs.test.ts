import { describe, expect, it } from 'vitest'
import { capitalRecovery } from '../../src/statistics/capital-recovery.ts'
import { equivalence } from '../../src/statistics/equivalence.ts'
import { fitOrganicMatter } from '../../src/statistics/fit-organic-matter.ts'
import { missingWeekBounds } from '../../src/statistics/missing-week-bounds.ts'
import { meanOf, sdOf } from '../../src/statistics/moments.ts'
import { newcombeDifference } from '../../src/statistics/newcombe-difference.ts'
import { organicMatter } from '../../src/statistics/organic-matter.ts'
import { powerOf } from '../../src/statistics/power-of.ts'
import { smallestDetectable } from '../../src/statistics/smallest-detectable.ts'
import { straightLine } from '../../src/statistics/straight-line.ts'
import { answered, close, table } from './close.ts'

describe('power, equivalence, losses', () => {
  it('power by the noncentral t, both tails (R power.t.test, strict)', () => {
    close(answered(powerOf({ n: 6, difference: 0.3, sd: 0.25 })).power, 0.4675230114)
    close(answered(powerOf({ n: 20, difference: 0.5, sd: 1 })).power, 0.3379390289, 1e-4)
    // R looks for its root to 1.2e-4 by default and stops at a power of 0.8000026 in the first of these: hence 1e-5.
    for (const [design, value] of [
      [{ n: 6, sd: 0.25 }, 0.44888675],
      [{ n: 4, sd: 0.2 }, 0.4761519179],
      [{ n: 5, sd: 0.3, paired: true }, 0.5045997115],
    ] as const) {
      const { difference } = answered(smallestDetectable({ ...design, power: 0.8 }))
      close(difference, value, 1e-5)
      close(answered(powerOf({ ...design, difference })).power, 0.8, 1e-12)
    }
    expect(powerOf({ n: 1, difference: 1, sd: 1 })).toMatchObject({ kind: 'refused' })
  })

  it('two one-sided tests: Schuirmann 1987, on Hildebrand’s farms and on Student’s sleep data', () => {
    const found = answered(equivalence(-0.1215381875, 0.08804196554, 13, Math.log(1.25)))
    close(found.p, 0.1346263579)
    close(Math.exp(found.low90), 0.7577099301)
    close(Math.exp(found.high90), 1.034976033)
    expect(found.equivalent).toBe(false)
    const rows = table('sleep.csv')
    const of = (group: string) => rows.filter((row) => row.group === group).map((row) => Number(row.extra))
    const differences = of('2').map((value, i) => value - (of('1')[i] ?? 0))
    const sleep = answered(equivalence(meanOf(differences), sdOf(differences) / Math.sqrt(10), 9, 2))
    close(sleep.p, 0.1541572357)
    close(sleep.low90, 0.866994733)
    close(sleep.high90, 2.293005267)
  })

  it('Newcombe 1998, Statistics in Medicine 17:873, method 10', () => {
    const found = answered(newcombeDifference({ events: 56, n: 70 }, { events: 48, n: 80 }))
    close(found.difference, 0.2)
    close(found.low, 0.05243147)
    close(found.high, 0.3338727)
  })
})

describe('costs, soil, missing weeks', () => {
  it('capital recovery: Iowa State University Extension, Ag Decision Maker A3-29', () => {
    close(
      answered(capitalRecovery({ price: 93_500, salvage: 25_300, years: 15, rate: 0.05 })).yearlyCost,
      7835.544,
      1e-6,
    )
    close(answered(capitalRecovery({ price: 2000, salvage: 200, years: 15, rate: 0.05 })).yearlyCost, 183.4161177)
    close(answered(straightLine({ price: 2000, salvage: 200, years: 15 })).yearlyCost, 120)
    close(answered(capitalRecovery({ price: 1, salvage: 0, years: 10, rate: 0.1 })).yearlyCost, 0.16274539488)
    expect(straightLine({ price: 1, salvage: 0, years: 0 })).toMatchObject({ kind: 'refused' })
  })

  it('organic matter levels off: Henin & Dupuis 1945', () => {
    const given = { start: 4000, input: 600, humified: 0.3, decay: 0.02, years: 100 }
    const steady = answered(organicMatter(given))
    close(steady.levelOff, 9000)
    close(steady.halfTime, 34.65735903)
    close(steady.course[50]?.stock ?? 0, 7160.602794)
    const yearly = answered(organicMatter({ ...given, form: 'discrete' }))
    close(yearly.course[100]?.stock ?? 0, 8336.902221)
    close(yearly.halfTime, 34.30961849)
    const tests = [0, 5, 10, 20, 40, 60].map((year) => ({ year, stock: steady.course[year]?.stock ?? 0 }))
    const fitted = answered(fitOrganicMatter(tests, { input: 600, humified: 0.3 }))
    close(fitted.decay.estimate, 0.02, 1e-5)
    close(fitted.start.estimate, 4000, 1e-4)
    expect(fitOrganicMatter(tests.slice(0, 2), { input: 1, humified: 1 })).toMatchObject({ reason: 'too few' })
  })

  it('worst-case bounds: Manski 1989; 12 unknown weeks of 8 hours at most', () => {
    expect(missingWeekBounds({ observed: 95, missing: 12, low: 0, high: 8 })).toMatchObject({ low: 95, high: 191 })
    expect(missingWeekBounds({ observed: 95, missing: 12, low: 9, high: 8 })).toMatchObject({ kind: 'refused' })
  })
})
