import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { sdOf } from '../../statistics/moments.ts'
import { type SeasonContrast, seasonContrast } from '../../statistics/season-contrast.ts'
import { smallestDetectable } from '../../statistics/smallest-detectable.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { isClosed } from './closed-seasons.ts'
import {
  type CountingRules,
  type MatchedSeason,
  matchedSeason,
  mixOf,
  type Pair,
  plainRules,
} from './matched-season.ts'

/** What an interval over seasons is about; with one garden a method only the first can be had. */
export type Estimand = 'thesePlots' | 'methodAtSite' | 'methodElsewhere'

export interface OverSeasons {
  readonly estimand: Estimand
  readonly seasons: readonly MatchedSeason[]
  /**
   * Seasons in which nothing at all came off one side: they have no logarithm and no place in a mean of logarithms, so
   * that with one of them there is no interval. Dropping them would count a failure as if it had not been.
   */
  readonly failed: readonly { readonly seasonId: string; readonly rateA: number; readonly rateB: number }[]
  /** Seasons without a matched crop, and why. */
  readonly left: readonly { readonly seasonId: string; readonly reason: string }[]
  /** Seasons with more than a tenth of the weeks of weights open: what they gave so far, and in no mean. */
  readonly open: readonly { readonly seasonId: string; readonly logRatio: number }[]
  /** Every season that has a matched crop is open: all that stands here is so far. */
  readonly soFar: boolean
  /** Log ratio over the seasons; refused for fewer than two: one season is described. */
  readonly contrast: Answer<SeasonContrast> | Refusal
  /** Crops that all the seasons share; fewer than each has where they changed. */
  readonly constantCrops: readonly string[]
}

/**
 * Two methods over seasons: one log ratio a season on one common mix, plain t with S - 1 degrees of freedom (rule of
 * one garden a method: seasons are the only replicates; crops, weeks and beds of one garden are none). Where the
 * matched crops changed between seasons only the constant set is compared; without one nothing is ("nothing in common",
 * with the number of seasons that have crops of their own). Seasons with more than a tenth of their weeks open are left
 * out, unless there is no other. A season off which nothing came on one side refuses the mean. "Student" 1908,
 * Biometrika 6:1-25.
 */
export function overSeasons(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  { rules = plainRules, comparisons = 1 }: { readonly rules?: CountingRules; readonly comparisons?: number } = {},
): Answer<OverSeasons> | Refusal {
  const all = seasonIds.map((id) => [id, matchedSeason(record, id, pair, rules)] as const)
  const closed = new Set(seasonIds.filter((id) => isClosed(record, id, [pair.methodA, pair.methodB])))
  const soFar = !all.some(([id, one]) => closed.has(id) && (one.kind === 'answer' || 'rates' in one))
  const first = all.filter(([id]) => soFar || closed.has(id))
  const kept = first.flatMap(([, one]) => (one.kind === 'answer' ? [one] : []))
  const failed = first.flatMap(([seasonId, one]) => ('rates' in one && one.rates ? [{ seasonId, ...one.rates }] : []))
  if (kept.length + failed.length === 0) return refused('nothing in common', '0')
  const constantCrops = (kept[0]?.crops ?? [])
    .map((crop) => crop.crop)
    .filter((name) => kept.every((season) => season.crops.some((crop) => crop.crop === name)))
  if (kept.length > 1 && constantCrops.length === 0 && failed.length === 0)
    return refused('nothing in common', String(kept.length))
  const pooled = mixOf(
    record,
    first.map(([id]) => id),
    pair,
    rules,
  )
  const mix = constantCrops.length > 0 ? new Map([...pooled].filter(([name]) => constantCrops.includes(name))) : pooled
  const again = kept.map((one) => [one.seasonId, matchedSeason(record, one.seasonId, pair, rules, mix)] as const)
  const seasons = again.flatMap(([, one]) =>
    one.kind === 'answer' ? [{ ...one, crops: one.crops.filter((crop) => crop.share > 0) }] : [],
  )
  const onMix = again.flatMap(([seasonId, one]) => ('rates' in one && one.rates ? [{ seasonId, ...one.rates }] : []))
  const without = [...failed, ...onMix]
  const effects = seasons.map((season) => season.logRatio)
  return answer({
    estimand: 'thesePlots' as const,
    seasons,
    constantCrops,
    failed: without,
    soFar,
    open: all.flatMap(([seasonId, one]) =>
      one.kind === 'answer' && !soFar && !closed.has(seasonId) ? [{ seasonId, logRatio: one.logRatio }] : [],
    ),
    left: first.flatMap(([seasonId, one]) => (one.kind === 'refused' ? [{ seasonId, reason: one.reason }] : [])),
    contrast:
      without.length > 0 && first.length > 1
        ? refused('zero total', `${without.length} seasons off which nothing came on one side`)
        : seasonContrast(effects, { comparisons }),
  })
}

/** The smallest ratio that these seasons would have shown with power 0.8; null where none can be told. */
export function smallestSeen(seasons: readonly MatchedSeason[]): number | null {
  const effects = seasons.map((season) => season.logRatio)
  if (effects.length < 2) return null
  const found = smallestDetectable({ n: effects.length, sd: sdOf(effects), power: 0.8, paired: true })
  return found.kind === 'answer' ? Math.exp(found.difference) : null
}
