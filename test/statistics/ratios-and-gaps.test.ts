import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Refusal } from '../../src/statistics/answer.ts'
import { decomposeGap } from '../../src/statistics/decompose-gap.ts'
import { fiellerInterval } from '../../src/statistics/fieller-interval.ts'
import { meanOf, sdOf } from '../../src/statistics/moments.ts'
import { poolSeasons } from '../../src/statistics/pool-seasons.ts'
import { pt } from '../../src/statistics/pt.ts'
import { seasonContrast } from '../../src/statistics/season-contrast.ts'
import { splitGap } from '../../src/statistics/split-gap.ts'
import { stability } from '../../src/statistics/stability.ts'
import { standardiseMany } from '../../src/statistics/standardise-many.ts'
import { answered, close, hildebrand, table } from './close.ts'

/** The lower end, and a failure where there is none. */
function lowOf(prediction: { readonly low: number } | Refusal): number {
  if (!('low' in prediction)) throw new Error(`It was refused: ${prediction.reason}`)
  return prediction.low
}

describe('ratios', () => {
  it('log response ratios of 102 studies: Curtis & Wang 1998, Oecologia 113:299, as in Hedges et al. 1999', () => {
    const effects = table('curtis1998.csv').map((row) => {
      const of = (n: '1' | '2') => ({
        mean: Number(row[`m${n}i`]),
        sd: Number(row[`sd${n}i`]),
        n: Number(row[`n${n}i`]),
      })
      const [a, b] = [of('1'), of('2')]
      const [partA, partB] = [a, b].map(({ mean, sd, n }) => (sd * sd) / (n * mean * mean)) as [number, number]
      return { estimate: Math.log(a.mean / b.mean), variance: partA + partB }
    })
    close(effects[0]?.estimate ?? 0, 0.5469558688)
    close(effects[0]?.variance ?? 0, 0.03847154324)
    const pooled = answered(poolSeasons(effects, { tau2: 'DL', interval: 'z' }))
    close(pooled.estimate, 0.2530579231)
    close(pooled.se, 0.01847607567)
    close(pooled.tau2, 0.0216471367)
    close(pooled.q, 769.01851701)
    close(Math.exp(pooled.low), 1.24215215)
    close(Math.exp(pooled.high), 1.335452741)
  })

  it('plant growth: Dobson 1983, An Introduction to Statistical Modelling, table 7.1', () => {
    const of = (name: string) => {
      const own = table('plantgrowth.csv').filter((row) => row.group === name)
      const values = own.map((row) => Number(row.weight))
      return { mean: meanOf(values), sd: sdOf(values), n: values.length }
    }
    const [ctrl, one, two] = [of('ctrl'), of('trt1'), of('trt2')]
    const mse = 0.388595925926 / 10
    const input = { varA: mse, varB: mse, cov: 0, df: 27, level: 0.95, b: ctrl.mean }
    const fieller = answered(fiellerInterval({ a: two.mean, ...input }))
    close(fieller.g, 0.006461003074)
    close(fieller.low, 0.985327561964)
    close(fieller.high, 1.225298703357)
    const lower = answered(fiellerInterval({ a: one.mean, ...input }))
    close(lower.low, 0.822210184552)
    close(lower.high, 1.042380662835)
  })

  it('fourteen farms: Hildebrand 1984, Agronomy Journal 76:271', () => {
    const effects = hildebrand.LMF.map((value, i) => Math.log(value / (hildebrand.LM[i] ?? 1)))
    const contrast = answered(seasonContrast(effects))
    close(contrast.estimate, 0.7004165165)
    close(Math.exp(contrast.low), 1.585943066)
    close(Math.exp(contrast.high), 2.559095327)
  })

  it('refuses a denominator that may be zero', () => {
    const unsure = { a: 1, b: 0.1, varA: 1, varB: 1, cov: 0, df: 5, level: 0.95 }
    expect(fiellerInterval(unsure)).toMatchObject({ kind: 'refused', reason: 'unbounded' })
  })
})

describe('why two rates differ', () => {
  // Das Gupta 1993, Standardization and Decomposition of Rates, US Bureau of the Census P23-186, example 5.1.
  const w1970 = [12.9, 10.9, 9.5, 8, 7.8, 8.4, 8.6, 7.8, 7, 5.9, 4.7, 3.6, 4.9]
  const w1985 = [10.1, 11.2, 11.6, 10.9, 9.4, 7.7, 6.3, 6, 6.3, 5.9, 5.1, 4, 5.5]
  const r1970 = [1.9, 25.8, 45.7, 49.6, 51.2, 51.6, 51.8, 54.9, 58.7, 60.4, 62.8, 66.6, 66.8]
  const r1985 = [2.2, 24.3, 45.8, 52.5, 56.1, 55.6, 56, 57.4, 57.2, 61.2, 63.9, 68.6, 72.2]
  const rates = (weights: number[], values: number[]) =>
    weights.map((weight, i) => ({ key: String(i), weight, rate: values[i] ?? 0 }))

  it('Das Gupta 1993, example 5.1', () => {
    const found = answered(decomposeGap(rates(w1970, r1970), rates(w1985, r1985)))
    close(found.crudeA, 44.7268)
    close(found.crudeB, 47.694)
    expect(found.rateEffect).toBeCloseTo(1.7403, 4)
    expect(found.mixEffect).toBeCloseTo(1.2269, 4)
    expect([found.uncoveredA, found.uncoveredB]).toEqual([0, 0])
  })

  it('Das Gupta 1993, example 2.1: two factors of two populations', () => {
    const found = answered(
      standardiseMany([
        { a: 10_930, b: 0.717892 },
        { a: 16_591, b: 0.825974 },
      ]),
    )
    close(found.crude[0] ?? 0, 7846.56, 1e-6)
    expect((found.standardised.a?.[1] ?? 0) - (found.standardised.a?.[0] ?? 0)).toBeCloseTo(4369.913, 2)
    expect((found.standardised.b?.[1] ?? 0) - (found.standardised.b?.[0] ?? 0)).toBeCloseTo(1487.262, 2)
  })

  // Worked by hand and in R for this project: two gardens, four crops; B is faster crop by crop and slower in total.
  const crops = ['potato', 'lettuce', 'tomato', 'bean']
  const areas = { A: [40, 10, 20, 30], B: [10, 30, 40, 20], C: [25, 25, 25, 25] }
  const yields = { A: [3, 2, 5, 1.5], B: [2.5, 2.2, 6, 1.4], C: [2.8, 2.6, 4.4, 1.2] }
  const garden = (g: 'A' | 'B') => crops.map((key, i) => ({ key, weight: areas[g][i] ?? 0, rate: yields[g][i] ?? 0 }))

  it('kilograms per m2 by area shares, hours per kilogram by kilogram shares', () => {
    const found = answered(decomposeGap(garden('A'), garden('B')))
    close(found.rateEffect, 0.19)
    close(found.mixEffect, 0.55)
    close(found.byKey[2]?.mixEffect ?? 0, 1.1)
    const hours = { A: [20, 15, 40, 25], B: [6, 40, 70, 20] }
    const perKg = (g: 'A' | 'B') =>
      crops.map((key, i) => {
        const kg = (areas[g][i] ?? 0) * (yields[g][i] ?? 0)
        return { key, weight: kg, rate: (hours[g][i] ?? 0) / kg }
      })
    const labour = answered(decomposeGap(perKg('A'), perKg('B')))
    close(labour.crudeA, 0.350877193)
    close(labour.crudeB, 0.3788300836)
    close(labour.rateEffect, -0.03678590204)
    close(labour.mixEffect, 0.06473879262)
  })

  it('three gardens at once, whose differences add up', () => {
    const found = answered(
      standardiseMany(
        (['A', 'B', 'C'] as const).map((g) => ({ mix: areas[g].map((area) => area / 100), rate: yields[g] })),
      ),
    )
    for (const [i, value] of [2.995833333, 3.1975, 2.806666667].entries())
      close(found.standardised.rate?.[i] ?? 0, value)
    for (const [i, value] of [2.790833333, 3.329166667, 2.88].entries()) close(found.standardised.mix?.[i] ?? 0, value)
  })

  const ground = fc.record({
    bedArea: fc.double({ min: 1, max: 500, noNaN: true }),
    crops: fc.uniqueArray(
      fc.record({
        key: fc.constantFrom('a', 'b', 'c', 'd', 'e'),
        plantedArea: fc.double({ min: 0.1, max: 100, noNaN: true }),
        kg: fc.double({ min: 0, max: 500, noNaN: true }),
      }),
      { selector: (crop) => crop.key, maxLength: 5 },
    ),
  })

  it('the parts add up to the gap, whatever was grown; exchanged gardens turn its sign; order does not matter', () => {
    fc.assert(
      fc.property(ground, ground, (a, b) => {
        const found = answered(splitGap(a, b))
        const parts = found.intensity + found.mix + found.growth + found.onlyB - found.onlyA
        expect(parts).toBeCloseTo(found.crudeB - found.crudeA, 8)
        const turned = answered(splitGap(b, a))
        expect(turned.growth).toBeCloseTo(-found.growth, 8)
        expect(turned.intensity).toBeCloseTo(-found.intensity, 8)
        const shuffled = answered(splitGap({ ...a, crops: [...a.crops].reverse() }, b))
        expect(shuffled.growth).toBeCloseTo(found.growth, 8)
      }),
    )
  })

  it('scaling all weights leaves both effects', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1000, noNaN: true }), (by) => {
        const scaled = garden('A').map((one) => ({ ...one, weight: one.weight * by }))
        expect(answered(decomposeGap(scaled, garden('B'))).mixEffect).toBeCloseTo(0.55, 8)
      }),
    )
  })

  it('refuses ground without an area and gardens without a common crop', () => {
    expect(splitGap({ bedArea: 0, crops: [] }, { bedArea: 1, crops: [] })).toMatchObject({ reason: 'zero total' })
    expect(decomposeGap([{ key: 'a', weight: 1, rate: 1 }], [])).toMatchObject({ reason: 'nothing in common' })
  })
})

describe('over the seasons', () => {
  // Immer, Hayes & Powers 1934, J Am Soc Agron 26:403: varieties T and S at six places in two years.
  it('two seasons carry what two seasons carry, not what twelve cells would', () => {
    const year = (column: 'Y1' | 'Y2') => {
      const rows = table('mass-immer.csv')
      const of = (variety: string) => rows.filter((row) => row.Var === variety).map((row) => Number(row[column]))
      return meanOf(of('T').map((value, i) => Math.log(value / (of('S')[i] ?? 1))))
    }
    const effects = [year('Y1'), year('Y2')]
    close(effects[0] ?? 0, 0.216393302)
    close(effects[1] ?? 0, 0.305242265)
    const found = answered(seasonContrast(effects))
    close(Math.exp(found.estimate), 1.29799113)
    close(Math.exp(found.low), 0.738120072)
    close(Math.exp(found.high), 2.28252968)
    close(2 * pt(found.estimate / found.se, 1, { upper: true }), 0.107403224)
    expect(seasonContrast([0.2])).toMatchObject({ kind: 'refused', reason: 'too few' })
    const wider = answered(seasonContrast([0.1, 0.2, 0.3], { comparisons: 10 }))
    expect(wider.high - wider.low).toBeGreaterThan(0.6)
  })

  // Colditz et al. 1994, JAMA 271:698: thirteen trials, log risk ratios.
  const bcg = table('bcg.csv').map((row) => {
    const [tp, tn, cp, cn] = [Number(row.tpos), Number(row.tneg), Number(row.cpos), Number(row.cneg)]
    const [t, c] = [tp + tn, cp + cn]
    return { estimate: Math.log(tp / t / (cp / c)), variance: 1 / tp - 1 / t + 1 / cp - 1 / c }
  })

  it('thirteen trials, by three estimators (values of R metafor 3.8-1)', () => {
    const dl = answered(poolSeasons(bcg, { tau2: 'DL', interval: 'HK' }))
    close(dl.tau2, 0.30876026)
    close(dl.q, 152.2330081)
    close(dl.low, -1.10782135)
    const pm = answered(poolSeasons(bcg, { tau2: 'PM', interval: 'HK' }))
    close(pm.tau2, 0.318068452205)
    close(pm.estimate, -0.714968153493)
    close(pm.low, -1.109098381)
    const reml = answered(poolSeasons(bcg, { tau2: 'REML', interval: 'z' }))
    close(reml.tau2, 0.313243261144)
    close(reml.estimate, -0.714532342433)
    close(reml.se, 0.1797815168)
    close(reml.i2, 92.221385)
    close(lowOf(reml.prediction), -2.008376051)
  })

  it('few seasons: z says seen, Hartung and Knapp say not (values of R metafor 3.8-1)', () => {
    const y = [0.2875047158, 0.0315920818, 0.3607160974, 0.0463955331, -0.1499381554, 0.1927622447]
    const v = [0.00716397529, 0.01434798267, 0.01173550156, 0.00228959641, 0.06770420324, 0.01605612818]
    const six = y.map((estimate, i) => ({ estimate, variance: v[i] ?? 1 }))
    const z = answered(poolSeasons(six, { interval: 'z' }))
    close(z.tau2, 0.0136962652, 1e-5)
    close(z.low, 0.02947348, 1e-5)
    const hk = answered(poolSeasons(six, { interval: 'HK' }))
    close(hk.low, -0.01023534, 1e-4)
    const three = answered(poolSeasons(six.slice(0, 3), { interval: 'HK' }))
    close(three.low, -0.17383452, 1e-5)
    close(lowOf(three.prediction), -1.6804932, 1e-5)
    expect(answered(poolSeasons(six.slice(0, 2))).prediction).toMatchObject({ kind: 'refused', reason: 'too few' })
  })

  it('stability of four systems on fourteen farms: Hildebrand 1984; variances as Piepho 1998 prints them', () => {
    const found = answered(stability([hildebrand.LM, hildebrand.LMF, hildebrand.CCA, hildebrand.CCAF])).methods
    const published = [0.2996, 0.9185, 1.11, 1.966]
    for (const [i, value] of published.entries()) close(found[i]?.variance ?? 0, value, 1e-3)
    const shukla = [0.4000915751, 0.0893223443, 0.299981685, 0.6213003663]
    const superiority = [1.5639285714, 0.1092857143, 1.7867857143, 0.0885714286]
    const slope = [0.507046558, 0.98556729, 1.038951336, 1.468434815]
    const deviation = [0.099264519, 0.143716253, 0.256676274, 0.23974435]
    for (const [i, one] of found.entries()) {
      close(one.shukla ?? 0, shukla[i] ?? 0)
      close(one.superiority, superiority[i] ?? 0)
      close(one.slope, slope[i] ?? 0)
      close(one.deviation, deviation[i] ?? 0)
    }
  })
})
