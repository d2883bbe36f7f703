import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { sentenceOf } from '../../src/comparison/findings/findings-told.page.ts'
import { everyWay } from '../../src/comparison/matched/every-way.ts'
import { matchedSeason, plainRules } from '../../src/comparison/matched/matched-season.ts'
import { overSeasons } from '../../src/comparison/matched/over-seasons.ts'
import { whyTheGap } from '../../src/comparison/matched/why-the-gap.ts'
import { pictureFigures } from '../../src/comparison/pictures/picture-figures.page.ts'
import { got, pair, recordOf } from '../support/record.ts'

describe('one season, worked by hand', () => {
  // Carrots: 4 m2 each, 12 against 20 kg. Potatoes: 8 m2 each, 16 against nothing: a total loss.
  const record = recordOf([{ carrot: { m2: 4, a: 12, b: 20 }, potato: { m2: 8, a: 16, b: 0 } }])

  it('the loss stays in as zero, and both are weighed on one mix', () => {
    const found = got(matchedSeason(record, 's0', pair))
    // Mix 8 : 16 of m2. A: (3 x 8 + 2 x 16) / 24; B: (5 x 8 + 0) / 24.
    expect(found.rateA).toBeCloseTo(56 / 24, 12)
    expect(found.rateB).toBeCloseTo(40 / 24, 12)
    expect(found.logRatio).toBeCloseTo(Math.log(40 / 56), 12)
    expect(found.leavingOut?.high).toBeCloseTo(5 / 3, 12)
    expect(found.leavingOut?.low).toBe(0)
    // Each crop once: A 2x3/8 and 2x2/2, B 2x5/8 and 0.
    expect(found.cropsOnce.a).toBeCloseTo((0.75 + 2) / 2, 12)
    expect(found.cropsOnce.b).toBeCloseTo((1.25 + 0) / 2, 12)
  })

  it('is described, without an interval', () => {
    const [finding] = findingsOf(record, { seasonIds: ['s0'], referenceId: 'dug', questionLocked: false })
    expect(finding?.code).toBe('one season')
    const sentence = finding ? sentenceOf(finding, 'en') : ''
    expect(sentence).toContain('Long Bank (Mulch) gave 0.71 times')
    expect(sentence).toContain('One season has no interval')
    expect(sentence).toContain('cannot tell the method from the plot')
  })

  it('a total failure is told with its zero, never as nothing to compare', () => {
    const [finding] = findingsOf(recordOf([{ carrot: { m2: 4, a: 8, b: 0 } }]), {
      ...{ seasonIds: ['s0'], referenceId: 'dug', questionLocked: false },
    })
    expect(finding).toMatchObject({ code: 'failed season', failedA: [], failedB: ['s0'], rateA: 2, rateB: 0, ratio: 0 })
    expect(finding ? sentenceOf(finding, 'en') : '').toContain(
      'Nothing of the matched crops came off Long Bank (Mulch) in s0',
    )
  })

  it('refuses a side without a gram, and gardens without a common crop', () => {
    expect(matchedSeason(recordOf([{ carrot: { m2: 4, a: 0, b: 3 } }]), 's0', pair)).toMatchObject({
      reason: 'zero total',
    })
    expect(matchedSeason(recordOf([{}]), 's0', pair)).toMatchObject({ reason: 'nothing in common' })
  })
})

describe('over the seasons, worked by hand', () => {
  const grown = (b: number) => ({ carrot: { m2: 4, a: 10, b: 10 * b } })

  it('three seasons have the plain t of their log ratios', () => {
    const found = got(overSeasons(recordOf([grown(1.2), grown(1.5), grown(1.35)]), ['s0', 's1', 's2'], pair))
    const logs = [Math.log(1.2), Math.log(1.5), Math.log(1.35)]
    const mean = logs.reduce((sum, log) => sum + log, 0) / 3
    const sd = Math.sqrt(logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / 2)
    const contrast = got(found.contrast)
    expect(contrast.estimate).toBeCloseTo(mean, 9)
    // 4.30265272975 is the 0.975 quantile of t on 2 degrees of freedom.
    expect(contrast.high - contrast.estimate).toBeCloseTo((4.30265272975 * sd) / Math.sqrt(3), 9)
    expect(found.estimand).toBe('thesePlots')
  })

  it('several pairs of a question widen it for all of them (Bonferroni), and turn what one pair alone would tell', () => {
    const record = recordOf([grown(1.12), grown(1.3), grown(1.2)])
    const logs = [1.12, 1.3, 1.2].map(Math.log)
    const mean = logs.reduce((sum, log) => sum + log, 0) / 3
    const sd = Math.sqrt(logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / 2)
    // The 0.975, 0.9875 and 0.99375 quantiles of t on 2 degrees of freedom (R 4.2.2, qt).
    for (const [comparisons, t, told] of [
      [1, 4.30265273, true],
      [2, 6.205346817, false],
      [4, 8.860200035, false],
    ] as const) {
      const contrast = got(got(overSeasons(record, ['s0', 's1', 's2'], pair, { comparisons })).contrast)
      expect(contrast.high - contrast.estimate).toBeCloseTo((t * sd) / Math.sqrt(3), 7)
      expect([comparisons, contrast.low > 0]).toEqual([comparisons, told])
    }
  })

  it('alike within a margin is what two one-sided tests of 5 % each say', () => {
    const record = recordOf([1.01, 0.99, 1.02, 0.98, 1].map((ratio) => ({ carrot: { m2: 4, a: 10, b: 10 * ratio } })))
    const logs = [1.01, 0.99, 1.02, 0.98, 1].map(Math.log)
    const mean = logs.reduce((sum, log) => sum + log, 0) / 5
    const se = Math.sqrt(logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / 4 / 5)
    // The 0.95 quantile of t on 4 degrees of freedom: 2.131846786 (R 4.2.2, qt).
    const reach = Math.abs(mean) + 2.131846786 * se
    const seasonIds = ['s0', 's1', 's2', 's3', 's4']
    const code = (marginPercent: number) =>
      findingsOf(record, { seasonIds, referenceId: 'dug', questionLocked: true, marginPercent })[0]?.code
    const border = 100 * (Math.exp(reach) - 1)
    expect([code(border * 1.02), code(border * 0.98)]).toEqual(['alike', 'not seen'])
  })

  it('a season that failed on one side is never dropped from the mean: all together it gave less, and no interval is shown', () => {
    const record = recordOf([
      { carrot: { m2: 4, a: 2, b: 2.9 } },
      { carrot: { m2: 4, a: 2.1, b: 0 } },
      { carrot: { m2: 4, a: 2.3, b: 3.2 } },
    ])
    const [finding, ...others] = findingsOf(record, {
      ...{ seasonIds: ['s0', 's1', 's2'], referenceId: 'dug', questionLocked: true, marginPercent: 20 },
    })
    // 6.1 kg against 6.4 kg on 4 m2 in three seasons.
    expect(finding).toMatchObject({ code: 'failed season', failedB: ['s1'], seasons: 3 })
    expect(finding && 'ratio' in finding ? finding.ratio : 0).toBeCloseTo(6.1 / 6.4, 12)
    expect(others.filter((one) => 'low' in one)).toEqual([])
    expect(everyWay(record, ['s0', 's1', 's2'], pair).counted).toBe(0)
  })

  it('where the crops change, only those of all seasons are compared', () => {
    const record = recordOf([
      { carrot: { m2: 4, a: 10, b: 12 }, leek: { m2: 4, a: 1, b: 9 } },
      { carrot: { m2: 4, a: 10, b: 11 } },
    ])
    const found = got(overSeasons(record, ['s0', 's1'], pair))
    expect(found.constantCrops).toEqual(['carrot, x'])
    expect(found.seasons[0]?.logRatio).toBeCloseTo(Math.log(1.2), 12)
  })

  it('where no crop stood in all the seasons, they are not taken together', () => {
    // Leek, carrot, kale in three years, 1.20, 1.22 and 1.24 times: no crop is common, so no mean of the three.
    const record = recordOf([
      { leek: { m2: 4, a: 10, b: 12 } },
      { carrot: { m2: 4, a: 10, b: 12.2 } },
      { kale: { m2: 4, a: 10, b: 12.4 } },
    ])
    const seasonIds = ['s0', 's1', 's2']
    expect(overSeasons(record, seasonIds, pair)).toMatchObject({ reason: 'nothing in common' })
    const found = findingsOf(record, { seasonIds, referenceId: 'dug', questionLocked: true })
    expect(found).toEqual([expect.objectContaining({ code: 'nothing matched', unlikeSeasons: 3 })])
    expect(found.map((one) => sentenceOf(one, 'en')).join('')).toContain('in 3 seasons, but no crop in all of them')
    expect(everyWay(record, seasonIds, pair).counted).toBe(0)
    // Each of them by itself is described.
    expect(got(overSeasons(record, ['s2'], pair)).seasons[0]?.logRatio).toBeCloseTo(Math.log(1.24), 12)
  })

  it('the ways of counting are held against the rules of the question, and so is the picture of them', () => {
    // On 9 and 1 m2. All weight by area 111.1 over 100, alike 0.795; marketable by area 0.859, alike 0.655.
    const base = recordOf([1, 2, 3].map(() => ({ carrot: { m2: 9, a: 90, b: 81.9 }, leek: { m2: 1, a: 10, b: 4 } })))
    const plantings = base.plantings.map((one) =>
      one.crop === 'carrot' && one.bedId === 'b' ? { ...one, unmarketableG: 25_200 } : one,
    )
    const record = { ...base, plantings }
    const seasonIds = ['s0', 's1', 's2']
    const rules = { ...plainRules, weights: 'all' } as const
    const [finding] = findingsOf(record, { seasonIds, referenceId: 'dug', questionLocked: true, rules })
    if (finding?.code !== 'seen') throw new Error(finding?.code)
    expect(finding.ratio).toBeCloseTo(1.111, 12)
    const { ways, counted, sameOrder, turning } = finding.everyWay
    expect([ways[0]?.rules, ways[0]?.ratio]).toEqual([rules, finding.ratio])
    expect([counted, sameOrder, turning]).toEqual([8, 2, ['weights', 'mix']])
    const pictured = {
      referenceId: 'dug',
      otherIds: ['mulch'],
      rules,
      comparisonsOf: () => 1,
      wanted: ['ways'] as const,
    }
    expect(pictureFigures(record, seasonIds, pictured)).toMatchObject([
      { ways: [{ rules }, {}, {}, {}, {}, {}, {}, {}] },
    ])
  })

  it('"not seen" says the smallest difference that would have been', () => {
    const record = recordOf([grown(1.4), grown(0.8), grown(1.1)])
    const [finding] = findingsOf(record, { seasonIds: ['s0', 's1', 's2'], referenceId: 'dug', questionLocked: false })
    expect(finding?.code).toBe('not seen')
    expect(finding ? sentenceOf(finding, 'en') : '').toMatch(
      /A true ratio between 0\.\d\d and \d\.\d\d would often have stayed unseen/,
    )
    expect(finding).toMatchObject({ certainty: { method: 'cannot be told from the plot' } })
  })

  it('equal seasons have no spread, and no figure turns into NaN', () => {
    const record = recordOf([grown(1.3), grown(1.3), grown(1.3)])
    const findings = findingsOf(record, { seasonIds: ['s0', 's1', 's2'], referenceId: 'dug', questionLocked: true })
    expect(numbersIn(findings).filter((value) => !Number.isFinite(value))).toEqual([])
    expect(numbersIn(findings).length).toBeGreaterThan(10)
    expect(findings[0]).toMatchObject({ code: 'seen' })
  })
})

/** Every number anywhere in an answer. */
function numbersIn(value: unknown): number[] {
  if (typeof value === 'number') return [value]
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(numbersIn) : []
}

const crop = fc.record({ m2: fc.integer({ min: 1, max: 40 }), a: fc.nat({ max: 90 }), b: fc.nat({ max: 90 }) })
const season = fc.dictionary(fc.constantFrom('carrot', 'potato', 'leek', 'kale'), crop, { minKeys: 1 })

describe('whatever was grown', () => {
  it('exchanged methods invert the ratio, and rows in another order change nothing', () => {
    fc.assert(
      fc.property(season, (grown) => {
        const record = recordOf([grown])
        const [there, back] = [
          matchedSeason(record, 's0', pair),
          matchedSeason(record, 's0', { methodA: 'mulch', methodB: 'dug' }),
        ]
        expect(there.kind).toBe(back.kind)
        if (there.kind === 'answer' && back.kind === 'answer') expect(there.logRatio).toBeCloseTo(-back.logRatio, 10)
        const turned = { ...record, plantings: [...record.plantings].reverse() }
        expect(matchedSeason(turned, 's0', pair)).toEqual(there)
      }),
    )
  })

  it('a loss never raises a yield', () => {
    fc.assert(
      fc.property(season, fc.nat({ max: 3 }), (grown, which) => {
        const before = recordOf([grown])
        const lost = before.plantings.filter((one) => one.bedId === 'b')[which]?.id
        const plantings = before.plantings.map((one) => (one.id === lost ? { ...one, marketableG: 0 } : one))
        const [one, other] = [matchedSeason(before, 's0', pair), matchedSeason({ ...before, plantings }, 's0', pair)]
        if (one.kind === 'answer' && other.kind === 'answer') expect(other.rateB).toBeLessThanOrEqual(one.rateB + 1e-12)
      }),
    )
  })

  it('twice the ground and twice the weight change no ratio; the four parts add up', () => {
    fc.assert(
      fc.property(season, (grown) => {
        const doubled = Object.fromEntries(
          Object.entries(grown).map(([name, one]) => [name, { m2: 2 * one.m2, a: 2 * one.a, b: 2 * one.b }]),
        )
        const [one, two] = [
          matchedSeason(recordOf([grown]), 's0', pair),
          matchedSeason(recordOf([doubled]), 's0', pair),
        ]
        if (one.kind === 'answer' && two.kind === 'answer') expect(two.logRatio).toBeCloseTo(one.logRatio, 10)
        const gap = got(whyTheGap(recordOf([grown]), 's0', pair))
        const parts = gap.intensity + gap.mix + gap.growth + gap.onlyB - gap.onlyA
        expect(parts).toBeCloseTo(gap.crudeB - gap.crudeA, 9)
      }),
    )
  })

  it('every way of counting holds the plain one, and no more ways than there are', () => {
    fc.assert(
      fc.property(fc.array(season, { minLength: 1, maxLength: 3 }), (seasons) => {
        const found = everyWay(
          recordOf(seasons),
          seasons.map((_, i) => `s${i}`),
          pair,
        )
        expect(found.ways).toHaveLength(8)
        expect(found.sameOrder ?? 0).toBeLessThanOrEqual(found.counted)
        expect(found.low).toBeLessThanOrEqual(found.high)
      }),
    )
  })
})
