import { keysOf, recordOf } from '../../lookups/keys.ts'
import { rowsWith } from '../../lookups/rows-with.ts'
import { linked } from '../../lookups/unsaid.ts'
import { bedsIn } from '../record/ground.ts'
import { seasonWeeks } from '../record/near-weeks.ts'
import type { LabourRecord, TrialRecord } from '../record/trial-record.ts'
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
} from './adding-up.ts'
import { type MethodTotals, sums } from './figures.ts'

const nothing = recordOf(keysOf(sums), () => 0)
const zero = (): MethodTotals => ({ ...nothing })

/**
 * Totals by method for one season. A bed's own assignment overrules its garden's; what is written for a whole garden is
 * divided over its beds by area, exactly, and follows each bed to its method.
 */
export function methodTotals(record: TrialRecord, seasonId: string): ReadonlyMap<string, MethodTotals> {
  const ofRecord = made.get(record) ?? new Map<string, Map<string, MethodTotals>>()
  made.set(record, ofRecord)
  const totals = ofRecord.get(seasonId) ?? makeTotals(record, seasonId)
  ofRecord.set(seasonId, totals)
  return totals
}

/** A page asks for the same season many times: the sums are made once for each record that was read. */
const made = new WeakMap<TrialRecord, Map<string, Map<string, MethodTotals>>>()

function makeTotals(record: TrialRecord, seasonId: string): Map<string, MethodTotals> {
  const totals = new Map<string, MethodTotals>()
  const sums = sumsOf(record, seasonId, totals)
  for (const garden of record.gardens) {
    for (const { bed, grossCm2 } of grossOfBeds(record, garden, seasonId)) addBed(sums, bed, grossCm2)
    addGarden(sums, garden)
    if (sums.weeks.size > 0) addWeeks(sums, garden.id)
  }
  for (const planting of rowsWith(record.plantings, 'seasonId', seasonId)) addPlanting(sums, planting)
  for (const entry of labourToward(record, seasonId)) addLabour(sums, entry)
  for (const spreading of record.spreadings) addSpreading(sums, spreading)
  for (const entry of rowsWith(record.entries ?? [], 'seasonId', seasonId)) addEntry(sums, entry)
  return totals
}

/** Hours can count toward their own season; establishing is spread over seasons. */
export const countsToward = (entry: LabourRecord, seasonId: string) =>
  entry.seasonId === seasonId || entry.phase === 'establishing'

/** All hours that can. */
export const labourToward = (record: TrialRecord, seasonId: string): readonly LabourRecord[] => [
  ...rowsWith(record.labour, 'seasonId', seasonId),
  ...rowsWith(record.labour, 'phase', 'establishing').filter((one) => one.seasonId !== seasonId),
]

/** Adds into `totals`, which may hold the sums of the whole record or what one row of it comes to. */
export function sumsOf(record: TrialRecord, seasonId: string, totals: Map<string, MethodTotals>): Sums {
  const ofMethod = (methodId: string) => {
    const sum = totals.get(methodId) ?? zero()
    totals.set(methodId, sum)
    return sum
  }
  const methodOf = methodsOfBeds(record, seasonId)
  const ofBed = (bedId: string) => {
    const methodId = methodOf.get(bedId)
    return methodId === undefined ? undefined : ofMethod(methodId)
  }
  const weeks = new Set<string>(seasonWeeks(record, seasonId))
  return { record, seasonId, methodOf, ofMethod, ofBed, weeks, lifeOf: livesOfBeds(record) }
}

/**
 * Over how many seasons the establishing of the method that lay on a bed in a season is spread; 1 where it is not said.
 */
function livesOfBeds(record: TrialRecord): Sums['lifeOf'] {
  const life = new Map(record.methods.map((method) => [method.id, method.establishingSeasons ?? 1]))
  const laid = new Map<string, ReadonlyMap<string, string>>()
  return (seasonId, bedId) => {
    const methodOf = laid.get(seasonId) ?? methodsOfBeds(record, seasonId)
    laid.set(seasonId, methodOf)
    return linked(life, methodOf.get(bedId)) ?? 1
  }
}

/** Sums the seasons: areas add up as area-seasons, so that a quotient is a mean weighted by the ground. */
export function sumOfSeasons(seasons: readonly ReadonlyMap<string, MethodTotals>[]): Map<string, MethodTotals> {
  const sums = new Map<string, MethodTotals>()
  for (const season of seasons) {
    for (const [methodId, totals] of season) {
      const sum = sums.get(methodId) ?? zero()
      addTotals(sum, totals)
      sums.set(methodId, sum)
    }
  }
  return sums
}

/** What several rows come to together; all zero where there are none. */
export function sumOfParts(parts: readonly MethodTotals[]): MethodTotals {
  const sum = zero()
  for (const part of parts) addTotals(sum, part)
  return sum
}

function addTotals(sum: MethodTotals, more: MethodTotals): void {
  for (const key of keysOf(sum)) sum[key] += more[key]
}

/**
 * The method of each bed that had ground in a season: its own before its garden's. Made once for each list of
 * assignments and of beds: nearly every figure asks for it.
 */
export function methodsOfBeds(record: TrialRecord, seasonId: string): ReadonlyMap<string, string> {
  const beds = bedsIn(record, seasonId)
  const ofAssignments =
    laidIn.get(record.assignments) ?? new WeakMap<object, Map<string, ReadonlyMap<string, string>>>()
  laidIn.set(record.assignments, ofAssignments)
  const ofBeds = ofAssignments.get(beds) ?? new Map<string, ReadonlyMap<string, string>>()
  ofAssignments.set(beds, ofBeds)
  const laid = ofBeds.get(seasonId) ?? makeMethodsOfBeds(record, seasonId)
  ofBeds.set(seasonId, laid)
  return laid
}

const laidIn = new WeakMap<TrialRecord['assignments'], WeakMap<object, Map<string, ReadonlyMap<string, string>>>>()

function makeMethodsOfBeds(record: TrialRecord, seasonId: string): ReadonlyMap<string, string> {
  const here = rowsWith(record.assignments, 'seasonId', seasonId)
  const ofGarden = new Map(here.filter((one) => one.bedId === null).map((one) => [one.gardenId, one.methodId]))
  const ofBed = new Map(here.filter((one) => one.bedId !== null).map((one) => [one.bedId, one.methodId]))
  const pairs = bedsIn(record, seasonId).map(
    (bed) => [bed.id, ofBed.get(bed.id) ?? ofGarden.get(bed.gardenId)] as const,
  )
  return new Map(pairs.filter((pair): pair is readonly [string, string] => pair[1] !== undefined))
}
