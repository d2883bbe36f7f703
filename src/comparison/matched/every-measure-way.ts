import { keysOf } from '../../lookups/keys.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { type MeasureKey, type MethodTotals, measureOf, measures, units } from '../totals/figures.ts'
import { type MeasureRules, measureChoices } from '../totals/measures.ts'
import { methodTotals } from '../totals/method-totals.ts'
import type { Pair } from './matched-season.ts'
import { leastKept, type OrderKept, orderKept, turns } from './order-kept.ts'

interface MeasureWay {
  readonly rules: MeasureRules
  /** Ratio of B over A, the mean over seasons of its logarithm; null where a season carries none. */
  readonly ratio: number | null
}

export interface EveryMeasureWay extends OrderKept {
  readonly ways: readonly MeasureWay[]
  readonly turning: readonly (keyof MeasureRules)[]
}

/**
 * A measure of all crops under every sensible combination of the rules that touch it, for two methods, held against the
 * rules and over the seasons that the finding was counted by. Rules that change nothing here (no establishing work,
 * nothing of the group's own) are not varied; nothing is counted twice: the group's own compost is either free with its
 * hours or valued without them. A way that keeps under a tenth of a season's hours, or of its kilograms, on either side
 * is left out. After Steegen et al. 2016, Perspectives on Psychological Science 11:702 (from memory).
 */
export function everyMeasureWay(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
  { key, rules: own }: { readonly key: MeasureKey; readonly rules: MeasureRules },
): EveryMeasureWay {
  const varied = measures[key].rules.filter((rule) => matters(record, seasonIds, pair, rule))
  const ways = combinations(varied, own).map((rules, i) => {
    const kept = i === 0 || keepsEnough(record, seasonIds, pair, key, rules)
    return { rules, ratio: kept ? ratioUnder(record, seasonIds, pair, key, rules) : null }
  })
  const found = ways[0]?.ratio ?? 1
  return {
    ...orderKept(ways),
    ways,
    turning: varied.filter((rule) =>
      ways.some((way) => turns(way.ratio, found) && differsOnlyIn(way.rules, own, rule)),
    ),
  }
}

/** Against the season with all its weights, and all its hours where hours are what is measured. */
function keepsEnough(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
  key: MeasureKey,
  rules: MeasureRules,
): boolean {
  const [over, under] = units[measures[key].unit].sums
  return seasonIds.every((id) => {
    const totals = methodTotals(record, id)
    return [methodA, methodB].every((methodId) => {
      const own = totals.get(methodId)
      if (!own) return true
      const minutes = own.minutesWithoutHarvest + own.minutesOfHarvest
      const grams = rules.weights === 'all' ? 1 : own.marketableG / (own.marketableG + own.unmarketableG)
      const kept = over === 'min' ? measureOf(own, key, rules).numerator / minutes : 1
      return !(kept < leastKept) && !(under === 'g' && grams < leastKept)
    })
  })
}

/** The finding's own way first. */
function combinations(varied: readonly (keyof MeasureRules)[], own: MeasureRules): MeasureRules[] {
  const ownFirst = (rule: keyof MeasureRules) => new Set([own[rule], ...measureChoices[rule]])
  return varied.reduce<MeasureRules[]>(
    (all, rule) => [...ownFirst(rule)].flatMap((choice) => all.map((rules) => ({ ...rules, [rule]: choice }))),
    [own],
  )
}

function matters(record: TrialRecord, seasonIds: readonly string[], pair: Pair, rule: keyof MeasureRules): boolean {
  if (rule !== 'establishing' && rule !== 'ownMade') return true
  const totals = seasonIds.flatMap((id) => {
    const all = methodTotals(record, id)
    return [all.get(pair.methodA), all.get(pair.methodB)]
  })
  const own = (t: MethodTotals) => t.minutesOfMakingCompost > 0 || t.costMinor !== t.cashMinor
  const establishing = (t: MethodTotals) =>
    t.minutesOfEstablishing + t.costEstablishing + t.groundSpread + t.harvestSpread + t.compostSpread + t.costSpread > 0
  return totals.some((t) => t !== undefined && (rule === 'ownMade' ? own(t) : establishing(t)))
}

function ratioUnder(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
  key: MeasureKey,
  rules: MeasureRules,
): number | null {
  const logs = seasonIds.flatMap((id) => {
    const totals = methodTotals(record, id)
    const [a, b] = [totals.get(methodA), totals.get(methodB)]
    if (!a || !b) return []
    // An unknown value makes no finite logarithm, and then there is no answer below.
    return [Math.log((measureOf(b, key, rules).value ?? 0) / (measureOf(a, key, rules).value ?? 0))]
  })
  if (logs.length === 0 || !logs.every(Number.isFinite)) return null
  return Math.exp(logs.reduce((sum, log) => sum + log, 0) / logs.length)
}

const differsOnlyIn = (rules: MeasureRules, own: MeasureRules, rule: keyof MeasureRules) =>
  keysOf(measureChoices).every((name) => (rules[name] === own[name]) !== (name === rule))
