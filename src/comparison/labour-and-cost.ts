import type { Answer, Refusal } from '../statistics/answer.ts'
import { refused } from '../statistics/answer.ts'
import { type SeasonContrast, seasonContrast } from '../statistics/season-contrast.ts'
import type { Pair } from './matched-season.ts'
import { type MethodTotals, methodTotals } from './method-totals.ts'
import type { TrialRecord } from './trial-record.ts'

export const burdens = {
  hoursPerBed: (t: MethodTotals) => t.minutesWithoutHarvest / t.bedAreaCm2,
  hoursPerKg: (t: MethodTotals) => (t.minutesWithoutHarvest + t.minutesOfHarvest) / t.marketableG,
  costPerKg: (t: MethodTotals) => t.cashMinor / t.marketableG,
} as const

export type Burden = keyof typeof burdens

/**
 * Hours or costs of method B over method A as one log ratio a season, with plain t over the seasons; all crops. Weeks are no
 * units. Seasons with open weeks of hours, standing plantings or unpriced inputs are left out of it; refused where fewer than
 * two whole seasons remain, or where one side has nothing.
 */
export function burdenOverSeasons(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
  burden: Burden,
): Answer<SeasonContrast & { readonly seasons: number }> | Refusal {
  const effects = seasonIds.flatMap((id) => {
    const totals = methodTotals(record, id)
    const [a, b] = [totals.get(methodA), totals.get(methodB)]
    if (!a || !b || !isWhole(a, burden) || !isWhole(b, burden)) return []
    const ratio = burdens[burden](b) / burdens[burden](a)
    return Number.isFinite(ratio) && ratio > 0 ? [Math.log(ratio)] : []
  })
  if (effects.length === 0) return refused('too few', 'no whole season')
  const found = seasonContrast(effects)
  return found.kind === 'refused' ? found : { ...found, seasons: effects.length }
}

function isWhole(t: MethodTotals, burden: Burden): boolean {
  if (burden === 'costPerKg') return t.unpricedCash === 0 && t.standing === 0
  return t.hoursClosed === t.weeks && (burden === 'hoursPerBed' || t.standing === 0)
}
