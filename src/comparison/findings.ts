import { type Certainty, certaintyOf } from './certainty.ts'
import { type EveryWay, everyWay } from './every-way.ts'
import { burdenOverSeasons } from './labour-and-cost.ts'
import { type CountingRules, type Pair, plainRules } from './matched-season.ts'
import { methodTotals } from './method-totals.ts'
import { type OverSeasons, overSeasons, smallestSeen } from './over-seasons.ts'
import type { TrialRecord } from './trial-record.ts'

/** One finding as figures: the sentence for its code stands in the catalogue. Ratios are of B over A. */
export type Finding = YieldFinding | DescribedFinding | NothingFinding | LabourFinding

interface OfPair {
  readonly methodA: string
  readonly methodB: string
  readonly gardensA: readonly string[]
  readonly gardensB: readonly string[]
}

export interface YieldFinding extends OfPair {
  readonly code: 'seen' | 'not seen'
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly next: { readonly low: number; readonly high: number }
  readonly seasons: number
  readonly crops: number
  /** The smallest ratio that would have been seen; stands beside every "not seen". */
  readonly smallestSeen: number | null
  readonly certainty: Certainty
  readonly everyWay: EveryWay
  readonly exploratory: boolean
}

export interface DescribedFinding extends OfPair {
  readonly code: 'one season'
  readonly ratio: number
  readonly crops: number
  readonly leavingOut: { readonly low: number; readonly high: number } | null
}

export interface NothingFinding extends OfPair {
  readonly code: 'nothing matched'
  readonly reason: string
}

export interface LabourFinding extends OfPair {
  readonly code: 'labour seen' | 'labour not seen'
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly seasons: number
}

export interface Asked {
  readonly seasonIds: readonly string[]
  /** Every other method is compared with this one; the first of the group's list where no question names another. */
  readonly referenceId: string
  readonly questionLocked: boolean
  /** As the question fixed them; the plain ones where none did. */
  readonly rules?: CountingRules
}

/** What these data say about each method beside the reference, and no more than they can carry. */
export function findingsOf(
  record: TrialRecord,
  { seasonIds, referenceId, questionLocked, rules = plainRules }: Asked,
): readonly Finding[] {
  const present = methodsIn(record, seasonIds)
  const others = present.filter((id) => id !== referenceId)
  if (!present.includes(referenceId)) return []
  return others.flatMap((methodB) => {
    const pair = { methodA: referenceId, methodB }
    const named = ofPair(record, seasonIds, pair)
    const comparisons = questionLocked ? others.length : 1
    const yields = overSeasons(record, seasonIds, pair, { comparisons, rules })
    if (yields.kind === 'refused') return [{ ...named, code: 'nothing matched' as const, reason: yields.reason }]
    return [
      yieldFinding(record, seasonIds, pair, yields, { named, questionLocked }),
      ...labourFinding(record, seasonIds, pair, named),
    ]
  })
}

interface Context {
  readonly named: OfPair
  readonly questionLocked: boolean
}

function yieldFinding(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  over: OverSeasons,
  { named, questionLocked }: Context,
): Finding {
  const crops = over.constantCrops.length
  const [only] = over.seasons
  if (over.contrast.kind === 'refused') {
    return {
      ...named,
      code: 'one season',
      ratio: Math.exp(only?.logRatio ?? 0),
      crops: only?.crops.length ?? 0,
      leavingOut: only?.leavingOut ?? null,
    }
  }
  const { estimate, low, high, prediction } = over.contrast
  const seasons = over.seasons.length
  const grounds = { seasons, matchedCrops: crops, coverage: coverageOf(record, seasonIds, pair), questionLocked }
  return {
    ...named,
    code: low > 0 || high < 0 ? 'seen' : 'not seen',
    ...{ ratio: Math.exp(estimate), low: Math.exp(low), high: Math.exp(high), seasons, crops },
    next: { low: Math.exp(prediction.low), high: Math.exp(prediction.high) },
    smallestSeen: smallestSeen(over.seasons),
    certainty: certaintyOf({ ...grounds, halfWidth: (high - low) / 2 }),
    everyWay: everyWay(record, seasonIds, pair),
    exploratory: !questionLocked,
  }
}

function labourFinding(record: TrialRecord, seasonIds: readonly string[], pair: Pair, named: OfPair): LabourFinding[] {
  const found = burdenOverSeasons(record, seasonIds, pair, 'hoursPerBed')
  if (found.kind === 'refused') return []
  const { estimate, low, high, seasons } = found
  const code = low > 0 || high < 0 ? 'labour seen' : 'labour not seen'
  return [{ ...named, code, ratio: Math.exp(estimate), low: Math.exp(low), high: Math.exp(high), seasons }]
}

function methodsIn(record: TrialRecord, seasonIds: readonly string[]): string[] {
  const assigned = new Set(
    record.assignments.filter((one) => seasonIds.includes(one.seasonId)).map((one) => one.methodId),
  )
  return record.methods.map((method) => method.id).filter((id) => assigned.has(id))
}

function ofPair(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): OfPair {
  const name = (id: string) => record.methods.find((method) => method.id === id)?.name ?? ''
  const gardens = (id: string) => {
    const own = new Set(
      record.assignments
        .filter((one) => one.methodId === id && seasonIds.includes(one.seasonId))
        .map((one) => one.gardenId),
    )
    return record.gardens.filter((garden) => own.has(garden.id)).map((garden) => garden.name)
  }
  return { methodA: name(methodA), methodB: name(methodB), gardensA: gardens(methodA), gardensB: gardens(methodB) }
}

function coverageOf(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): number {
  const of = (id: string) => {
    const sums = seasonIds.map((season) => methodTotals(record, season).get(id))
    const weeks = sums.reduce((sum, one) => sum + (one?.weeks ?? 0), 0)
    return weeks === 0 ? 0 : sums.reduce((sum, one) => sum + (one?.weightsClosed ?? 0), 0) / weeks
  }
  return Math.min(of(methodA), of(methodB))
}
