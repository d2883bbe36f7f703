import { expect, it } from 'vitest'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { ownSpreads } from '../../src/planning/own-spreads.ts'

interface Cell {
  readonly m: number
  readonly g: number
  readonly s: number
  readonly k: number
}

/** Hand-made: the same grams stand in own-spreads.R. */
function gramsOf({ m, g, s, k }: Cell): number {
  const lasting = 1000 * k + 900 * g + 400 * m
  const ofSeasons = 700 * ((5 * g + 3 * s) % 4) + 1300 * ((2 * m + 2 * s * s) % 3)
  return 6000 + lasting + ofSeasons + 500 * ((7 * k + 2 * g) % 5) + 300 * ((3 * k + 5 * s + 11 * g) % 7)
}

const upTo = (count: number) => Array.from({ length: count }, (_, i) => i)

/** Gardens of a bed each, four seasons and four crops of 4 m2, all cleared and matched. */
function recordWith(gardens: number, methodOf: (g: number) => number): TrialRecord {
  const cells = upTo(gardens).flatMap((g) =>
    upTo(4).flatMap((s) => upTo(4).map((k): Cell => ({ m: methodOf(g), g, s, k }))),
  )
  return {
    seasons: upTo(4).map((s) => ({
      id: `s${s}`,
      name: `s${s}`,
      startsOn: `${2020 + s}-01-01`,
      endsOn: `${2020 + s}-10-01`,
      closed: true,
      changedSince: 0,
      sealed: 0,
    })),
    methods: [...new Set(upTo(gardens).map(methodOf))].map((m) => ({ id: `m${m}`, name: `m${m}` })),
    gardens: upTo(gardens).map((g) => ({ id: `g${g}`, name: `g${g}`, areas: always(1_000_000) })),
    beds: upTo(gardens).map((g) => ({ id: `b${g}`, gardenId: `g${g}`, areas: always(500_000) })),
    assignments: upTo(4).flatMap((s) =>
      upTo(gardens).map((g) => ({ seasonId: `s${s}`, gardenId: `g${g}`, bedId: null, methodId: `m${methodOf(g)}` })),
    ),
    plantings: cells.map((cell) => ({
      ...{ id: Object.values(cell).join(' '), seasonId: `s${cell.s}`, bedId: `b${cell.g}`, crop: `crop ${cell.k}` },
      ...{ cultivar: 'x', matchedSetId: `${cell.s} ${cell.k}`, areaCm2: 40_000, purpose: 'harvest', cleared: true },
      ...{ marketableG: gramsOf(cell), unmarketableG: 0 },
    })),
    ...{ losses: [], labour: [], spreadings: [], closings: [] },
  }
}

const told = (record: TrialRecord) => {
  const found = ownSpreads(record)
  if (found.kind === 'refused') throw new Error(found.reason)
  return found
}

it('are those of R’s lmer where a method lies on several gardens, method by season among them', () => {
  // own-spreads.R: R 4.2.2, lme4 1.1-31, REML; standard deviations of the logs.
  const { spreads, plantings } = told(recordWith(6, (g) => g % 2))
  expect(plantings).toBe(96)
  expect(Object.keys(spreads).sort()).toEqual(
    ['cropByGarden', 'garden', 'gardenBySeason', 'methodBySeason', 'residual'].sort(),
  )
  expect(spreads.garden).toBeCloseTo(0.1251787, 4)
  expect(spreads.gardenBySeason).toBeCloseTo(0.06730365, 4)
  expect(spreads.methodBySeason).toBeCloseTo(0.13629704, 4)
  expect(spreads.cropByGarden).toBeCloseTo(0.0608197, 4)
  expect(spreads.residual).toBeCloseTo(0.06072639, 5)
})

it('leave out the garden and method by season where a method is one garden, and are R’s and those of mean squares', () => {
  const { spreads } = told(recordWith(3, (g) => g))
  expect(Object.keys(spreads).sort()).toEqual(['cropByGarden', 'gardenBySeason', 'residual'])
  expect(spreads.gardenBySeason).toBeCloseTo(0.18109918, 4)
  expect(spreads.cropByGarden).toBeCloseTo(0.08226443, 4)
  expect(spreads.residual).toBeCloseTo(0.07324247, 5)
  // Balanced, so REML is the analysis of variance: MS(garden by season) = rest + 4 of it, MS(crop by garden) alike.
  const log = (g: number, s: number, k: number) => Math.log(gramsOf({ m: g, g, s, k }))
  const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length
  const over = (g: number | null, s: number | null, k: number | null) =>
    mean(
      (g === null ? upTo(3) : [g]).flatMap((a) =>
        (s === null ? upTo(4) : [s]).flatMap((b) => (k === null ? upTo(4) : [k]).map((c) => log(a, b, c))),
      ),
    )
  const all = over(null, null, null)
  const pairs = upTo(3).flatMap((g) => upTo(4).map((i) => ({ g, i })))
  const squares = (values: readonly number[]) => values.reduce((sum, one) => sum + one * one, 0)
  const bySeason = pairs.map(({ g, i }) => over(g, i, null) - over(g, null, null) - over(null, i, null) + all)
  const byCrop = pairs.map(({ g, i }) => over(g, null, i) - over(g, null, null) - over(null, null, i) + all)
  // All but crop, season and garden and their two interactions with the garden: 27 + 9 - 6 degrees of freedom.
  const left = upTo(3).flatMap((g) =>
    upTo(4).flatMap((s) =>
      upTo(4).map((k) => log(g, s, k) - over(g, s, null) - over(g, null, k) + over(g, null, null)),
    ),
  )
  const rest = squares(left) / 27
  expect(spreads.residual).toBeCloseTo(Math.sqrt(rest), 5)
  expect(spreads.gardenBySeason).toBeCloseTo(Math.sqrt(((4 * squares(bySeason)) / 6 - rest) / 4), 5)
  expect(spreads.cropByGarden).toBeCloseTo(Math.sqrt(((4 * squares(byCrop)) / 6 - rest) / 4), 5)
})

it('look at matched, cleared plantings that gave something, and are refused for fewer than twenty', () => {
  const whole = recordWith(3, (g) => g)
  const few = { ...whole, plantings: whole.plantings.map((one, i) => (i < 19 ? one : { ...one, matchedSetId: null })) }
  expect(ownSpreads(few)).toMatchObject({ kind: 'refused', reason: 'too few' })
  const odd = { ...whole.plantings[0], id: 'odd', marketableG: 0 }
  const more = [odd, { ...odd, id: 'standing', marketableG: 9000, cleared: false }]
  const same = { ...whole, plantings: [...whole.plantings, ...more] } as TrialRecord
  expect(told(same)).toEqual(told(whole))
})
