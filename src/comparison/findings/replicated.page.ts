import { nameIfAny } from '../../lookups/unsaid.ts'
import { formatNumber } from '../../quantities/formatting.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsTogether } from './methods-together.ts'
import { plotModel, seasonsTogether, stableMethods } from './seasons-together.ts'

interface Asked {
  readonly referenceId: string
  readonly others: readonly { id: string; name: string }[]
  readonly locale: string
}

/** What replicated layouts and several seasons add: all methods in one analysis, season by method, steadiness. */
export function replicatedPage(
  record: TrialRecord,
  seasonIds: readonly string[],
  { referenceId, others, locale }: Asked,
) {
  const methodIds = [referenceId, ...others.map((one) => one.id)]
  const name = (id: string) => nameIfAny(record.methods.find((one) => one.id === id))
  const number = (value: number, decimals = 2) => formatNumber(value, locale, decimals)
  return {
    together: togetherTable(record, seasonIds, methodIds, { name, number }),
    pairs: others.flatMap((other) => {
      const pair = { methodA: referenceId, methodB: other.id }
      const [model, pooled] = [plotModel(record, seasonIds, pair), seasonsTogether(record, seasonIds, pair)]
      if (model.kind === 'refused' && pooled.kind === 'refused') return []
      return [
        {
          method: other.name,
          model:
            model.kind === 'refused'
              ? null
              : {
                  ratio: number(model.ratio),
                  low: number(model.low),
                  high: number(model.high),
                  df: number(model.df, 1),
                  plots: model.plots,
                  failed: model.failed,
                  singular: model.singular,
                  spreads: Object.entries(model.spreads).map(([of, sd]) => ({
                    of,
                    sd: number(sd),
                    // What holds them is taken out of the spread of the places, and is not after itself.
                    after: of === 'crop' || of === 'season' || of === model.after ? null : model.after,
                  })),
                },
          pooled: pooled.kind === 'refused' ? null : pooledLine(pooled, number),
        },
      ]
    }),
    stable: stableTable(record, seasonIds, methodIds, { name, number }),
  }
}

interface Writing {
  readonly name: (id: string) => string
  readonly number: (value: number, decimals?: number) => string
}

function togetherTable(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
  { name, number }: Writing,
) {
  const found = methodsTogether(record, seasonIds, methodIds)
  if (found.kind === 'refused' || methodIds.length < 2) return null
  return {
    layout: found.layout,
    after: found.after,
    failed: found.failed,
    df: found.df,
    methods: found.methods.map((one) => ({
      method: name(one.methodId),
      units: String(one.units),
      kgPerM2: number(one.kgPerM2),
      letters: one.letters,
    })),
    rows: found.table.map((row) => ({
      source: row.source,
      cells: [
        String(row.df),
        number(row.ss, 4),
        number(row.ms, 4),
        row.f === null ? '' : number(row.f),
        row.p === null ? '' : row.p < 0.001 ? `< ${number(0.001, 3)}` : number(row.p, 3),
      ],
    })),
    standardError: found.standardErrorRatio === null ? null : number(found.standardErrorRatio),
    least: found.leastDifferenceRatio === null ? null : number(found.leastDifferenceRatio),
    cv: number(found.cv, 0),
    spreads: found.spreads && { asWeighed: number(found.spreads.asWeighed, 1), logs: number(found.spreads.logs, 1) },
  }
}

type Pooled = Extract<ReturnType<typeof seasonsTogether>, { kind: 'answer' }>

function pooledLine(pooled: Pooled, number: Writing['number']) {
  const of = (log: number) => number(Math.exp(log))
  return {
    ratio: of(pooled.estimate),
    low: of(pooled.low),
    high: of(pooled.high),
    i2: number(pooled.i2, 0),
    next: 'low' in pooled.prediction ? { low: of(pooled.prediction.low), high: of(pooled.prediction.high) } : null,
  }
}

function stableTable(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
  { name, number }: Writing,
) {
  const found = stableMethods(record, seasonIds, methodIds)
  if (found.kind === 'refused') return null
  return {
    seasons: found.seasons,
    rows: found.methods.map((one) => ({
      method: name(one.methodId),
      cells: [
        number(one.mean),
        one.cv === null ? null : number(one.cv, 0),
        number(one.slope),
        one.shukla === null ? null : number(Math.max(0, one.shukla), 3),
        number(one.superiority, 3),
      ],
    })),
  }
}
