import { firstTable } from '../matched/first-table.ts'
import { ifOnly } from '../matched/if-only.ts'
import { cropName } from '../record/crop-name.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { costForCrop, minutesForCrop } from '../totals/crop-measures.ts'
import {
  type FigureKey,
  type FigureSection,
  type Limit,
  type MeasureKey,
  type MethodTotals,
  measureKeys,
  measureOf,
  measures,
  type SumUnit,
  sectionOf,
  type Unit,
  unitOfFigure,
  units,
} from '../totals/figures.ts'
import { lossesByCause } from '../totals/losses-by-cause.ts'
import type { MeasureRules } from '../totals/measures.ts'
import { sumOfParts } from '../totals/method-totals.ts'
import { isOfPlantings, type RowsBehind, type RowsWanted, rowsWanted, totalsOf } from './rows-behind.ts'

/** A figure of Compare with the two sums that it is the quotient of. */
export type LineKey =
  | FigureKey
  | `counted.${MeasureKey}`
  | `ofCrop.${'kgPerM2' | 'matched' | 'hoursPerKg' | 'costPerKg'}`
  | ('task' | 'cause' | 'causeCount' | 'labourAll' | 'labourEstablishing' | 'intensity' | 'commonCrops')
  | ('failedRow' | 'standingRow' | 'plantedRow' | 'hoursClosed' | 'weightsClosed' | 'paper' | 'late')

export interface FigureLine {
  readonly key: LineKey
  readonly numerator: number
  readonly denominator: number
  readonly in: readonly [SumUnit, SumUnit]
  readonly unit: Unit
  /** In its unit; null where there is nothing to divide by. A count of a count has none: it is said as "3 of 5". */
  readonly value: number | null
  readonly limit: Limit | null
}

type FigureLines = Readonly<Record<FigureSection, readonly FigureLine[]>>

interface Asked {
  readonly seasonIds: readonly string[]
  readonly methodId: string
  readonly kept: RowsWanted
  /** Set where another way of counting was asked for. */
  readonly rules: MeasureRules
  readonly counted: boolean
}

/**
 * The figures of Compare that the sums of each section make; of a crop, a task or a cause where only those are kept.
 */
export function figureLines(record: TrialRecord, rows: RowsBehind, asked: Asked): FigureLines {
  const totals = totalsOf(rows)
  const { task, cause } = asked.kept
  if (totals.bedAreaCm2 === 0) return nothing
  const kept = rowsWanted(rows, asked.kept)
  if (isOfPlantings(asked.kept)) return { ...nothing, ...ofCrop(kept, totals, asked.rules) }
  if (task !== undefined) return { ...nothing, hours: [hours('task', workOf(kept), totals)] }
  if (cause !== undefined) return { ...nothing, losses: ofCause(kept, totals) }
  const of = (section: FigureSection) => [
    ...firstFigures(record, asked, section),
    ...(asked.counted ? countedFigures(totals, asked.rules, section) : []),
  ]
  return {
    plantings: of('plantings'),
    crops: ofCrops(record, rows, totals, asked),
    hours: [
      ...of('hours'),
      hours('labourAll', totals.minutesWithoutHarvest + totals.minutesOfHarvest, totals),
      hours('labourEstablishing', totals.minutesOfEstablishing, totals),
    ],
    costs: of('costs'),
    losses: [...of('losses'), ...ofLosses(record, totals, asked)],
    weeks: [
      count('hoursClosed', totals.hoursClosed, totals.weeks),
      count('weightsClosed', totals.weightsClosed, totals.weeks),
    ],
    entries: [
      count('paper', totals.entriesFromPaper, totals.entries),
      count('late', totals.entriesLate, totals.entries),
    ],
  }
}

const nothing: FigureLines = { plantings: [], crops: [], hours: [], costs: [], losses: [], weeks: [], entries: [] }

const inUnit = (unit: Unit) => ({ unit, in: units[unit].sums })

function firstFigures(record: TrialRecord, { seasonIds, methodId }: Asked, section: FigureSection): FigureLine[] {
  const [only] = seasonIds
  const table = firstTable(record, seasonIds.length === 1 && only !== undefined ? only : null)
  const own = table.methods.find((one) => one.methodId === methodId)?.figures ?? []
  return own
    .filter((one) => sectionOf[one.key] === section)
    .map((one) => ({ ...one, ...inUnit(unitOfFigure(one.key)) }))
}

/** By the rules that were chosen; the keys are told apart from those of the first table. */
function countedFigures(totals: MethodTotals, rules: MeasureRules, section: FigureSection): FigureLine[] {
  return measureKeys
    .filter((key) => measures[key].section === section)
    .map((key) => ({ key: `counted.${key}` as const, ...measureOf(totals, key, rules), ...inUnit(measures[key].unit) }))
}

/** Each is divided in the order in which Compare divides it. */
function made(key: LineKey, unit: Unit, numerator: number, denominator: number): FigureLine {
  const { quotient } = units[unit]
  const value = denominator === 0 || quotient === null ? null : quotient(numerator, denominator)
  return { key, numerator, denominator, value, limit: null, ...inUnit(unit) }
}

const kilograms = (key: LineKey, grams: number, areaCm2: number) => made(key, 'kg/m2', grams, areaCm2)
const hours = (key: LineKey, minutes: number, { bedAreaCm2 }: MethodTotals) => made(key, 'h/m2', minutes, bedAreaCm2)
/** So many of so many: said as it is, not divided. */
const count = (key: LineKey, some: number, all: number) => made(key, 'of', some, all)

const workOf = (rows: RowsBehind) => {
  const { minutesWithoutHarvest, minutesOfHarvest } = sumOfParts(rows.hours.map((row) => row.part))
  return minutesWithoutHarvest + minutesOfHarvest
}

function ofCrop(kept: RowsBehind, totals: MethodTotals, rules: MeasureRules): Partial<FigureLines> {
  const [own, matched] = [kept.plantings, kept.plantings.filter((row) => row.matched)].map((some) =>
    sumOfParts(some.map((row) => row.part)),
  ) as [MethodTotals, MethodTotals]
  const grams = own.marketableG + (rules.weights === 'all' ? own.unmarketableG : 0)
  const open = own.standing > 0 || totals.weightsClosed < totals.weeks
  const minutes = kept.hours.flatMap(({ entry }) => minutesForCrop(entry, rules) ?? [])
  const minor = kept.costs.flatMap(({ spreading }) => costForCrop(spreading, rules) ?? [])
  const sum = (some: readonly number[]) => some.reduce((all, one) => all + one, 0)
  return {
    plantings: [
      { ...kilograms('ofCrop.kgPerM2', grams, own.plantedAreaCm2), limit: open ? 'so far' : null },
      ...(matched.plantings > 0 ? [kilograms('ofCrop.matched', matched.marketableG, matched.plantedAreaCm2)] : []),
    ],
    hours: minutes.length === 0 ? [] : [made('ofCrop.hoursPerKg', 'h/kg', sum(minutes), grams)],
    costs: minor.length === 0 ? [] : [made('ofCrop.costPerKg', 'minor/kg', sum(minor), grams)],
  }
}

function ofCause(kept: RowsBehind, totals: MethodTotals): FigureLine[] {
  const took = kept.losses.reduce((sum, one) => sum + one.areaPermille, 0)
  return [made('cause', '1', took, totals.plantedAreaCm2), count('causeCount', kept.losses.length, totals.plantings)]
}

function ofLosses(record: TrialRecord, totals: MethodTotals, { seasonIds, methodId }: Asked): FigureLine[] {
  const own = lossesByCause(record, seasonIds).find((one) => one.methodId === methodId)
  if (!own) return []
  const { marketableG, plantedAreaCm2, lostAreaPermille } = totals
  return [
    count('failedRow', own.failed, own.plantings),
    kilograms('standingRow', marketableG, plantedAreaCm2 - lostAreaPermille / 1000),
    kilograms('plantedRow', marketableG, plantedAreaCm2),
  ]
}

/** Grown for each m2 of bed, how fully it was planted, and the part of crops that stood under every method. */
function ofCrops(
  record: TrialRecord,
  rows: RowsBehind,
  totals: MethodTotals,
  { seasonIds, methodId }: Asked,
): FigureLine[] {
  const [only] = seasonIds
  const common = new Set(seasonIds.length === 1 && only !== undefined ? commonCrops(record, only, methodId) : [])
  const grams = rows.plantings
    .filter((row) => common.has(cropName(row.planting)))
    .reduce((sum, row) => sum + row.part.marketableG, 0)
  return [
    kilograms('marketablePerBed', totals.marketableG, totals.bedAreaCm2),
    made('intensity', 'm2/m2', totals.plantedAreaCm2, totals.bedAreaCm2),
    ...(common.size > 0 ? [kilograms('commonCrops', grams, totals.bedAreaCm2)] : []),
  ]
}

function commonCrops(record: TrialRecord, seasonId: string, methodId: string): readonly string[] {
  const methodIds = assignedIn(record, [seasonId])
  const found = methodIds.includes(methodId) ? ifOnly(record, seasonId, methodIds) : null
  return found && found.kind !== 'refused' ? found.crops : []
}

export function assignedIn(record: TrialRecord, seasonIds: readonly string[]): string[] {
  const there = new Set(record.assignments.filter((one) => seasonIds.includes(one.seasonId)).map((one) => one.methodId))
  return record.methods.flatMap(({ id }) => (there.has(id) ? [id] : []))
}
