import fc from 'fast-check'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { RefusalReason } from '../../src/statistics/answer.ts'
import { blockedAnova } from '../../src/statistics/blocked-anova.ts'
import { fitMixedModel } from '../../src/statistics/fit-mixed-model.ts'
import { linearModel } from '../../src/statistics/linear-model.ts'
import { poolSeasons } from '../../src/statistics/pool-seasons.ts'
import { stability } from '../../src/statistics/stability.ts'
import { tukeyHsd } from '../../src/statistics/tukey-hsd.ts'

// Whatever a grower's records hold, an answer has finite figures only, or there is a refusal with its reason.

const reasons: Record<RefusalReason, true> = {
  ...{ 'too few': true, 'no variation': true, 'zero total': true, 'zero mean': true, unbounded: true },
  ...{ 'nothing in common': true, 'not a number': true, 'out of range': true, 'no error term': true },
  ...{ aliased: true, incomplete: true, 'did not converge': true, 'only divided': true },
}

/** Where a figure is not finite, its path; a refusal, also one within an answer, needs a known reason. */
function flawsOf(found: unknown, path = ''): string[] {
  if (typeof found === 'number') return Number.isFinite(found) ? [] : [`${path} is ${found}`]
  if (found === undefined) return [`${path} is undefined`]
  if (typeof found !== 'object' || found === null) return []
  if ('kind' in found && found.kind === 'refused')
    return 'reason' in found && String(found.reason) in reasons ? [] : [`${path} refuses without a reason`]
  return Object.entries(found).flatMap(([key, value]) => flawsOf(value, `${path}.${key}`))
}

it('sees a figure that is not finite, and a refusal without a reason', () => {
  expect(flawsOf({ kind: 'answer', a: [1, Number.NaN], b: { c: Number.POSITIVE_INFINITY }, d: null })).toHaveLength(2)
  expect(flawsOf({ kind: 'answer', prediction: { kind: 'refused', reason: 'because' } })).toHaveLength(1)
  expect(flawsOf({ kind: 'refused', reason: 'too few', detail: '1' })).toEqual([])
})

/** Weights as they are written down: often equal, often nothing, at times very large, slipped, or not there at all. */
const value = fc.oneof(
  { weight: 4, arbitrary: fc.constantFrom(0, 1, 1, 2, 2.5, 3) },
  { weight: 4, arbitrary: fc.integer({ min: 0, max: 60 }).map((tenths) => tenths / 10) },
  { weight: 1, arbitrary: fc.constantFrom(0.1, 0.2, 0.3, 1e-9, 1e9, -1) },
)
const slipped = fc.oneof(
  { weight: 40, arbitrary: value },
  { weight: 1, arbitrary: fc.constantFrom(Number.NaN, Number.POSITIVE_INFINITY) },
)

/** What is done to a set of values: nothing, all made equal, all a sum of labels (so that nothing is left over), or tiny noise. */
type Made = 'as drawn' | 'equal' | 'wholly explained' | 'nearly equal' | 'rounded sums'
const made = fc.constantFrom<Made>('as drawn', 'as drawn', 'equal', 'wholly explained', 'nearly equal', 'rounded sums')

interface Plots {
  readonly y: number[]
  readonly treatment: string[]
  readonly block: string[]
  readonly part: string[]
}

/** Plots with labels of one to four levels; crossed, one a cell, or left to chance; blocks at times the treatments again. */
const plots: fc.Arbitrary<Plots> = fc
  .record({
    ...{ treatments: fc.integer({ min: 1, max: 4 }), blocks: fc.integer({ min: 1, max: 4 }) },
    ...{ parts: fc.integer({ min: 1, max: 3 }), repeats: fc.integer({ min: 1, max: 2 }), made },
    layout: fc.constantFrom('crossed', 'crossed', 'missing', 'blocks are treatments', 'a block each'),
    values: fc.array(slipped, { minLength: 96, maxLength: 96 }),
    gone: fc.array(fc.boolean(), { minLength: 96, maxLength: 96 }),
  })
  .map(({ treatments, blocks, parts, repeats, layout, values, gone, made: how }) => {
    const cells = range(treatments).flatMap((t) =>
      range(blocks).flatMap((b) => range(parts).flatMap((s) => range(repeats).map(() => [t, b, s] as const))),
    )
    const kept = layout === 'missing' ? cells.filter((_, i) => !gone[i]) : cells
    const y = kept.map(([t, b, s], i) => {
      const drawn = values[i] ?? 0
      if (how === 'equal') return values[0] ?? 0
      if (how === 'nearly equal') return 3 + 1e-12 * drawn
      if (how === 'wholly explained') return 2 + t + 3 * b + 5 * s
      if (how === 'rounded sums') return 0.1 + 0.1 * t + 0.7 * b + 0.3 * s
      return drawn
    })
    const blockOf = ([t, b]: readonly [number, number, number], i: number) =>
      layout === 'blocks are treatments' ? `b${t}` : layout === 'a block each' ? `b${i}` : `b${b}`
    return {
      ...{ y, treatment: kept.map(([t]) => `t${t}`), block: kept.map(blockOf), part: kept.map(([, , s]) => `s${s}`) },
    }
  })

const range = (count: number) => Array.from({ length: count }, (_, i) => i)
let seen = { answer: 0, refused: 0 }
const sound = (found: { readonly kind: 'answer' | 'refused' }): void => {
  expect(flawsOf(found)).toEqual([])
  seen[found.kind] += 1
}
const runs = { numRuns: 1500, seed: 27 }

describe('records of any kind give finite figures or a refusal, and some of both', () => {
  beforeEach(() => {
    seen = { answer: 0, refused: 0 }
  })
  afterEach(() => {
    expect(seen.answer).toBeGreaterThan(5)
    expect(seen.refused).toBeGreaterThan(5)
  })

  it('a linear model', () => {
    fc.assert(
      fc.property(plots, fc.boolean(), fc.boolean(), ({ y, treatment, block, part }, crossed, slope) => {
        const fixed = { block, treatment, part: slope ? part.map((label) => 2020 + Number(label.slice(1))) : part }
        sound(linearModel({ y, fixed, interactions: crossed ? ['treatment:part', 'block:treatment'] : [] }))
        sound(linearModel({ y, fixed: {} }))
      }),
      runs,
    )
  })

  it('blocked analysis of variance, whole and split', () => {
    fc.assert(
      fc.property(plots, ({ y, treatment, block, part }) => {
        const bare = y.map((one, i) => ({ value: one, treatment: treatment[i] ?? '' }))
        const blocked = bare.map((row, i) => ({ ...row, block: block[i] ?? '' }))
        sound(blockedAnova(bare))
        sound(blockedAnova(blocked))
        sound(blockedAnova(blocked.map((row, i) => ({ ...row, subplot: part[i] ?? '' }))))
        sound(blockedAnova(blocked.map((row, i) => (i % 2 ? row : { ...row, subplot: part[i] ?? '' }))))
      }),
      runs,
    )
  })

  it('a mixed model, by either degrees of freedom', () => {
    fc.assert(
      fc.property(plots, fc.boolean(), ({ y, treatment, block, part }, kenward) => {
        const df = kenward ? 'kenward-roger' : 'satterthwaite'
        sound(fitMixedModel({ y, fixed: { treatment }, random: { block }, df }))
        sound(fitMixedModel({ y, fixed: { treatment }, random: { part, block }, df }))
        sound(fitMixedModel({ y, fixed: { treatment, part }, random: { block, again: block, treatment }, df }))
        sound(
          fitMixedModel({
            y,
            fixed: { part: part.map((label) => 2020 + Number(label.slice(1))) },
            random: { block },
            df,
          }),
        )
        sound(fitMixedModel({ y, fixed: {}, random: {}, df }))
      }),
      { ...runs, numRuns: 300 },
    )
  })

  const group = fc.record({
    name: fc.constantFrom('a', 'b', 'c', 'd'),
    mean: slipped,
    n: fc.constantFrom(0, 1, 1, 2, 3, 10),
  })
  it('all pairs', () => {
    fc.assert(
      fc.property(
        fc.array(group, { maxLength: 5 }),
        fc.constantFrom(0, 1e-300, 1e-9, 0.5, 1, 100, 1e12, Number.NaN),
        fc.constantFrom(0, 2, 3, 10, 200, Number.NaN),
        fc.constantFrom(0.95, 0.9, 0.99),
        (groups, mse, df, level) => sound(tukeyHsd(groups, { mse, df, level })),
      ),
      { ...runs, numRuns: 40 },
    )
  })

  it('pooled seasons', () => {
    const effect = fc.record({
      estimate: fc.oneof(slipped, fc.constantFrom(1e-12, 0.2, 0.2)),
      variance: fc.constantFrom(0, 1e-12, 1e-9, 0.01, 0.01, 0.04, 1, 1e6, -1, Number.NaN, Number.POSITIVE_INFINITY),
    })
    const usual = fc.record({ estimate: value, variance: fc.constantFrom(1e-9, 0.01, 0.01, 0.04, 1, 1e6) })
    fc.assert(
      fc.property(
        fc.oneof(fc.array(effect, { maxLength: 7 }), fc.array(usual, { minLength: 2, maxLength: 7 })),
        fc.constantFrom('REML' as const, 'DL' as const, 'PM' as const),
        fc.constantFrom('HK' as const, 'mHK' as const, 'z' as const),
        (effects, tau2, interval) => sound(poolSeasons(effects, { tau2, interval })),
      ),
      runs,
    )
  })

  it('stability over seasons', () => {
    const cells = fc.record({
      ...{ methods: fc.integer({ min: 0, max: 4 }), seasons: fc.integer({ min: 0, max: 5 }), made },
      values: fc.array(slipped, { minLength: 20, maxLength: 20 }),
      short: fc.boolean(),
    })
    fc.assert(
      fc.property(cells, ({ methods, seasons, values, made: how, short }) => {
        const table = range(methods).map((m) =>
          range(seasons - Number(short && m === 1)).map((s) => {
            if (how === 'equal') return values[0] ?? 0
            if (how === 'nearly equal') return 3 + 1e-12 * (values[m * 5 + s] ?? 0)
            if (how === 'wholly explained') return m + 3 * s
            if (how === 'rounded sums') return (m % 2 ? -1 : 1) * 0.1 * s
            return values[m * 5 + s] ?? 0
          }),
        )
        sound(stability(table))
      }),
      runs,
    )
  })
})
