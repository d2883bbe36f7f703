import { formatArea, formatKilograms, formatNumber } from '../quantities/formatting.ts'
import type { Answer, Refusal } from '../statistics/answer.ts'
import type { Figure, FirstTable, MethodFigures } from './matched/first-table.ts'
import type { ErrorOfMeasuring } from './totals/error-of-measuring.ts'
import { figureWritten, type InLocale } from './totals/figure-written.page.ts'
import { type FigureKey, figures, type Limit, type MethodTotals, unitOfFigure } from './totals/figures.ts'

/** One cell as it is read: the figure, its limit, and codes with figures for what it rests on. */
interface Cell {
  readonly figure: string | null
  readonly limit: Limit | null
  readonly rests: {
    readonly on: 'area' | 'kg' | 'weeks'
    readonly text: string
    readonly count: number
    readonly all: number
  }
}

export interface ComparePage {
  readonly oneGardenAMethod: boolean
  readonly methods: readonly string[]
  /** The seasons of each method, where they are not the same for all; kept reports of earlier releases have none. */
  readonly seasonsOf?: readonly (readonly string[])[] | null
  readonly rows: readonly { readonly key: FigureKey; readonly cells: readonly Cell[] }[]
  readonly coverage: readonly {
    readonly hoursClosed: number
    readonly weightsClosed: number
    readonly weeks: number
    readonly entries: number
    readonly paper: number
    readonly late: number
  }[]
  readonly matched: readonly { readonly crop: string; readonly cells: readonly string[] }[]
  readonly commonMix: readonly string[]
  readonly currency: string
}

/** The rows with the page on which each is told how it is made. */
export const rowsShown = (rows: ComparePage['rows']) => rows.map((row) => ({ ...row, made: figures[row.key].made }))

/** Rounds, once, what the engine kept whole. */
export function comparePage(table: FirstTable, locale: string, currency: string): ComparePage {
  const keys = table.methods[0]?.figures.map((figure) => figure.key) ?? []
  return {
    oneGardenAMethod: table.oneGardenAMethod,
    methods: table.methods.map((one) => one.method),
    seasonsOf: alike(table.methods.map((one) => one.seasons)) ? null : table.methods.map((one) => one.seasons),
    rows: keys.map((key, row) => ({
      key,
      cells: table.methods.map((one) => cellOf(one, key, one.figures[row], { locale, currency })),
    })),
    coverage: table.methods.map(({ totals }) => ({
      hoursClosed: totals.hoursClosed,
      weightsClosed: totals.weightsClosed,
      weeks: totals.weeks,
      entries: totals.entries,
      paper: totals.entriesFromPaper,
      late: totals.entriesLate,
    })),
    matched: table.matched.map((crop) => ({
      crop: crop.crop,
      cells: crop.byMethod.map((one) => formatNumber(one.kgPerM2, locale, 2)),
    })),
    commonMix: table.commonMix.map((one) => formatNumber(one.kgPerM2, locale, 2)),
    currency,
  }
}

const alike = (lists: readonly (readonly string[])[]) =>
  lists.every((own) => own.length === lists[0]?.length && own.every((name, i) => name === lists[0]?.[i]))

function cellOf({ totals }: MethodFigures, key: FigureKey, figure: Figure | undefined, given: InLocale): Cell {
  const value = figure?.value ?? null
  return {
    figure: value === null ? null : figureWritten(value, unitOfFigure(key), given),
    limit: figure?.limit ?? null,
    rests: restsOn[figures[key].rests](totals, given.locale),
  }
}

type Rests = Cell['rests']

const onArea = (area: number, { plantings }: MethodTotals, locale: string): Rests => ({
  on: 'area',
  text: formatArea(area, locale),
  count: plantings,
  all: 0,
})

const restsOn: Record<(typeof figures)[FigureKey]['rests'], (totals: MethodTotals, locale: string) => Rests> = {
  weeks: ({ hoursClosed, weeks }) => ({ on: 'weeks', text: '', count: hoursClosed, all: weeks }),
  kg: ({ marketableG }, locale) => ({ on: 'kg', text: formatKilograms(marketableG, locale), count: 0, all: 0 }),
  'bed area': (totals, locale) => onArea(totals.bedAreaCm2, totals, locale),
  'gross area': (totals, locale) => onArea(totals.grossAreaCm2, totals, locale),
  'planted area': (totals, locale) => onArea(totals.plantedAreaCm2, totals, locale),
}

/** How far two readings of one weight lie apart, in per cent; null where too few were read twice. */
export function measuringShown(found: Answer<ErrorOfMeasuring> | Refusal, locale: string) {
  if (found.kind === 'refused') return { pairs: Number(found.detail), error: null, apart: null }
  const percent = (log: number) => `${formatNumber(100 * (Math.exp(log) - 1), locale, 1)} %`
  return { pairs: found.pairs, error: percent(found.sdLog), apart: percent(found.meanLog) }
}
