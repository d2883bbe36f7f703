import type { SeasonContrast } from '../../statistics/season-contrast.ts'
import { type EveryMeasureWay, everyMeasureWay } from '../matched/every-measure-way.ts'
import { type Burden, burdenOverSeasons, hoursAtTheEnds, wholeSeasons } from '../matched/labour-and-cost.ts'
import type { Pair } from '../matched/matched-season.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { type MeasureKey, type MeasureRules, plainMeasureRules } from '../totals/measures.ts'
import type { Context, OfPair } from './findings.ts'
import type { MissingWeeks } from './yield-finding.ts'

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
}

/** Each burden as a measure with its rules: the same quotient. */
const measureOf: Record<Burden, { readonly key: MeasureKey; readonly rules: MeasureRules }> = {
  hoursPerBed: { key: 'hoursPerArea', rules: { ...plainMeasureRules, harvestWork: 'without' } },
  hoursPerKg: { key: 'hoursPerKg', rules: plainMeasureRules },
  costPerKg: { key: 'costPerKg', rules: plainMeasureRules },
}

/** Hours per m2, hours per kg and cost per kg of B over A, each by one log ratio a season; those that the data carry. */
export function burdenFindings(record: TrialRecord, pair: Pair, named: OfPair, context: Context): BurdenFinding[] {
  const { seasonIds, comparisons } = context
  return (['hoursPerBed', 'hoursPerKg', 'costPerKg'] as const).flatMap((burden): BurdenFinding[] => {
    const found = burdenOverSeasons(record, seasonIds, pair, burden, { comparisons })
    if (found.kind === 'refused') return []
    const { estimate, low, high, seasons } = found
    const restsOn = wholeSeasons(record, seasonIds, pair, burden).map((one) => one.seasonId)
    const seen = low > 0 || high < 0
    const codes =
      burden === 'hoursPerBed'
        ? (['labour seen', 'labour not seen'] as const)
        : (['per kg seen', 'per kg not seen'] as const)
    return [
      {
        ...{ ...named, code: seen ? codes[0] : codes[1], burden, seasons, level: 1 - 0.05 / comparisons },
        ...{ ratio: Math.exp(estimate), low: Math.exp(low), high: Math.exp(high) },
        everyWay: everyMeasureWay(record, restsOn, pair, measureOf[burden]),
        missing: burden === 'hoursPerBed' ? missingHours(record, pair, found, context) : { kind: 'none open' },
      },
    ]
  })
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
