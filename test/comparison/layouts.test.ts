import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { aboutMethods } from '../../src/comparison/findings/about-methods.ts'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { sentenceOf } from '../../src/comparison/findings/findings-told.page.ts'
import { methodCertainty } from '../../src/comparison/findings/layout-contrast.ts'
import { methodsTogether } from '../../src/comparison/findings/methods-together.ts'
import { plotModel, seasonsTogether } from '../../src/comparison/findings/seasons-together.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { got } from '../support/record.ts'

/**
 * Gardens written as "A1.2 B0.9 | A1": a letter for the method and a weight in kg for every bed, one garden between bars; seasons
 * as a list. One cultivar stands on 1 m2 of every bed.
 */
function laid(seasons: readonly string[], { how = 'random', blocks = false, sites = false } = {}): TrialRecord {
  const read = (words: string) =>
    words.split('|').map((beds) =>
      beds
        .trim()
        .split(/\s+/)
        .map((bed) => [bed[0] ?? '', Number(bed.slice(1))] as const),
    )
  const first = read(seasons[0] ?? '')
  const ids = seasons.map((_, i) => `s${i}`)
  const at = (season: number) =>
    read(seasons[season] ?? '').flatMap((own, g) => own.map(([method, kg], b) => ({ g, b, method, kg })))
  return {
    seasons: ids.map((id, i) => ({
      id,
      name: id,
      startsOn: `${2020 + i}-01-01`,
      endsOn: `${2020 + i}-03-01`,
      closed: true,
      changedSince: 0,
      sealed: 0,
    })),
    methods: [...'ABC'].map((id) => ({ id, name: `Method ${id}` })),
    gardens: first.map((own, g) => ({
      id: `g${g}`,
      name: `Garden ${g}`,
      areas: always(100_000 * own.length),
      siteId: sites ? `site ${Math.floor(g / 2)}` : 'one',
    })),
    beds: first.flatMap((own, g) =>
      own.map((_, b) => ({
        id: `b${g}.${b}`,
        gardenId: `g${g}`,
        areas: always(10_000),
        blockId: blocks ? `block ${Math.floor(b / 2)}` : null,
      })),
    ),
    assignments: ids.flatMap((seasonId, i) =>
      at(i).map(({ g, b, method }) => ({ seasonId, gardenId: `g${g}`, bedId: `b${g}.${b}`, methodId: method, how })),
    ),
    plantings: ids.flatMap((seasonId, i) =>
      at(i).map(({ g, b, kg }) => ({
        ...{
          id: `${i} ${g}.${b}`,
          seasonId,
          bedId: `b${g}.${b}`,
          crop: 'carrot',
          cultivar: 'x',
          matchedSetId: `set ${i}`,
        },
        ...{ areaCm2: 10_000, purpose: 'harvest', cleared: true, marketableG: Math.round(1000 * kg), unmarketableG: 0 },
      })),
    ),
    ...{ losses: [], labour: [], spreadings: [], closings: [] },
  }
}
const pair = { methodA: 'A', methodB: 'B' }
const ids = (record: TrialRecord) => record.seasons.map((season) => season.id)
const about = (record: TrialRecord) => aboutMethods(record, ids(record), pair)

describe('the layout chooses the analysis, worked by hand', () => {
  it('split gardens: one difference a garden, whatever the number of beds and seasons', () => {
    const record = laid(['A1 B1.1 | A1 B1.25 | A1 B0.98 | A1 B1.3', 'A1 B1.1 | A1 B1.25 | A1 B0.98 | A1 B1.3'])
    const found = got(about(record))
    // Student's t: 1.1504507, interval 0.9376849 to 1.4114943 on 3 degrees of freedom; two like seasons add nothing.
    expect([found.layout, found.df, found.scope]).toEqual(['split gardens', 3, 'methodElsewhere'])
    expect([found.ratio, found.low, found.high].map((x) => x.toFixed(6))).toEqual(['1.150451', '0.937685', '1.411494'])
  })

  it('several gardens a method: the spread between gardens, pooled', () => {
    const found = got(about(laid(['A1 | A1.2 | A1.1 | B1.3 | B1.5 | B1.2'])))
    const [a, b] = [[1, 1.2, 1.1].map(Math.log), [1.3, 1.5, 1.2].map(Math.log)]
    const mean = (x: number[]) => x.reduce((s, v) => s + v, 0) / x.length
    const squares = (x: number[]) => x.reduce((s, v) => s + (v - mean(x)) ** 2, 0)
    const se = Math.sqrt(((squares(a) + squares(b)) / 4) * (2 / 3))
    expect([found.layout, found.df]).toEqual(['gardens', 4])
    expect(Math.log(found.ratio)).toBeCloseTo(mean(b) - mean(a), 10)
    // 2.7764451052 is the 0.975 quantile of t on 4 degrees of freedom.
    expect(Math.log(found.high)).toBeCloseTo(mean(b) - mean(a) + 2.7764451052 * se, 9)
  })

  it('blocks of beds take the block out; sites that hold both take the site out', () => {
    const beds = got(about(laid(['A1 B1.2 A2 B2.2 A3 B4'], { blocks: true })))
    expect([beds.layout, beds.df, beds.scope]).toEqual(['blocks of beds', 2, 'methodAtSite'])
    const sites = got(about(laid(['A1 | B1.2 | A2 | B2.2 | A3 | B4'], { sites: true })))
    expect([sites.layout, sites.df]).toEqual(['gardens within sites', 2])
    expect(sites.ratio).toBeCloseTo(beds.ratio, 12)
    expect(sites.high).toBeCloseTo(beds.high, 10)
  })

  it('ground that took turns: garden and season are fitted with the method', () => {
    // Garden effects 1, 2, 4; season effects 1, 1.5, 0.8, 1; B gives 1.2 times, but for one cell.
    const record = laid(['A1 | B2.4 | A4', 'B1.8 | A3 | B7.2', 'A0.8 | B1.92 | A3.2', 'B1.2 | A2.1 | B4.8'])
    const found = got(about(record))
    expect([found.layout, found.scope, found.df]).toEqual(['ground that took turns', 'methodAtSite', 5])
    expect(found.low).toBeLessThan(1.2)
    expect(found.high).toBeGreaterThan(1.2)
  })

  it('a place off which nothing came is left out of the logarithms, and said beside the ratio with zeros', () => {
    const record = laid(['A1 | A1.2 | A1.1 | B1.3 | B1.5 | B0'])
    const found = got(about(record))
    expect([found.failed, found.df]).toEqual([1, 3])
    expect(found.allIn).toBeCloseTo(2.8 / 3 / 1.1, 10)
    const said = findingsOf(record, { seasonIds: ['s0'], referenceId: 'A', questionLocked: false })
    expect(said.map((one) => one.code)).toContain('method not seen')
  })
})

it('a method with one garden, or seasons laid out unlike one another, carries nothing about the methods', () => {
  expect(about(laid(['A1 | A1.2 | B1.3']))).toMatchObject({ kind: 'refused', reason: 'no error term' })
  expect(about(laid(['A1 B1 | A1 B2', 'A1 A1 | B1 B2']))).toMatchObject({ kind: 'refused' })
  expect(about(laid(['A1 B2']))).toMatchObject({ kind: 'refused', reason: 'no error term' })
})

it('certainty about the method ends where the layout ends, and each step has its reason', () => {
  const grounds = {
    ...{
      scope: 'methodElsewhere' as const,
      how: 'random' as const,
      unit: 'garden' as const,
      fewest: 5,
      halfWidth: 0.1,
    },
    ...{ turned: false, whole: true, failed: 0, seasons: 3 },
  }
  const sure = (more: Partial<Parameters<typeof methodCertainty>[0]>) => {
    const { certainty, steps } = methodCertainty({ ...grounds, ...more })
    return [certainty, ...steps]
  }
  expect(sure({})).toEqual(['high'])
  expect(sure({ how: 'choice', whole: false })).toEqual(['moderate', 'by choice'])
  expect(sure({ how: 'choice' })).toEqual(['low', 'whole gardens by choice'])
  expect(sure({ fewest: 3 })).toEqual(['moderate', 'few gardens'])
  expect(sure({ failed: 1 })).toEqual(['moderate', 'places without weight'])
  expect(sure({ how: 'choice', whole: false, fewest: 2, halfWidth: 1 })).toEqual([
    ...['very low', 'by choice', 'few gardens', 'wide interval'],
  ])
  expect(sure({ scope: 'methodAtSite', unit: 'bed', fewest: 2 })).toEqual(['moderate', 'one site'])
  // One season drawn and replicated is low, and no lower for being few; a swap is low at most, lower with two gardens.
  expect(sure({ seasons: 1, fewest: 3 })).toEqual(['low', 'one season', 'few gardens'])
  expect(sure({ turned: true, how: 'choice', fewest: 4 })).toEqual(['low', 'soil remembers', 'by choice'])
  expect(sure({ turned: true, fewest: 2 })).toEqual(['very low', 'soil remembers', 'few gardens'])
})

it('no layout with one garden a method ever yields an interval or a sentence about the method', () => {
  const weights = fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 5 })
  const season = fc.tuple(weights, weights, weights)
  fc.assert(
    fc.property(
      fc.array(season, { minLength: 1, maxLength: 6 }),
      fc.boolean(),
      fc.boolean(),
      (seasons, blocks, sites) => {
        const sizes = (seasons[0] ?? []).map((beds) => beds.length)
        const words = seasons.map((gardens) =>
          gardens
            .map((beds, g) =>
              Array.from({ length: sizes[g] ?? 1 }, (_, b) => `${'ABC'[g]}${(beds[b % beds.length] ?? 0) / 10}`).join(
                ' ',
              ),
            )
            .join(' | '),
        )
        const record = laid(words, { blocks, sites })
        expect(about(record)).toMatchObject({ kind: 'refused' })
        for (const questionLocked of [true, false]) {
          for (const one of findingsOf(record, {
            seasonIds: ids(record),
            referenceId: 'A',
            questionLocked,
            marginPercent: 20,
          })) {
            expect(one.code.startsWith('method')).toBe(false)
            if ('estimand' in one) expect(one.estimand).toBe('thesePlots')
            if ('certainty' in one) expect(one.certainty).toMatchObject({ method: 'cannot be told from the plot' })
            expect(sentenceOf(one, 'en')).not.toMatch(/About the methods|of the methods on/)
          }
        }
      },
    ),
    { numRuns: 60 },
  )
})

describe('what several places and seasons add', () => {
  it('all methods together: the table of a one-way analysis, its letters and its least difference', () => {
    const record = laid(['A1 | A1.2 | A1.1 | B1.3 | B1.5 | B1.2 | C3 | C2.8 | C3.3'])
    const found = got(methodsTogether(record, ['s0'], ['A', 'B', 'C']))
    // Logarithms by hand: between methods on 2, within on 6 degrees of freedom.
    const groups = [
      [1, 1.2, 1.1],
      [1.3, 1.5, 1.2],
      [3, 2.8, 3.3],
    ].map((own) => own.map(Math.log))
    const mean = (x: readonly number[]) => x.reduce((s, v) => s + v, 0) / x.length
    const within = groups.reduce((sum, own) => sum + own.reduce((s, v) => s + (v - mean(own)) ** 2, 0), 0)
    const grand = mean(groups.flat())
    const between = groups.reduce((sum, own) => sum + 3 * (mean(own) - grand) ** 2, 0)
    expect(found.table.map((row) => row.df)).toEqual([2, 6])
    expect(found.table[0]?.ss).toBeCloseTo(between, 10)
    expect(found.table[1]?.ss).toBeCloseTo(within, 10)
    // 2.4469118511 is the 0.975 quantile of t on 6 degrees of freedom.
    expect(Math.log(found.leastDifferenceRatio ?? 0)).toBeCloseTo(2.4469118511 * Math.sqrt((2 * within) / 6 / 3), 8)
    expect(found.methods[0]?.kgPerM2).toBeCloseTo((1 * 1.2 * 1.1) ** (1 / 3), 10)
    expect(found.methods.map((one) => one.letters)).toEqual(['a', 'a', 'b'])
    expect(methodsTogether(laid(['A1 | B2 | C3']), ['s0'], ['A', 'B', 'C'])).toMatchObject({ kind: 'refused' })
  })

  it('seasons with replicates are pooled, and a new season lies within wider limits', () => {
    const season = (b: number) => `A1 | A1.2 | A1.1 | B${b} | B${(b * 1.15).toFixed(2)} | B${(b * 0.95).toFixed(2)}`
    const record = laid([season(1.3), season(1.1), season(1.6), season(1.2)])
    const found = got(seasonsTogether(record, ids(record), pair))
    expect(found.df).toBe(3)
    const next = found.prediction
    if (!('low' in next)) throw new Error(next.detail)
    expect(next.low).toBeLessThan(found.low)
    expect(next.high).toBeGreaterThan(found.high)
    expect(seasonsTogether(laid(['A1 | B1.2', 'A1 | B1.3']), ['s0', 's1'], pair)).toMatchObject({ kind: 'refused' })
  })

  it('weigh every season by the one mix of all of them, so that a season differs by its rates alone', () => {
    // Carrots alone, 1.2 and 1.5 times, then with nine times the ground in potatoes that give the same under both.
    const record = laid(['A1 | A1.1 | B1.2 | B1.32', 'A1 | A1.1 | B1.5 | B1.65'])
    const potatoes = record.plantings.map((one) => ({
      ...{ ...one, id: `potato ${one.id}`, crop: 'potato', matchedSetId: `potato ${one.seasonId}` },
      ...{ areaCm2: one.seasonId === 's0' ? 10_000 : 170_000, marketableG: one.seasonId === 's0' ? 1000 : 17_000 },
    }))
    const both = { ...record, plantings: [...record.plantings, ...potatoes] }
    // Ground over both seasons: carrots 1 m2 and 1 m2, potatoes 1 and 17 a garden: a tenth and nine tenths of the mix.
    const value = (carrots: number) => Math.log(0.1 * carrots + 0.9)
    for (const [seasonId, ratio] of [
      ['s0', 1.2],
      ['s1', 1.5],
    ] as const) {
      const found = got(aboutMethods(both, [seasonId], pair, { mixOf: ['s0', 's1'] }))
      const byHand = (value(ratio) + value(1.1 * ratio) - value(1) - value(1.1)) / 2
      expect(Math.log(found.ratio)).toBeCloseTo(byHand, 12)
    }
    // By its own mix the first season would weigh carrots by half.
    expect(got(aboutMethods(both, ['s0'], pair)).ratio).toBeGreaterThan(1.09)
    const found = got(seasonsTogether(both, ['s0', 's1'], pair))
    expect(Math.exp(found.estimate)).toBeLessThan(1.06)
  })

  it('single plantings in a mixed model never stand in for gardens', () => {
    const record = laid(['A1 A1.3 | A1.2 A1.1 | A1.1 A0.9 | B1.3 B1.2 | B1.5 B1.6 | B1.2 B1.4'])
    const found = got(plotModel(record, ['s0'], pair))
    expect([found.plots, found.failed]).toEqual([12, 0])
    // Balanced: the degrees of freedom are those of six gardens, not of twelve beds.
    expect(found.df).toBeCloseTo(4, 3)
    expect(found.ratio).toBeCloseTo(got(about(record)).ratio, 1)
    expect(plotModel(laid(['A1 A1.1 A1.2 | B1 B2 B3']), ['s0'], pair)).toMatchObject({
      kind: 'refused',
      reason: 'no error term',
    })
  })

  it('and come of whole matched sets alone: one whose twin still stands, or that lies under one method, is out', () => {
    const record = laid(['A1 A1.3 | A1.2 A1.1 | A1.1 A0.9 | B1.3 B1.2 | B1.5 B1.6 | B1.2 B1.4'])
    const extra = (matchedSetId: string, bedId: string, cleared: boolean) => ({
      ...{ id: `${matchedSetId} ${bedId}`, seasonId: 's0', bedId, crop: 'leek', cultivar: 'x', matchedSetId },
      ...{ areaCm2: 10_000, purpose: 'harvest', cleared, marketableG: 9000, unmarketableG: 0 },
    })
    const standing = [extra('leek', 'b0.0', true), extra('leek', 'b3.0', false)]
    const alone = [extra('kale', 'b1.0', true), extra('kale', 'b2.0', true)]
    const more = { ...record, plantings: [...record.plantings, ...standing, ...alone] }
    const found = got(plotModel(more, ['s0'], pair))
    expect(found.plots).toBe(12)
    expect(found).toEqual(plotModel(record, ['s0'], pair))
  })
})
