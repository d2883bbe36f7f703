import { held } from '../lookups/held.ts'
import { type Answer, answer, type Refusal, refused } from './answer.ts'
import { type LinearModel, linearModel, type TermRow } from './linear-model.ts'
import { meanOf, percentOf } from './moments.ts'
import { pf } from './pf.ts'
import { qt } from './qt.ts'

interface PlotValue {
  readonly value: number
  readonly treatment: string
  readonly block?: string
  /** The treatment of the smaller plot within the larger, where plots are split. */
  readonly subplot?: string
}

export interface AnovaRow {
  readonly source: 'block' | 'treatment' | 'mainError' | 'subplot' | 'interaction' | 'error'
  readonly df: number
  readonly ss: number
  readonly ms: number
  readonly f: number | null
  readonly p: number | null
}

interface BlockedAnova {
  readonly table: readonly AnovaRow[]
  readonly means: Readonly<Record<string, number>>
  /**
   * Standard error of a difference of two treatment means, and the least significant difference at 5 %; null where n
   * differ.
   */
  readonly sed: number | null
  readonly lsd: number | null
  /** Trial CV, per cent; of the larger plots where plots are split; null where the mean is nothing. */
  readonly cv: number | null
  /** The same of the smaller plots. */
  readonly subplots?: {
    readonly means: Readonly<Record<string, number>>
    readonly sed: number
    readonly lsd: number
    readonly cv: number | null
  }
}

/**
 * Analysis of variance of completely randomised plots, of blocks, or of a balanced split plot, chosen by which labels
 * are there. Refuses fewer than two treatments, a layout without an error term ("no error term": one plot a treatment
 * and no block) and a split plot with a missing cell. Fisher 1925; Yates 1935, JRSS Supplement 2:181-247 (split plots).
 */
export function blockedAnova(rows: readonly PlotValue[]): Answer<BlockedAnova> | Refusal {
  if (new Set(rows.map((row) => row.treatment)).size < 2) return refused('too few', 'treatments')
  if (!rows.every((row) => Number.isFinite(row.value))) return refused('not a number', 'a plot')
  return rows.some((row) => row.subplot !== undefined) ? splitPlot(rows) : plain(rows)
}

function plain(rows: readonly PlotValue[]): Answer<BlockedAnova> | Refusal {
  const blocked = rows.every((row) => row.block !== undefined)
  const fixed = {
    ...(blocked ? { block: rows.map((row) => `b${row.block}`) } : {}),
    treatment: rows.map((row) => row.treatment),
  }
  const model = linearModel({ y: rows.map((row) => row.value), fixed })
  if (model.kind === 'refused') return model.reason === 'too few' ? refused('no error term', model.detail) : model
  if (!model.table.some((row) => row.source === 'treatment')) return refused('aliased', 'treatment and block')
  const { ms, df } = model.residual
  const means = meansBy(rows, (row) => row.treatment)
  const n = equalSize(rows, (row) => row.treatment)
  const sed = n === null ? null : Math.sqrt((2 * ms) / n)
  return answer({
    table: tableOf(model),
    means,
    sed,
    lsd: sed === null ? null : qt(0.975, df) * sed,
    cv: percentOf(
      Math.sqrt(ms),
      rows.map((row) => row.value),
    ),
  })
}

const tableOf = (model: LinearModel): AnovaRow[] =>
  model.table.map((row) => ({
    ...row,
    source: row.source === 'residual' ? 'error' : row.source === 'block' ? 'block' : 'treatment',
  }))

function splitPlot(rows: readonly PlotValue[]): Answer<BlockedAnova> | Refusal {
  if (rows.some((row) => row.block === undefined || row.subplot === undefined)) return refused('incomplete', 'a label')
  const levels = (key: 'block' | 'treatment' | 'subplot') => new Set(rows.map((row) => row[key])).size
  const [b, m, s] = [levels('block'), levels('treatment'), levels('subplot')]
  const cells = new Set(rows.map((row) => JSON.stringify([row.block, row.treatment, row.subplot])))
  if (rows.length !== b * m * s || cells.size !== rows.length) return refused('incomplete', 'a cell of the split plot')
  if (b < 2 || s < 2) return refused('no error term', `${b} blocks`)
  const model = linearModel({
    y: rows.map((row) => row.value),
    fixed: {
      block: rows.map((row) => `b${row.block}`),
      treatment: rows.map((row) => row.treatment),
      subplot: rows.map((row) => `s${row.subplot}`),
    },
    interactions: [
      ['block', 'treatment'],
      ['treatment', 'subplot'],
    ],
  })
  if (model.kind === 'refused') return model
  const rowOf = new Map(model.table.map((row) => [row.source, row]))
  const of = (source: string) => held(rowOf, source)
  const [main, error] = [of('block:treatment'), of('residual')]
  const against = (row: TermRow, source: AnovaRow['source'], by: TermRow): AnovaRow => {
    const f = row.ms / by.ms
    return { source, df: row.df, ss: row.ss, ms: row.ms, f, p: pf(f, row.df, by.df, { upper: true }) }
  }
  const bare = (row: TermRow, source: AnovaRow['source']): AnovaRow => ({ ...row, source, f: null, p: null })
  const values = rows.map((row) => row.value)
  const [sedMain, sedSub] = [Math.sqrt((2 * main.ms) / (b * s)), Math.sqrt((2 * error.ms) / (b * m))]
  return answer({
    table: [
      bare(of('block'), 'block'),
      against(of('treatment'), 'treatment', main),
      bare(main, 'mainError'),
      against(of('subplot'), 'subplot', error),
      against(of('treatment:subplot'), 'interaction', error),
      bare(error, 'error'),
    ],
    means: meansBy(rows, (row) => row.treatment),
    sed: sedMain,
    lsd: qt(0.975, main.df) * sedMain,
    cv: percentOf(Math.sqrt(main.ms), values),
    subplots: {
      // Only a split-plot layout has subplots, and these means are asked for of one alone.
      means: meansBy(rows, (row) => row.subplot ?? ''),
      sed: sedSub,
      lsd: qt(0.975, error.df) * sedSub,
      cv: percentOf(Math.sqrt(error.ms), values),
    },
  })
}

function meansBy(rows: readonly PlotValue[], keyOf: (row: PlotValue) => string): Record<string, number> {
  const keys = [...new Set(rows.map(keyOf))]
  return Object.fromEntries(
    keys.map((key) => [key, meanOf(rows.filter((row) => keyOf(row) === key).map((row) => row.value))]),
  )
}

function equalSize(rows: readonly PlotValue[], keyOf: (row: PlotValue) => string): number | null {
  const sizes = new Set([...new Set(rows.map(keyOf))].map((key) => rows.filter((row) => keyOf(row) === key).length))
  return sizes.size === 1 ? ([...sizes][0] ?? null) : null
}
