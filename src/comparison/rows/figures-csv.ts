import { asShown } from '../../lookups/unsaid.ts'
import type { Finding } from '../findings/findings.ts'
import type { FirstTable } from '../matched/first-table.ts'
import type { CountingRules } from '../matched/matched-season.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { untilSeasons } from '../record/until-seasons.ts'
import { figureKeys, type SumKey, sums, sumUnits, unitOfFigure } from '../totals/figures.ts'
import {
  type Compared,
  gapFigures,
  ifOnlyFigures,
  labourFigures,
  lossFigures,
  perKgFigures,
} from './explained-figures.ts'
import { type FigureRow, type FigureRows, type FigureTables, figureTable } from './figure-rows.ts'
import { cautionFigures, findingFigures, seasonFigures } from './findings-figures.ts'
import { replicatedFigures } from './replicated-figures.ts'

/** The two tables of a comparison and the sums they rest on, as rows; undefined where none is called that. */
export function figureRows(table: FirstTable, name: string): FigureRows | undefined {
  return figureTables.get(name)?.(table) ?? undefined
}

const methodRows = (table: FirstTable): FigureRows => [
  ['method', 'figure', 'unit', 'value', 'numerator', 'denominator', 'limit'],
  ...table.methods.flatMap(({ method, figures }) =>
    figures.map(({ key, value, numerator, denominator, limit }) => [
      method,
      key,
      unitOfFigure(key),
      value,
      numerator,
      denominator,
      limit,
    ]),
  ),
]

const matchedRows = (table: FirstTable): FigureRows => [
  ['crop', 'method', 'unit', 'value'],
  ...table.matched.flatMap(({ crop, byMethod }) =>
    byMethod.map((one) => [crop, methodNamed(table, one.methodId), 'kg/m2', one.kgPerM2]),
  ),
  ...table.commonMix.map((one) => ['common mix', methodNamed(table, one.methodId), 'kg/m2', one.kgPerM2]),
]

const methodNamed = (table: FirstTable, id: string) => asShown(table.methods.find((one) => one.methodId === id)?.method)

/** What every figure rests on, weeks that are closed and entries off paper or late among it. */
const totalRows = (table: FirstTable) =>
  figureTable(
    ['method'],
    table.methods.flatMap(({ method, totals }) =>
      Object.entries(totals).map(
        ([key, value]): FigureRow => [method, key, sumUnits[sums[key as SumKey]].inFile, value],
      ),
    ),
  )

const figureTables = new Map<string, (table: FirstTable) => FigureRows | null>([
  ['methods', methodRows],
  ['matched-crops', matchedRows],
  ['totals', totalRows],
])

export const unitsOfFigures = () => Object.fromEntries(figureKeys.map((key) => [key, unitOfFigure(key)]))

interface Told extends Compared {
  readonly found: readonly Finding[]
  readonly rules: CountingRules
}

export const findingsAsFigures = (found: readonly Finding[]) =>
  figureTable(['method', 'finding'], findingFigures(found))

interface Given {
  readonly seasonIds: readonly string[]
  readonly told: Told
}

/**
 * Every other table of a comparison, by its name: only those that have a figure in them. Plain data, so that they can
 * be made in a thread of their own.
 */
export function furtherTables(whole: TrialRecord, { seasonIds, told }: Given): FigureTables {
  const record = untilSeasons(whole, seasonIds)
  const [only] = seasonIds
  const ofOne = (figures: typeof gapFigures) => (seasonIds.length === 1 && only ? figures(record, only, told) : [])
  const tables = {
    findings: findingsAsFigures(told.found),
    cautions: figureTable(['method', 'season'], cautionFigures(record, seasonIds, told)),
    seasons: figureTable(
      ['method', 'season'],
      seasonIds.length > 1 ? seasonFigures(record, seasonIds, told, told.rules) : [],
    ),
    replicates: figureTable(['part', 'of'], replicatedFigures(record, seasonIds, told)),
    gaps: figureTable(['method', 'crop'], ofOne(gapFigures)),
    'per-kg': figureTable(['method', 'per kg'], ofOne(perKgFigures)),
    'all-methods': figureTable(['method'], ofOne(ifOnlyFigures)),
    losses: figureTable(['method', 'cause', 'outside'], lossFigures(record, seasonIds, told)),
    labour: figureTable(['method', 'task'], labourFigures(record, seasonIds)),
  }
  return Object.fromEntries(Object.entries(tables).flatMap(([name, rows]) => (rows ? [[name, rows]] : [])))
}
