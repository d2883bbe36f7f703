import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodTotals } from '../totals/method-totals.ts'
import { hoursBounds } from '../totals/missing-hours.ts'
import { addedAtMost } from '../totals/missing-weights.ts'
import { type Burden, spentOn } from './burdens.ts'

interface BurdenBounds {
  /** Per cm2 or per gram: the least spent on the most that was grown, and the most on the least. */
  readonly low: number
  readonly high: number
  readonly openWeeks: number
}

/**
 * Hours or cost of a method in a season with what its open weeks can plausibly hold: each at nothing more than is
 * entered, or at the most of closed weeks near it. Refused where too few weeks near an open one are closed ("too few").
 */
export function burdenBounds(
  record: TrialRecord,
  seasonId: string,
  methodId: string,
  burden: Burden,
): Answer<BurdenBounds> | Refusal {
  const totals = methodTotals(record, seasonId).get(methodId)
  if (!totals) return refused('nothing in common', 'no such method in that season')
  const entered = spentOn(burden, totals)
  const work = burden === 'hoursPerKg' ? 'all' : 'without harvest'
  const hours =
    burden === 'costPerKg' ? answer({ low: 0, high: 0, openWeeks: 0 }) : hoursBounds(record, seasonId, methodId, work)
  if (hours.kind === 'refused') return hours
  const most = entered + hours.high - hours.low
  if (burden === 'hoursPerBed') {
    return answer({
      low: entered / totals.bedAreaCm2,
      high: most / totals.bedAreaCm2,
      openWeeks: hours.openWeeks,
    })
  }
  const weights = addedAtMost(record, [seasonId], methodId, (planting) => planting.purpose === 'harvest')
  if (weights.kind === 'refused') return weights
  const added = [...weights.more.values()].reduce((sum, one) => sum + one.marketableG, 0)
  return answer({
    low: entered / (totals.marketableG + added),
    high: most / totals.marketableG,
    openWeeks: hours.openWeeks + weights.openWeeks,
  })
}
