import { rowsWith } from '../../lookups/rows-with.ts'
import { amongThem } from '../../lookups/unsaid.ts'
import type { IsoWeek } from '../../quantities/iso-week.ts'
import { matchedCrops } from '../matched/matched-crops.ts'
import { cropName } from '../record/crop-name.ts'
import { lossSteps } from '../record/loss-steps.ts'
import { seasonWeeks } from '../record/near-weeks.ts'
import type {
  BedRecord,
  EntryRecord,
  LabourRecord,
  LossRecord,
  PlantingRecord,
  SpreadingRecord,
  TrialRecord,
} from '../record/trial-record.ts'
import {
  addBed,
  addEntry,
  addGarden,
  addLabour,
  addPlanting,
  addSpreading,
  addWeeks,
  grossOfBeds,
  type Sums,
} from '../totals/adding-up.ts'
import type { MethodTotals } from '../totals/figures.ts'
import { countsToward, methodTotals, sumOfParts, sumsOf } from '../totals/method-totals.ts'

/** A row of the record with what it comes to in the totals of one method in one season. */
export interface RowPart {
  readonly seasonId: string
  readonly part: MethodTotals
}

export interface RowsBehind {
  readonly ground: readonly (RowPart & { readonly bed: BedRecord })[]
  readonly gardens: readonly (RowPart & { readonly gardenId: string })[]
  readonly plantings: readonly (RowPart & {
    readonly planting: PlantingRecord
    /** In a matched set that stood under every method and is cleared. */
    readonly matched: boolean
  })[]
  readonly hours: readonly (RowPart & { readonly entry: LabourRecord })[]
  readonly costs: readonly (RowPart & { readonly spreading: SpreadingRecord })[]
  readonly losses: readonly LossBehind[]
  readonly weeks: readonly (RowPart & { readonly gardenId: string; readonly isoWeek: IsoWeek })[]
  readonly entries: readonly (RowPart & { readonly entry: EntryRecord })[]
}

interface LossBehind {
  readonly seasonId: string
  readonly planting: PlantingRecord
  readonly loss: LossRecord
  /** What it took of what still stood, in cm2 x permille. */
  readonly areaPermille: number
}

/**
 * Every row that counts into one method over these seasons, each with its own part of the totals: the parts are made by
 * the very functions that add up the totals, one row at a time, so that they add up to `methodTotals` in every key.
 * What was done in another season stands here only where a part of it falls on this one.
 */
export function rowsBehind(record: TrialRecord, seasonIds: readonly string[], methodId: string): RowsBehind {
  const seasons = seasonIds.map((seasonId) => behindSeason(record, seasonId, methodId))
  const matched = matchedSets(record, seasonIds)
  const plantings = seasons
    .flatMap((one) => one.plantings)
    .map((row) => ({ ...row, matched: amongThem(matched, row.planting.matchedSetId) }))
  return {
    ground: seasons.flatMap((one) => one.ground),
    gardens: seasons.flatMap((one) => one.gardens),
    plantings,
    hours: seasons.flatMap((one) => one.hours),
    costs: seasons.flatMap((one) => one.costs),
    losses: plantings.flatMap(({ seasonId, planting }) =>
      lossSteps(rowsWith(record.losses, 'plantingId', planting.id)).map(({ loss, permille }) => ({
        seasonId,
        planting,
        loss,
        areaPermille: planting.areaCm2 * permille,
      })),
    ),
    weeks: seasons.flatMap((one) => one.weeks),
    entries: seasons.flatMap((one) => one.entries),
  }
}

function behindSeason(record: TrialRecord, seasonId: string, methodId: string) {
  const made = new Map<string, MethodTotals>()
  const sums = sumsOf(record, seasonId, made)
  const rows = <T extends object>(of: readonly T[], add: (sums: Sums, one: T) => void, doneIn?: (one: T) => string) =>
    of.flatMap((one) => {
      made.clear()
      add(sums, one)
      const part = made.get(methodId)
      const counts = doneIn?.(one) === seasonId || Object.values(part ?? {}).some((value) => value !== 0)
      return part && counts ? [{ ...one, seasonId, part }] : []
    })
  const weeks = seasonWeeks(record, seasonId)
  return {
    ground: rows(
      record.gardens.flatMap((garden) => grossOfBeds(record, garden, seasonId)),
      (to, { bed, grossCm2 }) => addBed(to, bed, grossCm2),
    ),
    gardens: rows(
      record.gardens.map((garden) => ({ garden, gardenId: garden.id })),
      (to, { garden }) => addGarden(to, garden),
    ),
    plantings: rows(
      rowsWith(record.plantings, 'seasonId', seasonId).map((planting) => ({ planting })),
      (to, { planting }) => addPlanting(to, planting),
    ),
    hours: rows(
      record.labour.flatMap((entry) => (countsToward(entry, seasonId) ? [{ entry }] : [])),
      (to, { entry }) => addLabour(to, entry),
      ({ entry }) => entry.seasonId,
    ),
    costs: rows(
      record.spreadings.map((spreading) => ({ spreading })),
      (to, { spreading }) => addSpreading(to, spreading),
      ({ spreading }) => spreading.seasonId,
    ),
    weeks: rows(
      record.gardens.flatMap((garden) => weeks.map((isoWeek) => ({ gardenId: garden.id, isoWeek }))),
      (to, { gardenId, isoWeek }) => addWeeks(to, gardenId, new Set([isoWeek])),
    ),
    entries: rows(
      rowsWith(record.entries ?? [], 'seasonId', seasonId).map((entry) => ({ entry })),
      (to, { entry }) => addEntry(to, entry),
    ),
  }
}

/** The sets that the matched table counts: of crops under every method that has ground in these seasons. */
function matchedSets(record: TrialRecord, seasonIds: readonly string[]): Set<string> {
  const methodIds = methodsIn(record, seasonIds)
  return new Set(seasonIds.flatMap((id) => matchedCrops(record, id, methodIds)).map((crop) => crop.matchedSetId))
}

/** Methods with ground in some of these seasons, in the order in which they stand side by side. */
export function methodsIn(record: TrialRecord, seasonIds: readonly string[]): string[] {
  const there = new Set(seasonIds.flatMap((id) => [...methodTotals(record, id).keys()]))
  return record.methods.flatMap(({ id }) => (there.has(id) ? [id] : []))
}

/** What all the rows come to together. */
export function totalsOf(rows: RowsBehind): MethodTotals {
  const { ground, gardens, plantings, hours, costs, weeks, entries } = rows
  return sumOfParts(
    [ground, gardens, plantings, hours, costs, weeks, entries].flatMap((some: readonly RowPart[]) =>
      some.map((row) => row.part),
    ),
  )
}

export interface RowsWanted {
  /** A crop, or a crop with its cultivar as the matched tables name it. */
  readonly crop?: string | undefined
  /** One of them, by its id. */
  readonly planting?: string | undefined
  readonly task?: string | undefined
  readonly cause?: string | undefined
  /** Of a cause: only losses that it brought from outside the method, or only the others. */
  readonly outside?: boolean | undefined
}

/** Whether only some plantings are kept: of hours and costs then only what was written for them. */
export const isOfPlantings = ({ crop, planting }: RowsWanted) => crop !== undefined || planting !== undefined

/**
 * Only the rows of a crop, a planting, a task or a cause; of plantings only the hours and costs written for them.
 */
export function rowsWanted(rows: RowsBehind, wanted: RowsWanted): RowsBehind {
  const { crop, planting: id, task, cause, outside } = wanted
  const isKept = (planting: PlantingRecord) =>
    (crop === undefined || planting.crop === crop || cropName(planting) === crop) &&
    (id === undefined || planting.id === id)
  const plantings = rows.plantings.filter((row) => isKept(row.planting))
  const own = new Set(plantings.map((row) => row.planting.id))
  // What is spread into later seasons is counted by crop in the season it was done in, and there alone.
  const forThem = (seasonId: string, done: { readonly seasonId: string; readonly plantingId?: string | null }) =>
    !isOfPlantings(wanted) || (done.seasonId === seasonId && amongThem(own, done.plantingId))
  return {
    ...rows,
    plantings,
    hours: rows.hours.filter(
      ({ seasonId, entry }) => forThem(seasonId, entry) && (task === undefined || entry.task === task),
    ),
    costs: rows.costs.filter(({ seasonId, spreading }) => forThem(seasonId, spreading)),
    losses: rows.losses.filter(
      ({ planting, loss }) =>
        isKept(planting) &&
        (cause === undefined || (loss.cause ?? 'unknown') === cause) &&
        (outside === undefined || (loss.outsideMethod ?? false) === outside),
    ),
  }
}
