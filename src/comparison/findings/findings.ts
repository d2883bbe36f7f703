import { nameIfAny } from '../../lookups/unsaid.ts'
import type { RefusalReason } from '../../statistics/answer.ts'
import { closedSeasons, isClosed, leastClosed } from '../matched/closed-seasons.ts'
import { replicates } from '../matched/laid-out.ts'
import { type CountingRules, type Pair, plainRules } from '../matched/matched-season.ts'
import { overSeasons } from '../matched/over-seasons.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { atMostWeights } from '../totals/missing-weights.ts'
import { type AboutMethods, aboutMethods } from './about-methods.ts'
import { type BurdenFinding, burdenFindings, type DividedFinding } from './burden-finding.ts'
import { type Caution, cautionsOf } from './cautions.ts'
import { lowered } from './layout-contrast.ts'
import { type PairAsked, pairAsked } from './pairs-asked.ts'
import {
  coverageOf,
  type DescribedFinding,
  type FailedFinding,
  type MissingWeeks,
  type RestsOn,
  turnedBy,
  type YieldFinding,
  yieldFinding,
} from './yield-finding.ts'

/** One finding as figures: the sentence for its code stands in the catalogue. Ratios are of B over A. */
export type Finding =
  | YieldFinding
  | DescribedFinding
  | FailedFinding
  | NothingFinding
  | BurdenFinding
  | DividedFinding
  | MethodFinding
  | PlacesFinding

/** About the methods and not these plots alone: only where the layout replicates them. */
export interface MethodFinding extends OfPair, Omit<AboutMethods, 'seasonIds'> {
  readonly code: 'method seen' | 'method not seen'
  /** More than a tenth of the weeks of weights are open. */
  readonly weeksOpen: boolean
  readonly missing: MissingWeeks
  readonly restsOn: RestsOn
}

/** The layout replicates the methods, and yet the weights carry nothing. */
interface PlacesFinding extends OfPair {
  readonly code: 'places say nothing'
  readonly why: 'no crop' | 'few places' | 'no spread' | 'no measure'
}

export interface OfPair {
  readonly methodA: string
  readonly methodB: string
  readonly gardensA: readonly string[]
  readonly gardensB: readonly string[]
}

interface NothingFinding extends OfPair {
  readonly code: 'nothing matched'
  readonly reason: string
  /** Seasons that have matched crops, but none that stood in all of them; 0 where no season has any. */
  readonly unlikeSeasons?: number
}

interface Asked {
  readonly seasonIds: readonly string[]
  /** Every other method is compared with this one; the first of the group's list where no question names another. */
  readonly referenceId: string
  readonly questionLocked: boolean
  /** Pairs that the question names; none: every other method beside its reference. */
  readonly pairsNamed?: readonly Pair[]
  /** As the question fixed them; the plain ones where none did. */
  readonly rules?: CountingRules
  /** From how many per cent on a difference matters to the group; null where it has not said. */
  readonly marginPercent?: number | null
}

/** What the findings of one pair rest on. */
export interface Context {
  readonly seasonIds: readonly string[]
  readonly questionLocked: boolean
  readonly rules: CountingRules
  readonly marginPercent: number | null
  /** Intervals are widened for as many pairs (Bonferroni), fixed beforehand or not. */
  readonly comparisons: number
}

export interface PairFindings extends PairAsked {
  readonly pair: Pair
  readonly findings: readonly Finding[]
  readonly cautions: readonly Caution[]
}

/** What these data say about each method beside the reference, and no more than they can carry. */
export const findingsOf = (record: TrialRecord, asked: Asked): readonly Finding[] =>
  findingsByPair(record, asked).flatMap((one) => one.findings)

export function findingsByPair(record: TrialRecord, asked: Asked): readonly PairFindings[] {
  const { seasonIds, referenceId } = asked
  const present = methodsIn(record, seasonIds)
  if (!present.includes(referenceId)) return []
  const others = present.filter((id) => id !== referenceId)
  return others.map((methodB) => {
    const pair = { methodA: referenceId, methodB }
    const { questionLocked, pairsNamed = [] } = asked
    return {
      pair,
      ...pairAsked(pair, { questionLocked, pairsNamed, others: others.length }),
      findings: findingsOfPair(record, pair, { ...asked, others: others.length }),
      cautions: cautionsOf(record, together(record, seasonIds, pair), pair),
    }
  })
}

/** What these data say about one pair, at the level that the question asks of it. */
export function findingsOfPair(
  record: TrialRecord,
  pair: Pair,
  asked: Asked & { readonly others: number },
): readonly Finding[] {
  const { seasonIds, questionLocked, pairsNamed = [], rules = plainRules, marginPercent = null, others } = asked
  const own = pairAsked(pair, { questionLocked, pairsNamed, others })
  const context: Context = {
    seasonIds,
    rules,
    questionLocked: own.asked,
    comparisons: own.comparisons,
    marginPercent: pairsNamed.length > 0 && !own.asked ? null : marginPercent,
  }
  const named = ofPair(record, together(record, seasonIds, pair), pair)
  const weights = replicates(record, seasonIds, [pair.methodA, pair.methodB]) ? methodFinding : yields
  return [weights(record, pair, named, context), ...burdenFindings(record, pair, named, context)]
}

function yields(record: TrialRecord, pair: Pair, named: OfPair, context: Context): Finding {
  const { seasonIds, comparisons, rules } = context
  const over = overSeasons(record, seasonIds, pair, { comparisons, rules })
  if (over.kind === 'refused') {
    return { ...named, code: 'nothing matched', reason: over.reason, unlikeSeasons: Number(over.detail) }
  }
  return yieldFinding(record, pair, over, { named, context })
}

const whyNothing: Partial<Record<RefusalReason, PlacesFinding['why']>> = {
  'nothing in common': 'no crop',
  'no variation': 'no spread',
  'no error term': 'no measure',
  aliased: 'no measure',
}

function methodFinding(record: TrialRecord, pair: Pair, named: OfPair, context: Context): Finding {
  const found = aboutMethods(record, context.seasonIds, pair, context)
  if (found.kind === 'refused') {
    return { ...named, code: 'places say nothing', why: whyNothing[found.reason] ?? 'few places' }
  }
  const { kind: _answer, seasonIds: used, ...figures } = found
  const seasonIds = closedSeasons(record, context.seasonIds, [pair.methodA, pair.methodB])
  const missing = methodAtTheEnds(record, pair, { ...context, seasonIds })
  const weeksOpen = coverageOf(record, seasonIds, pair) < leastClosed
  const seen = (found.low > 1 || found.high < 1) && !weeksOpen && !turnedBy(missing)
  // What nobody closed is unknown: a step less sure, and said.
  const certainty = weeksOpen ? lowered(figures.certainty) : figures.certainty
  const restsOn = seasonsOfMethods(record, pair, { used, asked: context.seasonIds, soFar: weeksOpen })
  return {
    ...named,
    ...figures,
    certainty,
    weeksOpen,
    missing,
    restsOn,
    code: seen ? 'method seen' : 'method not seen',
  }
}

/** The seasons that an answer about methods rests on, and those with both that it leaves out: open ones, and gaps. */
function seasonsOfMethods(
  record: TrialRecord,
  pair: Pair,
  {
    used,
    asked,
    soFar,
  }: { readonly used: readonly string[]; readonly asked: readonly string[]; readonly soFar: boolean },
): RestsOn {
  const nameOf = (id: string) => nameIfAny(record.seasons.find((season) => season.id === id))
  const left = together(record, asked, pair).filter((id) => !used.includes(id))
  const [open, closed] = [true, false].map((isOpen) =>
    left.filter((id) => isClosed(record, id, [pair.methodA, pair.methodB]) !== isOpen),
  )
  return {
    seasons: used.map(nameOf),
    open: (open ?? []).flatMap((id) => {
      const soFarIn = aboutMethods(record, [id], pair)
      return soFarIn.kind === 'answer' ? [{ season: nameOf(id), ratio: soFarIn.ratio }] : []
    }),
    gaps: (closed ?? []).map(nameOf),
    soFar,
  }
}

/** The answer of the layout with the open weeks of either side at their most: each in turn, the other as entered. */
function methodAtTheEnds(record: TrialRecord, pair: Pair, { seasonIds, comparisons }: Context): MissingWeeks {
  const most = [pair.methodA, pair.methodB].map((id) => atMostWeights(record, seasonIds, id))
  const own = aboutMethods(record, seasonIds, pair, { comparisons })
  const open = most.flatMap((one) => (one.kind === 'answer' ? [one] : []))
  const refused = most.find((one) => one.kind === 'refused')
  if (refused) return { kind: 'cannot be said', detail: refused.detail }
  if (open.every((one) => one.openWeeks === 0)) return { kind: 'none open' }
  const ends = open.flatMap((one) => {
    const found = aboutMethods(one.record, seasonIds, pair, { comparisons })
    return found.kind === 'answer' ? [found] : []
  })
  const [low, high] = ends
  if (!low || !high || own.kind === 'refused') return { kind: 'cannot be said', detail: 'no ratio at one end' }
  const sideOf = (one: { readonly low: number; readonly high: number }) => Number(one.low > 1) - Number(one.high < 1)
  return { kind: 'ends', low: low.ratio, high: high.ratio, survives: ends.every((one) => sideOf(one) === sideOf(own)) }
}

function methodsIn(record: TrialRecord, seasonIds: readonly string[]): string[] {
  const assigned = new Set(
    record.assignments.filter((one) => seasonIds.includes(one.seasonId)).map((one) => one.methodId),
  )
  return record.methods.map((method) => method.id).filter((id) => assigned.has(id))
}

/**
 * The seasons in which both methods lie; all where there is none. A uniform year before them is no season of the
 * comparison.
 */
function together(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): readonly string[] {
  const lies = (seasonId: string, methodId: string) =>
    record.assignments.some((one) => one.seasonId === seasonId && one.methodId === methodId)
  const both = seasonIds.filter((id) => lies(id, methodA) && lies(id, methodB))
  return both.length > 0 ? both : seasonIds
}

function ofPair(record: TrialRecord, seasonIds: readonly string[], { methodA, methodB }: Pair): OfPair {
  const name = (id: string) => nameIfAny(record.methods.find((method) => method.id === id))
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
