import type { TrialRecord } from '../record/trial-record.ts'
import { type CountingRules, type Pair, plainRules } from './matched-season.ts'
import { overSeasons } from './over-seasons.ts'

export interface Way {
  readonly rules: CountingRules
  /** Ratio of B over A over the seasons; null where this way of counting carries none. */
  readonly ratio: number | null
}

export interface EveryWay {
  /** Counted by the rules of the finding first. */
  readonly ways: readonly Way[]
  readonly counted: number
  /** In how many of the counted ways the order is that of the finding. Not a probability. */
  readonly sameOrder: number
  readonly low: number
  readonly high: number
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
 * The matched comparison under every sensible combination of the rules that touch it, held against the rules that the finding
 * was counted by. All crops on gross area is another estimand and is not mixed in; labour and cost are never matched.
 * After Steegen et al. 2016, Perspectives on Psychological Science 11:702, and Simonsohn et al. 2020 (both from memory).
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
  const ways = ownFirst.map((rules) => ({ rules, ratio: ratioUnder(record, seasonIds, pair, rules) }))
  const ratios = ways.flatMap((way) => (way.ratio === null ? [] : [way.ratio]))
  const found = ways[0]?.ratio ?? 1
  const above = (ratio: number) => ratio > 1 === found > 1
  return {
    ways,
    counted: ratios.length,
    sameOrder: ratios.filter(above).length,
    low: Math.min(...ratios, found),
    high: Math.max(...ratios, found),
    turning: varied.filter((rule) =>
      ways.some((way) => way.ratio !== null && !above(way.ratio) && onlyDiffers(way.rules, own, rule)),
    ),
  }
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

const varied = Object.keys(choices) as (keyof Varied)[]

const isLike = (one: CountingRules, other: CountingRules) => varied.every((name) => one[name] === other[name])

const onlyDiffers = (one: CountingRules, other: CountingRules, rule: keyof Varied) =>
  varied.every((name) => (one[name] === other[name]) !== (name === rule))
