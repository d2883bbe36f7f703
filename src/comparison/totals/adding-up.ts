import { harvestTasks, type Task } from '../../diary/tasks.ts'
import { nth } from '../../lookups/nth.ts'
import { rowsWith } from '../../lookups/rows-with.ts'
import { splitExactly } from '../../quantities/split-exactly.ts'
import { closedWeeks } from '../record/closed-weeks.ts'
import { type BedInSeason, bedsAmong, bedsIn, grossIn, partsByArea } from '../record/ground.ts'
import { lossSteps } from '../record/loss-steps.ts'
import { phaseOfBed } from '../record/shared-work.ts'
import type {
  EntryRecord,
  GardenRecord,
  LabourRecord,
  PlantingRecord,
  SpreadingRecord,
  TrialRecord,
} from '../record/trial-record.ts'
import type { MethodTotals, SumKey } from './figures.ts'

/**
 * Where one season is summed up: every function here adds what one row of the record comes to, and no more than that
 * row.
 */
export interface Sums {
  readonly record: TrialRecord
  readonly seasonId: string
  readonly methodOf: ReadonlyMap<string, string>
  readonly ofMethod: (methodId: string) => MethodTotals
  /** Undefined for a bed that lies under no method in the season. */
  readonly ofBed: (bedId: string) => MethodTotals | undefined
  /** Over how many seasons the establishing of the method that lay on a bed in a season is spread. */
  readonly lifeOf: (seasonId: string, bedId: string) => number
  readonly weeks: ReadonlySet<string>
}

/** The beds of a garden in a season with the part of its gross area that goes with each, by their area, exactly. */
export function grossOfBeds(record: TrialRecord, garden: GardenRecord, seasonId: string) {
  const beds = bedsIn(record, seasonId).filter((bed) => bed.gardenId === garden.id)
  const areas = beds.map((bed) => bed.areaCm2)
  const gross = splitExactly(grossIn(record, garden, seasonId), areas) ?? []
  return beds.map((bed, i) => ({ bed, grossCm2: nth(gross, i) }))
}

export function addBed({ ofBed }: Sums, bed: BedInSeason, grossCm2: number): void {
  const totals = ofBed(bed.id)
  if (!totals) return
  totals.bedAreaCm2 += bed.areaCm2
  totals.grossAreaCm2 += grossCm2
}

/** A garden that is split counts for each of its methods. */
export function addGarden({ record, methodOf, ofMethod }: Sums, garden: GardenRecord): void {
  for (const methodId of methodsIn(record, garden.id, methodOf)) ofMethod(methodId).gardens += 1
}

const methodsIn = (record: TrialRecord, gardenId: string, methodOf: ReadonlyMap<string, string>) =>
  new Set(record.beds.flatMap((bed) => (bed.gardenId === gardenId ? (methodOf.get(bed.id) ?? []) : [])))

export function addPlanting({ record, seasonId, ofBed }: Sums, planting: PlantingRecord): void {
  const totals = planting.seasonId === seasonId && planting.purpose === 'harvest' ? ofBed(planting.bedId) : undefined
  if (!totals) return
  totals.plantings += 1
  totals.plantedAreaCm2 += planting.areaCm2
  totals.marketableG += planting.marketableG
  totals.unmarketableG += planting.unmarketableG
  totals.standing += planting.cleared ? 0 : 1
  const steps = lossSteps(rowsWith(record.losses, 'plantingId', planting.id))
  totals.lostAreaPermille += planting.areaCm2 * steps.reduce((sum, step) => sum + step.permille, 0)
}

/** Which row of the record brings each sum. */
export const broughtBy = {
  gardens: addGarden,
  plantings: addPlanting,
  bedAreaCm2: addBed,
  grossAreaCm2: addBed,
  plantedAreaCm2: addPlanting,
  lostAreaPermille: addPlanting,
  marketableG: addPlanting,
  unmarketableG: addPlanting,
  minutesWithoutHarvest: addLabour,
  minutesOfHarvest: addLabour,
  minutesOfMakingCompost: addLabour,
  minutesOfEstablishing: addLabour,
  groundEstablishing: addLabour,
  groundSpread: addLabour,
  harvestEstablishing: addLabour,
  harvestSpread: addLabour,
  compostEstablishing: addLabour,
  compostSpread: addLabour,
  costMinor: addSpreading,
  costEstablishing: addSpreading,
  costSpread: addSpreading,
  cashMinor: addSpreading,
  cashEstablishing: addSpreading,
  cashSpread: addSpreading,
  unpriced: addSpreading,
  unpricedCash: addSpreading,
  standing: addPlanting,
  weeks: addWeeks,
  hoursClosed: addWeeks,
  weightsClosed: addWeeks,
  entries: addEntry,
  entriesFromPaper: addEntry,
  entriesLate: addEntry,
} as const satisfies Record<SumKey, unknown>

export type WorkKind = 'ground' | 'harvest' | 'compost'

/** Work that scales with the crop, the making of compost, and all other work. */
export const kindOf = (task: string): WorkKind =>
  harvestTasks.includes(task as Task) ? 'harvest' : task === 'making compost' ? 'compost' : 'ground'

export function addLabour({ record, seasonId, ofBed, lifeOf }: Sums, entry: LabourRecord): void {
  if (entry.seasonId !== seasonId && entry.phase !== 'establishing') return
  const age = ageOf(record, entry.seasonId, seasonId)
  if (age < 0) return
  const kind = kindOf(entry.task)
  const done = { record, seasonId: entry.seasonId, bedIds: entry.bedIds }
  const { times = 1, phase, personMinutes } = entry
  const addWorked = (totals: MethodTotals, each: number) => {
    const minutes = times * each
    if (kind === 'harvest') totals.minutesOfHarvest += minutes
    else totals.minutesWithoutHarvest += minutes
    if (kind === 'compost') totals.minutesOfMakingCompost += minutes
  }
  if (phase !== 'establishing') {
    overOwners(done, personMinutes, ofBed, addWorked)
    return
  }
  overBeds(done, personMinutes, ofBed, (totals, each, bedId) => {
    if (age === 0) {
      addWorked(totals, each)
      totals.minutesOfEstablishing += times * each
      totals[`${kind}Establishing`] += times * each
    }
    totals[`${kind}Spread`] += times * partAt(each, lifeOf(entry.seasonId, bedId), age)
  })
}

/**
 * A cost is divided in whole, equal parts over the seasons that it lasts; each part stays with the ground it lies on.
 */
export function addSpreading({ record, seasonId, ofBed, lifeOf }: Sums, spreading: SpreadingRecord): void {
  const age = ageOf(record, spreading.seasonId, seasonId)
  if (age < 0) return
  const { costMinor, cashMinor = costMinor, usefulLifeSeasons: life } = spreading
  const { phase } = spreading
  // It has gone by: only what establishes may last longer, with the method that it establishes.
  if (age >= life && phase !== null && phase !== 'establishing') return
  const isEstablishing = (bedId: string) =>
    (phase === null ? phaseOfBed(bedId, spreading.seasonId, record) : phase) === 'establishing'
  const done = { record, seasonId: spreading.seasonId, bedIds: spreading.bedIds }
  if (age < life) {
    for (const totals of new Set(spreading.bedIds.map(ofBed))) {
      if (totals && costMinor === null) totals.unpriced += 1
      if (totals && cashMinor === null) totals.unpricedCash += 1
    }
  }
  for (const [key, minor] of [
    ['cost', costMinor],
    ['cash', cashMinor],
  ] as const) {
    if (minor === null) continue
    overBeds(done, partAt(minor, life, age), ofBed, (totals, part, bedId) => {
      totals[`${key}Minor`] += part
      if (isEstablishing(bedId)) totals[`${key}Establishing`] += part
    })
    if (phase !== null && phase !== 'establishing') continue
    // Each bed's part is spread over the life stated for the method that lay on it, or over the input's own if that is
    // longer.
    overBeds(done, minor, ofBed, (totals, part, bedId) => {
      if (!isEstablishing(bedId)) return
      totals[`${key}Spread`] += partAt(part, Math.max(life, lifeOf(spreading.seasonId, bedId)), age)
    })
  }
}

/** How many seasons lie between the one that something was done in and the one that is counted. */
function ageOf(record: TrialRecord, doneIn: string, counted: string): number {
  if (doneIn === counted) return 0
  const at = (id: string) => record.seasons.findIndex((season) => season.id === id)
  return at(counted) - at(doneIn)
}

/** The part of a whole total that falls on one of `life` seasons, counted from 0; nothing outside them. */
function partAt(total: number, life: number, age: number): number {
  if (age < 0 || age >= life) return 0
  if (life === 1) return total
  const parts = splitExactly(
    total,
    Array.from({ length: life }, () => 1),
  )
  // Years beyond the useful life bear nothing.
  return parts?.[age] ?? 0
}

/** On which beds something was done, and in which season. */
interface Done {
  readonly record: TrialRecord
  readonly seasonId: string
  readonly bedIds: readonly string[]
}

/**
 * Divides a whole total over beds by the area that they had in the season in which it was done, exactly; beds that
 * belong to nothing keep their part to themselves.
 */
export function overBeds<T>(
  { record, seasonId, bedIds }: Done,
  total: number,
  ofBed: (bedId: string) => T | undefined,
  add: (to: T, part: number, bedId: string) => void,
): void {
  const beds = bedsAmong(record, seasonId, bedIds)
  const parts = partsByArea(beds, total)
  for (const [i, { id }] of beds.entries()) {
    const to = ofBed(id)
    if (to !== undefined) add(to, nth(parts, i), id)
  }
}

/**
 * As `overBeds`, where it does not matter on which of its beds a part lies: what was done on beds that all belong to
 * one is that one's whole, and is not divided first.
 */
export function overOwners<T>(
  done: Done,
  total: number,
  ofBed: (bedId: string) => T | undefined,
  add: (to: T, part: number) => void,
): void {
  const [first, ...others] = bedsAmong(done.record, done.seasonId, done.bedIds)
  if (first === undefined) return
  const owner = ofBed(first.id)
  if (others.some(({ id }) => ofBed(id) !== owner)) overBeds(done, total, ofBed, add)
  else if (owner !== undefined) add(owner, total)
}

/** Some weeks of one garden, and how many of them are closed. A garden that is split counts for each of its methods. */
export function addWeeks(sums: Sums, gardenId: string, weeks: ReadonlySet<string> = sums.weeks): void {
  const { record, methodOf, ofMethod } = sums
  const closed = (what: string) => {
    const those = closedWeeks(record, gardenId, what)
    return [...weeks].filter((week) => those.has(week)).length
  }
  for (const methodId of methodsIn(record, gardenId, methodOf)) {
    const totals = ofMethod(methodId)
    totals.weeks += weeks.size
    totals.hoursClosed += closed('hours')
    totals.weightsClosed += closed('weights')
  }
}

export function addEntry({ seasonId, ofBed }: Sums, entry: EntryRecord): void {
  if (entry.seasonId !== seasonId) return
  const { times = 1 } = entry
  for (const totals of new Set(entry.bedIds.map(ofBed))) {
    if (!totals) continue
    totals.entries += times
    totals.entriesFromPaper += entry.paper ? times : 0
    totals.entriesLate += entry.late ? times : 0
  }
}
