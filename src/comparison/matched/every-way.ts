import { keysOf } from '../../lookups/keys.ts'
import { numberIn } from '../../lookups/unsaid.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { type CountingRules, gramsCounted, type Pair, plainRules } from './matched-season.ts'
import { leastKept, type OrderKept, orderKept, turns } from './order-kept.ts'
import { overSeasons } from './over-seasons.ts'

interface Way {
  readonly rules: CountingRules
  /** Ratio of B over A over the seasons; null where this way of counting carries none. */
  readonly ratio: number | null
}

export interface EveryWay extends OrderKept {
  /** Counted by the rules of the finding first. */
  readonly ways: readonly Way[]
  /** The rules that turn the order of the finding when they alone are changed. */
  readonly turning: readonly (keyof Varied)[]
}

/** The rules that are varied; the crops that a question fixed stay fixed. */
type Varied = Omit<CountingRules, 'crops'>

const choices: { readonly [K in keyof Varied]: readonly Varied[K][] } = {
  weights: ['marketable', 'all'],
  mix: ['pooled areas', 'equal parts'],
  outsideLosses: ['counted', 'set left out'],
}

/**
 * The matched comparison under every sensible combination of the rules that touch it, held against the rules that the
 * finding was counted by. A way that keeps under a tenth of a season's kilograms on either side is left out. All crops
 * on gross area is another estimand and is not mixed in; labour and cost are never matched. After Steegen et al. 2016,
 * Perspectives on Psychological Science 11:702, and Simonsohn et al. 2020 (both from memory).
 */
export function everyWay(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  own: CountingRules = plainRules,
): EveryWay {
  const all = choices.weights.flatMap((weights) =>
    choices.mix.flatMap((mix) =>
      choices.outsideLosses.map((outsideLosses) => ({ ...own, weights, mix, outsideLosses })),
    ),
  )
  const ownFirst = [own, ...all.filter((rules) => !isLike(rules, own))]
  const over = overSeasons(record, seasonIds, pair, { rules: own })
  const restsOn = over.kind === 'answer' ? over.seasons.map((one) => one.seasonId) : seasonIds
  const ways = ownFirst.map((rules) => {
    const kept = rules === own || keepsEnough(record, restsOn, pair, rules)
    return { rules, ratio: kept ? ratioUnder(record, seasonIds, pair, rules) : null }
  })
  const found = ways[0]?.ratio ?? 1
  return {
    ...orderKept(ways),
    ways,
    turning: varied.filter((rule) => ways.some((way) => turns(way.ratio, found) && onlyDiffers(way.rules, own, rule))),
  }
}

function keepsEnough(record: TrialRecord, seasonIds: readonly string[], pair: Pair, rules: CountingRules): boolean {
  const all: CountingRules = { ...rules, weights: 'all', outsideLosses: 'counted' }
  return seasonIds.every((id) =>
    [pair.methodA, pair.methodB].every((methodId) => {
      const grams = (own: CountingRules) => numberIn(gramsCounted(record, id, pair, own), methodId)
      return grams(rules) >= leastKept * grams(all)
    }),
  )
}

function ratioUnder(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  rules: CountingRules,
): number | null {
  const found = overSeasons(record, seasonIds, pair, { rules })
  if (found.kind === 'refused' || found.seasons.length === 0 || found.failed.length > 0) return null
  const mean = found.seasons.reduce((sum, season) => sum + season.logRatio, 0) / found.seasons.length
  return Math.exp(mean)
}

const varied = keysOf(choices)

const isLike = (one: CountingRules, other: CountingRules) => varied.every((name) => one[name] === other[name])

const onlyDiffers = (one: CountingRules, other: CountingRules, rule: keyof Varied) =>
  varied.every((name) => (one[name] === other[name]) !== (name === rule))
