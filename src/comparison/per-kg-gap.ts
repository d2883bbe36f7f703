import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'
import { decomposeGap, type GapParts } from '../statistics/decompose-gap.ts'
import { cropMeasures } from './crop-measures.ts'
import type { Pair } from './matched-season.ts'
import { plainMeasureRules } from './measures.ts'
import { methodTotals } from './method-totals.ts'
import type { TrialRecord } from './trial-record.ts'

export interface PerKgGap extends GapParts {
  /** Share of each method's minutes that were written for a crop of the comparison, 0..1. */
  readonly coveredA: number
  readonly coveredB: number
}

/**
 * The gap in hours per kg between two methods in a season, split into what was picked and how many hours each kilogram took, over
 * the crops for whose plantings hours were written under both: shares are of kilograms, since that is the denominator (Kitagawa
 * 1955, Journal of the American Statistical Association 50:1168-1194). A garden's hours are never spread over its crops: refused
 * where no crop carries its own.
 */
export function perKgGap(
  record: TrialRecord,
  seasonId: string,
  { methodA, methodB }: Pair,
): Answer<PerKgGap> | Refusal {
  const [a, b] = [methodA, methodB].map((id) => hoursByCrop(record, seasonId, id))
  if (!a || !b) return refused('nothing in common', 'no method')
  const found = decomposeGap(a.rates, b.rates)
  if (found.kind === 'refused') return found
  const common = new Set(found.byKey.map((one) => one.key))
  return answer({ ...found, coveredA: a.coveredBy(common), coveredB: b.coveredBy(common) })
}

function hoursByCrop(record: TrialRecord, seasonId: string, methodId: string) {
  const crops = cropMeasures(record, [seasonId], methodId, plainMeasureRules)
  const own = crops.flatMap(({ crop, grams, minutes }) =>
    minutes === null || grams === 0
      ? []
      : [{ key: crop, weight: grams / 1000, rate: minutes / 60 / (grams / 1000), minutes }],
  )
  const totals = methodTotals(record, seasonId).get(methodId)
  const all = (totals?.minutesWithoutHarvest ?? 0) + (totals?.minutesOfHarvest ?? 0)
  return {
    rates: own,
    coveredBy: (keys: ReadonlySet<string>) =>
      all === 0 ? 0 : own.filter((one) => keys.has(one.key)).reduce((sum, one) => sum + one.minutes, 0) / all,
  }
}
