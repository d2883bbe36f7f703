import { formatArea, formatKilograms, formatMoney, formatNumber } from '../quantities/formatting.ts'
import type { Answer, Refusal } from '../statistics/answer.ts'
import type { Figure, FigureKey, FirstTable, Limit, MethodFigures } from './matched/first-table.ts'
import type { ErrorOfMeasuring } from './totals/error-of-measuring.ts'

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

/** Rounds, once, what the engine kept whole. */
export function comparePage(table: FirstTable, locale: string, currency: string): ComparePage {
  const keys = table.methods[0]?.figures.map((figure) => figure.key) ?? []
  return {
    oneGardenAMethod: table.oneGardenAMethod,
    methods: table.methods.map((one) => one.method),
    seasonsOf: alike(table.methods.map((one) => one.seasons)) ? null : table.methods.map((one) => one.seasons),
    rows: keys.map((key, row) => ({
      key,
      cells: table.methods.map((one) => cellOf(one, one.figures[row], locale, currency)),
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

function cellOf(one: MethodFigures, figure: Figure | undefined, locale: string, currency: string): Cell {
  const value = figure?.value ?? null
  return {
    figure: value === null || !figure ? null : written(figure.key, value, locale, currency),
    limit: figure?.limit ?? null,
    rests: restsOf(one, figure?.key, locale),
  }
}

function written(key: FigureKey, value: number, locale: string, currency: string): string {
  if (key === 'costPerKg' || key === 'costPerBed') return formatMoney(value, locale, currency)
  if (key === 'lostArea') return `${formatNumber(100 * value, locale, 0)} %`
  return formatNumber(value, locale, 2)
}

function restsOf({ totals }: MethodFigures, key: FigureKey | undefined, locale: string): Cell['rests'] {
  if (key === 'hoursPerBed') return { on: 'weeks', text: '', count: totals.hoursClosed, all: totals.weeks }
  if (key === 'hoursPerKg' || key === 'costPerKg') {
    return { on: 'kg', text: formatKilograms(totals.marketableG, locale), count: 0, all: 0 }
  }
  const gross = key === 'marketablePerGross' || key === 'allPerGross'
  const area = key === 'lostArea' ? totals.plantedAreaCm2 : gross ? totals.grossAreaCm2 : totals.bedAreaCm2
  return { on: 'area', text: formatArea(area, locale), count: totals.plantings, all: 0 }
}

/** How far two readings of one weight lie apart, in per cent; null where too few were read twice. */
export function measuringShown(found: Answer<ErrorOfMeasuring> | Refusal, locale: string) {
  if (found.kind === 'refused') return { pairs: Number(found.detail), error: null, apart: null }
  const percent = (log: number) => `${formatNumber(100 * (Math.exp(log) - 1), locale, 1)} %`
  return { pairs: found.pairs, error: percent(found.sdLog), apart: percent(found.meanLog) }
}
