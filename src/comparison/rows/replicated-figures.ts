import { nameIfAny } from '../../lookups/unsaid.ts'
import { methodsTogether } from '../findings/methods-together.ts'
import { plotModel, seasonsTogether, stableMethods } from '../findings/seasons-together.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import type { Compared } from './explained-figures.ts'
import { type FigureRow, rowsOf } from './figure-rows.ts'

/** What replicated layouts and several seasons add, in four parts; each only where the layout carries it. */
export function replicatedFigures(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, others }: Compared,
): FigureRow[] {
  const ids = [referenceId, ...others.map((other) => other.id)]
  if (ids.length < 2) return []
  const name = (id: string) => nameIfAny(record.methods.find((one) => one.id === id))
  return [
    ...togetherFigures(record, seasonIds, ids, name),
    ...others.flatMap((other) => pairFigures(record, seasonIds, { referenceId, other })),
    ...steadyFigures(record, seasonIds, ids, name),
  ]
}

type Name = (id: string) => string

function togetherFigures(record: TrialRecord, seasonIds: readonly string[], ids: readonly string[], name: Name) {
  const found = methodsTogether(record, seasonIds, ids)
  if (found.kind === 'refused') return []
  const { df, failed, standardErrorRatio, leastDifferenceRatio, cv, spreads } = found
  return [
    ...found.methods.flatMap(({ methodId, units, kgPerM2 }) => [
      ...rowsOf(['all methods', name(methodId)], '1', { units }),
      ...rowsOf(['all methods', name(methodId)], 'kg/m2', { kgPerM2 }),
    ]),
    ...rowsOf(['all methods', 'all'], '1', { df, failed, standardErrorRatio, leastDifferenceRatio, cv }),
    ...rowsOf(['all methods', 'all'], '1', { spreadAsWeighed: spreads?.asWeighed, spreadOfLogs: spreads?.logs }),
    ...found.table.flatMap(({ source, ...row }) =>
      rowsOf(['analysis of variance', source], '1', { df: row.df, ss: row.ss, ms: row.ms, f: row.f, p: row.p }),
    ),
  ]
}

interface Beside {
  readonly referenceId: string
  readonly other: { readonly id: string; readonly name: string }
}

function pairFigures(record: TrialRecord, seasonIds: readonly string[], { referenceId, other }: Beside): FigureRow[] {
  const pair = { methodA: referenceId, methodB: other.id }
  const [pooled, model] = [seasonsTogether(record, seasonIds, pair), plotModel(record, seasonIds, pair)]
  const rows: FigureRow[] = []
  if (pooled.kind === 'answer') {
    const { estimate, low, high, i2, prediction } = pooled
    const next = 'low' in prediction ? { nextLow: Math.exp(prediction.low), nextHigh: Math.exp(prediction.high) } : {}
    const figures = { ratio: Math.exp(estimate), low: Math.exp(low), high: Math.exp(high), ...next, i2 }
    rows.push(...rowsOf(['season by method', other.name], '1', figures))
  }
  if (model.kind === 'answer') {
    const { ratio, low, high, df, plots, failed, spreads } = model
    const sds = Object.fromEntries(Object.entries(spreads).map(([of, sd]) => [`sd of ${of}`, sd]))
    rows.push(...rowsOf(['single plantings', other.name], '1', { ratio, low, high, df, plots, failed, ...sds }))
  }
  return rows
}

function steadyFigures(record: TrialRecord, seasonIds: readonly string[], ids: readonly string[], name: Name) {
  const found = stableMethods(record, seasonIds, ids)
  if (found.kind === 'refused') return []
  return found.methods.flatMap(({ methodId, mean, cv, slope, shukla, superiority }) => {
    const figures = { mean, cv, slope, shukla: shukla === null ? null : Math.max(0, shukla), superiority }
    return rowsOf(['steadiness', name(methodId)], '1', { ...figures, seasons: found.seasons })
  })
}
