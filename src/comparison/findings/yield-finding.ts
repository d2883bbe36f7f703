import { asShown, nameIfAny } from '../../lookups/unsaid.ts'
import { equivalence } from '../../statistics/equivalence.ts'
import type { SeasonContrast } from '../../statistics/season-contrast.ts'
import { type EveryWay, everyWay } from '../matched/every-way.ts'
import { type LeavingOut, type LeftOut, leavingOut } from '../matched/leaving-out.ts'
import type { Pair } from '../matched/matched-season.ts'
import { type Estimand, type OverSeasons, overSeasons, smallestSeen } from '../matched/over-seasons.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodTotals } from '../totals/method-totals.ts'
import { atMostWeights } from '../totals/missing-weights.ts'
import { type Certainty, certaintyOf } from './certainty.ts'
import type { Context, OfPair } from './findings.ts'

export interface YieldFinding extends OfPair {
  /** `alike` only within a margin that was fixed beforehand. */
  readonly code: 'seen' | 'not seen' | 'alike'
  readonly estimand: Estimand
  readonly ratio: number
  readonly low: number
  readonly high: number
  /** Level of the interval, 0..1: wider than 0.95 where the question names several pairs. */
  readonly level: number
  readonly next: { readonly low: number; readonly high: number }
  readonly seasons: number
  readonly crops: number
  readonly marginPercent: number | null
  /** The smallest ratio that would have been seen; stands beside every "not seen". */
  readonly smallestSeen: number | null
  readonly certainty: Certainty
  readonly everyWay: EveryWay
  /** What of it hangs on one crop or one season; seasons by their names. */
  readonly without: LeavingOut
  readonly missing: MissingWeeks
  readonly exploratory: boolean
  readonly restsOn: RestsOn
}

/** Seasons by their names: those it rests on, those left out while their weeks are open, those with nothing matched. */
export interface RestsOn {
  readonly seasons: readonly string[]
  readonly open: readonly { readonly season: string; readonly ratio: number }[]
  readonly gaps: readonly string[]
  /** Every season is open: nothing is told yet. */
  readonly soFar: boolean
}

/** A season off which nothing came on one side: all the seasons together, kg per m2 on the mix, without an interval. */
export interface FailedFinding extends OfPair {
  readonly code: 'failed season'
  readonly seasons: number
  readonly failedA: readonly string[]
  readonly failedB: readonly string[]
  /** Means over the seasons; the ratio is null where A gave nothing in any of them. */
  readonly rateA: number
  readonly rateB: number
  readonly ratio: number | null
}

export interface DescribedFinding extends OfPair {
  readonly code: 'one season'
  readonly ratio: number
  readonly crops: number
  readonly leavingOut: LeftOut | null
  /** The ratio when each crop counts once. */
  readonly cropsOnce: number
  /** What open weeks of weights could make of it; null ends where it cannot be said. */
  readonly missing: MissingWeeks
  readonly restsOn: RestsOn
}

/** Whether open weeks could still turn what was found: it is not told apart while they are open. */
export const turnedBy = (missing: MissingWeeks) =>
  missing.kind === 'cannot be said' || (missing.kind === 'ends' && !missing.survives)

/** What open weeks of weights could still change: nothing is open; it cannot be said; or the ratio at both ends. */
export type MissingWeeks =
  | { readonly kind: 'none open' }
  | { readonly kind: 'cannot be said'; readonly detail: string }
  | { readonly kind: 'ends'; readonly low: number; readonly high: number; readonly survives: boolean }

interface Given {
  readonly named: OfPair
  readonly context: Context
}

export function yieldFinding(
  record: TrialRecord,
  pair: Pair,
  over: OverSeasons,
  { named, context }: Given,
): YieldFinding | DescribedFinding | FailedFinding {
  const { questionLocked, rules, marginPercent, comparisons } = context
  const seasonIds = [...over.seasons, ...over.failed].map((one) => one.seasonId)
  const counted = { ...context, seasonIds }
  if (over.failed.length > 0) return failedFinding(record, over, named)
  const crops = over.constantCrops.length
  const [only] = over.seasons
  const without = leavingOut(over.seasons, comparisons)
  if (over.contrast.kind === 'refused') {
    return {
      ...named,
      code: 'one season',
      // There is one season here, and it has its ratio.
      ratio: Math.exp(only?.logRatio ?? 0),
      // And its crops.
      crops: only?.crops.length ?? 0,
      leavingOut: without.crops,
      cropsOnce: without.cropsOnce,
      missing: only ? missingInSeason(record, pair, counted) : { kind: 'none open' },
      restsOn: restsOn(record, over),
    }
  }
  const { estimate, low, high, prediction } = over.contrast
  const missing = missingWeights(record, pair, over.contrast, counted)
  const seasons = over.seasons.length
  const margin = marginPercent === null ? null : Math.log(1 + marginPercent / 100)
  const changedSince = record.seasons
    .filter((season) => seasonIds.includes(season.id))
    .reduce((sum, season) => sum + season.changedSince, 0)
  return {
    ...named,
    code: over.soFar || turnedBy(missing) ? ('not seen' as const) : codeOf(over.contrast, margin),
    estimand: over.estimand,
    ratio: Math.exp(estimate),
    low: Math.exp(low),
    high: Math.exp(high),
    seasons,
    crops,
    marginPercent,
    level: 1 - 0.05 / comparisons,
    next: { low: Math.exp(prediction.low), high: Math.exp(prediction.high) },
    smallestSeen: smallestSeen(over.seasons),
    certainty: certaintyOf({
      gardens: Math.max(named.gardensA.length, named.gardensB.length),
      seasons,
      matchedCrops: crops,
      coverage: coverageOf(record, seasonIds, pair),
      questionLocked,
      changedSince,
      halfWidth: (high - low) / 2,
      survives: missing.kind !== 'ends' || missing.survives,
      ...(margin === null ? {} : { wideFrom: margin }),
    }),
    everyWay: everyWay(record, seasonIds, pair, rules),
    without: { ...without, seasons: seasonsNamed(record, without.seasons) },
    missing,
    exploratory: !questionLocked,
    restsOn: restsOn(record, over),
  }
}

const isUniform = (record: TrialRecord, id: string) =>
  record.seasons.find((season) => season.id === id)?.uniform === true

function restsOn(record: TrialRecord, over: OverSeasons): RestsOn {
  const name = (id: string) => nameIfAny(record.seasons.find((season) => season.id === id))
  return {
    seasons: over.seasons.map((one) => name(one.seasonId)),
    open: over.open.map((one) => ({ season: name(one.seasonId), ratio: Math.exp(one.logRatio) })),
    gaps: over.left
      .filter((one) => one.reason === 'nothing in common' && !isUniform(record, one.seasonId))
      .map((one) => name(one.seasonId)),
    soFar: over.soFar,
  }
}

function seasonsNamed(record: TrialRecord, left: LeftOut | null): LeftOut | null {
  const name = (id: string) => nameIfAny(record.seasons.find((season) => season.id === id))
  return left && { ...left, lowWithout: name(left.lowWithout), highWithout: name(left.highWithout) }
}

function failedFinding(record: TrialRecord, over: OverSeasons, named: OfPair): FailedFinding {
  const all = [...over.seasons, ...over.failed]
  const mean = (side: 'rateA' | 'rateB') => all.reduce((sum, one) => sum + one[side], 0) / all.length
  const [rateA, rateB] = [mean('rateA'), mean('rateB')]
  const seasonsOf = (side: 'rateA' | 'rateB') =>
    over.failed
      .filter((one) => one[side] === 0)
      .map((one) => nameIfAny(record.seasons.find((season) => season.id === one.seasonId)))
  return {
    ...named,
    code: 'failed season',
    seasons: all.length,
    rateA,
    rateB,
    failedA: seasonsOf('rateA'),
    failedB: seasonsOf('rateB'),
    ratio: rateA > 0 ? rateB / rateA : null,
  }
}

/** One season: the ratio with the open weeks of either side at their most, the other as entered. */
function missingInSeason(record: TrialRecord, pair: Pair, { seasonIds, rules }: Context): MissingWeeks {
  const [a, b] = [pair.methodA, pair.methodB].map((id) => atMostWeights(record, seasonIds, id))
  if (a?.kind !== 'answer') return { kind: 'cannot be said', detail: asShown(a?.detail) }
  if (b?.kind !== 'answer') return { kind: 'cannot be said', detail: asShown(b?.detail) }
  if (a.openWeeks + b.openWeeks === 0) return { kind: 'none open' }
  const [low, high] = [a.record, b.record].map((one) => {
    const found = overSeasons(one, seasonIds, pair, { rules })
    return found.kind === 'answer' ? found.seasons[0]?.logRatio : undefined
  })
  if (low === undefined || high === undefined) return { kind: 'cannot be said', detail: 'no ratio at one end' }
  const survives = Math.sign(low) === Math.sign(high)
  return { kind: 'ends', low: Math.exp(low), high: Math.exp(high), survives }
}

/** Alike is claimed by two one-sided tests against a margin that was fixed beforehand, and by nothing else. */
function codeOf({ estimate, se, df, low, high }: SeasonContrast, margin: number | null): YieldFinding['code'] {
  if (margin !== null) {
    const found = equivalence(estimate, se, df, margin)
    if (found.kind === 'answer' && found.equivalent) return 'alike'
  }
  return low > 0 || high < 0 ? 'seen' : 'not seen'
}

const sideOf = ({ low, high }: { low: number; high: number }) => (low > 0 ? 1 : high < 0 ? -1 : 0)

/** A finding must stand with the open weeks of either side at their most: each in turn, the other as entered. */
function missingWeights(record: TrialRecord, pair: Pair, plain: SeasonContrast, context: Context): MissingWeeks {
  const { seasonIds, rules, comparisons } = context
  const [a, b] = [pair.methodA, pair.methodB].map((id) => atMostWeights(record, seasonIds, id))
  if (a?.kind !== 'answer') return { kind: 'cannot be said', detail: asShown(a?.detail) }
  if (b?.kind !== 'answer') return { kind: 'cannot be said', detail: asShown(b?.detail) }
  if (a.openWeeks + b.openWeeks === 0) return { kind: 'none open' }
  const ends = [a.record, b.record].map((one) => overSeasons(one, seasonIds, pair, { rules, comparisons }))
  const contrasts = ends.flatMap((one) =>
    one.kind === 'answer' && one.contrast.kind === 'answer' ? [one.contrast] : [],
  )
  const [low, high] = contrasts
  if (!low || !high) return { kind: 'cannot be said', detail: 'no ratio at one end' }
  const survives = contrasts.every((one) => sideOf(one) === sideOf(plain))
  return { kind: 'ends', low: Math.exp(low.estimate), high: Math.exp(high.estimate), survives }
}

export function coverageOf(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): number {
  const of = (id: string) => {
    const sums = seasonIds.map((season) => methodTotals(record, season).get(id))
    // A method that is not in a season has no weeks there.
    const weeks = sums.reduce((sum, one) => sum + (one?.weeks ?? 0), 0)
    // The same of its closed ones.
    return weeks === 0 ? 0 : sums.reduce((sum, one) => sum + (one?.weightsClosed ?? 0), 0) / weeks
  }
  return Math.min(of(methodA), of(methodB))
}
