import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { decomposeGap, type GapParts } from '../../statistics/decompose-gap.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { cropMeasures } from '../totals/crop-measures.ts'
import { plainMeasureRules } from '../totals/measures.ts'
import { methodTotals } from '../totals/method-totals.ts'
import type { Pair } from './matched-season.ts'

/** Hours, or minor units of cost, for each kilogram. */
export type PerKg = 'minutes' | 'costMinor'

interface PerKgGap extends GapParts {
  /** Share of each method's minutes, or cost, that was written for a crop of the comparison, 0..1. */
  readonly coveredA: number
  readonly coveredB: number
}

/**
 * The gap in hours or cost per kg between two methods in a season, split into what was picked and how much each
 * kilogram took, over the crops for whose plantings it was written under both: shares are of kilograms, since that is
 * the denominator (Kitagawa 1955, Journal of the American Statistical Association 50:1168-1194). A garden's hours are
 * never spread over its crops: refused where no crop carries its own.
 */
export function perKgGap(
  record: TrialRecord,
  seasonId: string,
  { methodA, methodB }: Pair,
  of: PerKg = 'minutes',
): Answer<PerKgGap> | Refusal {
  const [a, b] = [methodA, methodB].map((id) => byCrop(record, seasonId, id, of))
  if (!a || !b) return refused('nothing in common', 'no method')
  const found = decomposeGap(a.rates, b.rates)
  if (found.kind === 'refused') return found
  const common = new Set(found.byKey.map((one) => one.key))
  return answer({ ...found, coveredA: a.coveredBy(common), coveredB: b.coveredBy(common) })
}

function byCrop(record: TrialRecord, seasonId: string, methodId: string, of: PerKg) {
  const crops = cropMeasures(record, [seasonId], methodId, plainMeasureRules)
  const per = of === 'minutes' ? 60 : 1
  const own = crops.flatMap(({ crop, grams, [of]: amount }) =>
    amount === null || grams === 0
      ? []
      : [{ key: crop, weight: grams / 1000, rate: amount / per / (grams / 1000), amount }],
  )
  const totals = methodTotals(record, seasonId).get(methodId)
  // A method without totals worked nothing here.
  const minutes = (totals?.minutesWithoutHarvest ?? 0) + (totals?.minutesOfHarvest ?? 0)
  // Nor did it spend.
  const all = of === 'minutes' ? minutes : (totals?.cashMinor ?? 0)
  return {
    rates: own,
    coveredBy: (keys: ReadonlySet<string>) =>
      all === 0 ? 0 : own.filter((one) => keys.has(one.key)).reduce((sum, one) => sum + one.amount, 0) / all,
  }
}
