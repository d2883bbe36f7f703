import { nameIfAny } from '../../lookups/unsaid.ts'
import { type Answer, answer, type Refusal } from '../../statistics/answer.ts'
import { type Burden, burdenKeys, burdenOf, type NotWhole, notWhole } from '../matched/burdens.ts'
import { type EveryMeasureWay, everyMeasureWay } from '../matched/every-measure-way.ts'
import { burdenAtTheEnds, burdenOverSeasons, seasonsWithBoth, wholeSeasons } from '../matched/labour-and-cost.ts'
import { laidOut, replicates } from '../matched/laid-out.ts'
import type { Pair } from '../matched/matched-season.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { figures, rulesOfFigure } from '../totals/figures.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'
import { burdenOfMethods, burdenOfMethodsAtTheEnds } from './about-methods.ts'
import { type Certainty, certaintyOf } from './certainty.ts'
import type { Context, OfPair } from './findings.ts'
import type { LayoutContrast } from './layout-contrast.ts'
import { type MissingWeeks, type RestsOn, turnedBy } from './yield-finding.ts'

export interface BurdenFinding extends OfPair {
  readonly code: 'labour seen' | 'labour not seen' | 'per kg seen' | 'per kg not seen'
  readonly burden: Burden
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly level: number
  /** How many seasons it rests on. */
  readonly seasons: number
  readonly restsOn: BurdenRestsOn
  readonly everyWay: EveryMeasureWay
  readonly missing: MissingWeeks
  /** Of these plots alone, or of the methods where the layout replicates them. */
  readonly about: AboutPlots | AboutLayout
}

/**
 * Seasons by their names; besides those with open weeks, those left out since something still stands or has no price.
 */
export interface BurdenRestsOn extends RestsOn {
  readonly left: readonly { readonly season: string; readonly why: Exclude<NotWhole, 'weeks open'> }[]
}

interface AboutPlots {
  readonly of: 'plots'
  readonly df: number
  readonly certainty: Certainty
}

interface AboutLayout
  extends Pick<LayoutContrast, 'layout' | 'scope' | 'how' | 'df' | 'unitsA' | 'unitsB' | 'certainty' | 'steps'> {
  readonly of: 'methods'
}

/** More than a tenth of what one side has was not written down for it and only divided: nothing can be compared. */
export interface DividedFinding extends OfPair {
  readonly code: 'only divided'
  readonly divided: Burden
  /** Of what it would have to be written for. */
  readonly each: 'bed' | 'half' | 'garden'
  /** The part that was only divided, 0..1. */
  readonly share: number
}

/**
 * Hours per m2, hours per kg and cost per kg of B over A, those that the data carry: gardens first where the layout
 * replicates the methods, by one log ratio a season where one garden stands for each.
 */
export function burdenFindings(record: TrialRecord, pair: Pair, named: OfPair, context: Context) {
  const methodIds = [pair.methodA, pair.methodB]
  const ofLayout = replicates(record, context.seasonIds, methodIds)
  return burdenKeys.flatMap((burden): (BurdenFinding | DividedFinding)[] => {
    const found = ofLayout
      ? byLayout(record, pair, burden, context)
      : bySeasons(record, pair, burden, { named, context })
    if (found.kind === 'refused') {
      const share = Number(found.detail)
      const each = eachOf(record, context.seasonIds, methodIds)
      return found.reason === 'only divided' ? [{ ...named, code: 'only divided', divided: burden, each, share }] : []
    }
    const { kind: _answer, seasonIds, ...told } = found
    const seen = (found.low > 1 || found.high < 1) && !turnedBy(found.missing)
    const of = burden === 'hoursPerBed' ? 'labour' : 'per kg'
    return [
      {
        ...named,
        code: seen ? `${of} seen` : `${of} not seen`,
        burden,
        seasons: seasonIds.length,
        ...told,
        everyWay: everyMeasureWay(record, seasonIds, pair, wayOf(burden)),
        restsOn: restsOn(record, seasonIds, pair, { burden, among: context.seasonIds }),
      },
    ]
  })
}

/** As a measure with its rules: the same quotient. */
const wayOf = (burden: Burden) => ({ key: figures[burden].measure, rules: rulesOfFigure(burden) })

type Figures = Pick<BurdenFinding, 'ratio' | 'low' | 'high' | 'level' | 'missing' | 'about'> & {
  readonly seasonIds: readonly string[]
}

function byLayout(record: TrialRecord, pair: Pair, burden: Burden, context: Context): Answer<Figures> | Refusal {
  const found = burdenOfMethods(record, context.seasonIds, pair, burden, context)
  if (found.kind === 'refused') return found
  const { ratio, low, high, level, layout, scope, how, df, unitsA, unitsB, certainty, steps } = found
  const ends = burdenOfMethodsAtTheEnds(found, pair, burden, context)
  return answer({
    ratio,
    low,
    high,
    level,
    seasonIds: found.seasonIds,
    missing: missingAt(ends, { side: sideOf(found, 1), ratioOf: (one) => one.ratio, sideAt: (one) => sideOf(one, 1) }),
    about: { of: 'methods' as const, layout, scope, how, df, unitsA, unitsB, certainty, steps },
  })
}

function bySeasons(
  record: TrialRecord,
  pair: Pair,
  burden: Burden,
  { named, context }: { readonly named: OfPair; readonly context: Context },
): Answer<Figures> | Refusal {
  const { seasonIds, comparisons, questionLocked } = context
  const found = burdenOverSeasons(record, seasonIds, pair, burden, { comparisons })
  if (found.kind === 'refused') return found
  const { estimate, low, high, df } = found
  const whole = wholeSeasons(record, seasonIds, pair, burden).map((one) => one.seasonId)
  const ends = burdenAtTheEnds(record, seasonIds, pair, burden, context)
  const missing = missingAt(ends, {
    side: sideOf(found, 0),
    ratioOf: (one) => Math.exp(one.estimate),
    sideAt: (one) => sideOf(one, 0),
  })
  const changedSince = record.seasons
    .filter((season) => whole.includes(season.id))
    .reduce((sum, season) => sum + season.changedSince, 0)
  const certainty = certaintyOf({
    gardens: Math.max(named.gardensA.length, named.gardensB.length),
    seasons: whole.length,
    matchedCrops: null,
    coverage: 1,
    questionLocked,
    changedSince,
    halfWidth: (high - low) / 2,
    survives: missing.kind !== 'ends' || missing.survives,
  })
  return answer({
    ratio: Math.exp(estimate),
    low: Math.exp(low),
    high: Math.exp(high),
    level: 1 - 0.05 / comparisons,
    seasonIds: whole,
    missing,
    about: { of: 'plots' as const, df, certainty },
  })
}

function eachOf(record: TrialRecord, seasonIds: readonly string[], methodIds: readonly string[]) {
  const laid = laidOut(record, seasonIds, methodIds)
  if (laid.kind === 'answer' && laid.unit === 'bed') return 'bed'
  const methodsOf = (gardenId: string) =>
    new Set(
      seasonIds.flatMap((id) => {
        const methodOf = methodsOfBeds(record, id)
        return record.beds.filter((bed) => bed.gardenId === gardenId).flatMap((bed) => methodOf.get(bed.id) ?? [])
      }),
    )
  return record.gardens.some((garden) => methodIds.every((id) => methodsOf(garden.id).has(id))) ? 'half' : 'garden'
}

/** On which side of no difference an interval lies as a whole: 1, -1, or 0 where it holds it. */
const sideOf = ({ low, high }: { readonly low: number; readonly high: number }, alike: number) =>
  low > alike ? 1 : high < alike ? -1 : 0

interface AtAnEnd<T> {
  readonly side: number
  ratioOf(one: T): number
  sideAt(one: T): number
}

function missingAt<T>(
  ends: Answer<{ readonly low: T; readonly high: T }> | Refusal | null,
  { side, ratioOf, sideAt }: AtAnEnd<T>,
): MissingWeeks {
  if (ends === null) return { kind: 'none open' }
  if (ends.kind === 'refused') return { kind: 'cannot be said', detail: ends.detail }
  const survives = [ends.low, ends.high].every((one) => sideAt(one) === side)
  return { kind: 'ends', low: ratioOf(ends.low), high: ratioOf(ends.high), survives }
}

/** What it rests on by names, and every season in which both lie that is left out, each with why. */
function restsOn(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  { burden, among }: { readonly burden: Burden; readonly among: readonly string[] },
): BurdenRestsOn {
  const name = (id: string) => nameIfAny(record.seasons.find((season) => season.id === id))
  const left = seasonsWithBoth(record, among, pair).filter((one) => !seasonIds.includes(one.seasonId))
  const why = left.map(({ seasonId, a, b }) => ({
    season: name(seasonId),
    // Both may be whole together while one of their places is not: its weeks are open.
    why: notWhole(a, burden) ?? notWhole(b, burden) ?? ('weeks open' as const),
    ratio: burdenOf(burden, b) / burdenOf(burden, a),
  }))
  return {
    seasons: seasonIds.map(name),
    open: why.flatMap((one) =>
      one.why === 'weeks open' && Number.isFinite(one.ratio) ? [{ season: one.season, ratio: one.ratio }] : [],
    ),
    left: why.flatMap(({ season, why: reason }) =>
      reason === 'still stands' || reason === 'no price' ? [{ season, why: reason }] : [],
    ),
    gaps: [],
    soFar: false,
  }
}
