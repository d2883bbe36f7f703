import { harvestTasks, type Task } from '../diary/tasks.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { weeksBetween } from '../quantities/iso-week.ts'
import { splitExactly } from '../quantities/split-exactly.ts'
import type { TrialRecord } from './trial-record.ts'

const zero = () => ({
  gardens: 0,
  plantings: 0,
  bedAreaCm2: 0,
  grossAreaCm2: 0,
  /** Over plantings: a bed cropped twice counts twice here, and never in a figure per area of bed. */
  plantedAreaCm2: 0,
  /** cm2 x permille of what was lost, each planting's losses one after another on what still stood. */
  lostAreaPermille: 0,
  marketableG: 0,
  unmarketableG: 0,
  minutesWithoutHarvest: 0,
  minutesOfHarvest: 0,
  minutesOfEstablishing: 0,
  costMinor: 0,
  unpriced: 0,
  standing: 0,
  weeks: 0,
  hoursClosed: 0,
  weightsClosed: 0,
})

/** What one method has in one season, in whole units: every figure of the first table is a quotient of two of these. */
export type MethodTotals = ReturnType<typeof zero>

type OfMethod = (methodId: string) => MethodTotals
type OfBed = (bedId: string) => MethodTotals | undefined

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
  const ofMethod: OfMethod = (methodId) => {
    const sum = totals.get(methodId) ?? zero()
    totals.set(methodId, sum)
    return sum
  }
  const methodOf = methodsOfBeds(record, seasonId)
  const ofBed: OfBed = (bedId) => {
    const methodId = methodOf.get(bedId)
    return methodId === undefined ? undefined : ofMethod(methodId)
  }
  addGround(record, methodOf, ofMethod)
  addCrops(record, seasonId, ofBed)
  addLabour(record, seasonId, ofBed)
  addCosts(record, seasonId, ofBed)
  addCoverage(record, seasonId, methodOf, ofMethod)
  return totals
}

/** Sums the seasons: areas add up as area-seasons, so that a quotient is a mean weighted by the ground. */
export function sumOfSeasons(seasons: readonly ReadonlyMap<string, MethodTotals>[]): Map<string, MethodTotals> {
  const sums = new Map<string, MethodTotals>()
  for (const season of seasons) {
    for (const [methodId, totals] of season) {
      const sum = sums.get(methodId) ?? zero()
      for (const key of Object.keys(sum) as (keyof MethodTotals)[]) sum[key] += totals[key]
      sums.set(methodId, sum)
    }
  }
  return sums
}

export function methodsOfBeds(record: TrialRecord, seasonId: string): Map<string, string> {
  const here = record.assignments.filter((one) => one.seasonId === seasonId)
  const ofGarden = new Map(here.filter((one) => one.bedId === null).map((one) => [one.gardenId, one.methodId]))
  const ofBed = new Map(here.filter((one) => one.bedId !== null).map((one) => [one.bedId, one.methodId]))
  const pairs = record.beds.map((bed) => [bed.id, ofBed.get(bed.id) ?? ofGarden.get(bed.gardenId)] as const)
  return new Map(pairs.filter((pair): pair is readonly [string, string] => pair[1] !== undefined))
}

function addGround(record: TrialRecord, methodOf: Map<string, string>, ofMethod: OfMethod): void {
  for (const garden of record.gardens) {
    const beds = record.beds.filter((bed) => bed.gardenId === garden.id)
    const gross =
      splitExactly(
        garden.grossAreaCm2,
        beds.map((bed) => bed.areaCm2),
      ) ?? []
    beds.forEach((bed, i) => {
      const methodId = methodOf.get(bed.id)
      if (methodId === undefined) return
      ofMethod(methodId).bedAreaCm2 += bed.areaCm2
      ofMethod(methodId).grossAreaCm2 += gross[i] ?? 0
    })
    for (const methodId of methodsIn(beds, methodOf)) ofMethod(methodId).gardens += 1
  }
}

const methodsIn = (beds: readonly { id: string }[], methodOf: Map<string, string>) =>
  new Set(beds.flatMap((bed) => methodOf.get(bed.id) ?? []))

function addCrops(record: TrialRecord, seasonId: string, ofBed: OfBed): void {
  for (const planting of record.plantings) {
    const totals = planting.seasonId === seasonId && planting.purpose === 'harvest' ? ofBed(planting.bedId) : undefined
    if (!totals) continue
    totals.plantings += 1
    totals.plantedAreaCm2 += planting.areaCm2
    totals.marketableG += planting.marketableG
    totals.unmarketableG += planting.unmarketableG
    totals.standing += planting.cleared ? 0 : 1
    totals.lostAreaPermille += planting.areaCm2 * lostPermille(record, planting.id)
  }
}

/** 1000 minus what is left when each loss takes its share of what still stood, in whole permille. */
function lostPermille(record: TrialRecord, plantingId: string): number {
  const own = record.losses.filter((loss) => loss.plantingId === plantingId)
  return 1000 - own.reduce((left, loss) => Math.round((left * (1000 - loss.sharePermille)) / 1000), 1000)
}

function addLabour(record: TrialRecord, seasonId: string, ofBed: OfBed): void {
  for (const entry of record.labour.filter((one) => one.seasonId === seasonId)) {
    overBeds(record, entry.bedIds, entry.personMinutes, ofBed, (totals, minutes) => {
      if (harvestTasks.includes(entry.task as Task)) totals.minutesOfHarvest += minutes
      else totals.minutesWithoutHarvest += minutes
      if (entry.phase === 'establishing') totals.minutesOfEstablishing += minutes
    })
  }
}

/** A cost is divided in whole, equal parts over the seasons that it lasts; each part stays with the ground it lies on. */
function addCosts(record: TrialRecord, seasonId: string, ofBed: OfBed): void {
  const order = record.seasons.map((season) => season.id)
  for (const spreading of record.spreadings) {
    const age = order.indexOf(seasonId) - order.indexOf(spreading.seasonId)
    if (age < 0 || age >= spreading.usefulLifeSeasons) continue
    if (spreading.costMinor === null) {
      for (const totals of new Set(spreading.bedIds.map(ofBed))) if (totals) totals.unpriced += 1
      continue
    }
    const parts = splitExactly(
      spreading.costMinor,
      Array.from({ length: spreading.usefulLifeSeasons }, () => 1),
    )
    overBeds(record, spreading.bedIds, parts?.[age] ?? 0, ofBed, (totals, minor) => {
      totals.costMinor += minor
    })
  }
}

type Adding = (totals: MethodTotals, part: number) => void

function overBeds(record: TrialRecord, bedIds: readonly string[], total: number, ofBed: OfBed, add: Adding): void {
  const beds = record.beds.filter((bed) => bedIds.includes(bed.id))
  const parts =
    splitExactly(
      total,
      beds.map((bed) => bed.areaCm2),
    ) ?? []
  beds.forEach((bed, i) => {
    const totals = ofBed(bed.id)
    if (totals) add(totals, parts[i] ?? 0)
  })
}

/** Weeks of the season by garden, and how many are closed. A garden that is split counts for each of its methods. */
function addCoverage(record: TrialRecord, seasonId: string, methodOf: Map<string, string>, ofMethod: OfMethod): void {
  const season = record.seasons.find((one) => one.id === seasonId)
  if (!season) return
  const weeks = new Set<string>(weeksBetween(season.startsOn as IsoDate, season.endsOn as IsoDate))
  for (const garden of record.gardens) {
    const beds = record.beds.filter((bed) => bed.gardenId === garden.id)
    const closed = record.closings.filter((one) => one.gardenId === garden.id && weeks.has(one.isoWeek))
    for (const methodId of methodsIn(beds, methodOf)) {
      const totals = ofMethod(methodId)
      totals.weeks += weeks.size
      totals.hoursClosed += closed.filter((one) => one.what === 'hours').length
      totals.weightsClosed += closed.filter((one) => one.what === 'weights').length
    }
  }
}
