import { type Answer, answer, type Refusal } from '../../statistics/answer.ts'
import type { SeasonContrast } from '../../statistics/season-contrast.ts'
import { type Burden, burdenKeys } from '../matched/burdens.ts'
import { type EveryMeasureWay, everyMeasureWay } from '../matched/every-measure-way.ts'
import { burdenOverSeasons, hoursAtTheEnds, wholeSeasons } from '../matched/labour-and-cost.ts'
import { laidOut, replicates } from '../matched/laid-out.ts'
import type { Pair } from '../matched/matched-season.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { type MeasureKey, type MeasureRules, plainMeasureRules } from '../totals/measures.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'
import { burdenOfMethods } from './about-methods.ts'
import { type Certainty, certaintyOf } from './certainty.ts'
import type { Context, OfPair } from './findings.ts'
import type { LayoutContrast } from './layout-contrast.ts'
import { type MissingWeeks, turnedBy } from './yield-finding.ts'

export interface BurdenFinding extends OfPair {
  readonly code: 'labour seen' | 'labour not seen' | 'per kg seen' | 'per kg not seen'
  readonly burden: Burden
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly level: number
  /** Whole seasons that it rests on. */
  readonly seasons: number
  readonly everyWay: EveryMeasureWay
  readonly missing: MissingWeeks
  /** Of these plots alone, or of the methods where the layout replicates them. */
  readonly about: AboutPlots | AboutLayout
}

interface AboutPlots {
  readonly of: 'plots'
  readonly df: number
  readonly certainty: Certainty
}

export interface AboutLayout
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

/** Each burden as a measure with its rules: the same quotient. */
const measureOf: Record<Burden, { readonly key: MeasureKey; readonly rules: MeasureRules }> = {
  hoursPerBed: { key: 'hoursPerArea', rules: { ...plainMeasureRules, harvestWork: 'without' } },
  hoursPerKg: { key: 'hoursPerKg', rules: plainMeasureRules },
  costPerKg: { key: 'costPerKg', rules: plainMeasureRules },
}

/**
 * Hours per m2, hours per kg and cost per kg of B over A, those that the data carry: gardens first where the layout replicates
 * the methods, by one log ratio a season where one garden stands for each.
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
    const { kind: _answer, restsOn, ...figures } = found
    const seen = (found.low > 1 || found.high < 1) && !turnedBy(found.missing)
    const of = burden === 'hoursPerBed' ? 'labour' : 'per kg'
    return [
      {
        ...{ ...named, code: seen ? `${of} seen` : `${of} not seen`, burden, seasons: restsOn.length },
        ...{ ...figures, everyWay: everyMeasureWay(record, restsOn, pair, measureOf[burden]) },
      },
    ]
  })
}

type Figures = Pick<BurdenFinding, 'ratio' | 'low' | 'high' | 'level' | 'missing' | 'about'> & {
  readonly restsOn: readonly string[]
}

function byLayout(record: TrialRecord, pair: Pair, burden: Burden, context: Context): Answer<Figures> | Refusal {
  const found = burdenOfMethods(record, context.seasonIds, pair, burden, context)
  if (found.kind === 'refused') return found
  const { ratio, low, high, level, layout, scope, how, df, unitsA, unitsB, certainty, steps } = found
  return answer({
    ...{ ratio, low, high, level, restsOn: found.seasonIds, missing: { kind: 'none open' as const } },
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
  const restsOn = wholeSeasons(record, seasonIds, pair, burden).map((one) => one.seasonId)
  const missing =
    burden === 'hoursPerBed' ? missingHours(record, pair, found, context) : ({ kind: 'none open' } as const)
  const changedSince = record.seasons
    .filter((season) => restsOn.includes(season.id))
    .reduce((sum, season) => sum + (season.changedSince ?? 0), 0)
  const certainty = certaintyOf({
    gardens: Math.max(named.gardensA.length, named.gardensB.length),
    ...{ seasons: restsOn.length, matchedCrops: null, coverage: 1, questionLocked, changedSince },
    ...{ halfWidth: (high - low) / 2, survives: missing.kind !== 'ends' || missing.survives },
  })
  return answer({
    ...{ ratio: Math.exp(estimate), low: Math.exp(low), high: Math.exp(high), level: 1 - 0.05 / comparisons },
    ...{ restsOn, missing, about: { of: 'plots' as const, df, certainty } },
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

const sideOf = ({ low, high }: { low: number; high: number }) => (low > 0 ? 1 : high < 0 ? -1 : 0)

function missingHours(record: TrialRecord, pair: Pair, plain: SeasonContrast, context: Context): MissingWeeks {
  const ends = hoursAtTheEnds(record, context.seasonIds, pair, context)
  if (ends === null) return { kind: 'none open' }
  if (ends.kind === 'refused') return { kind: 'cannot be said', detail: ends.detail }
  const { low, high } = ends
  const survives = [low, high].every((one) => sideOf(one) === sideOf(plain))
  return { kind: 'ends', low: Math.exp(low.estimate), high: Math.exp(high.estimate), survives }
}
