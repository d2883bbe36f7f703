import { harvestTasks, type Task } from '../diary/tasks.ts'
import { splitExactly } from '../quantities/split-exactly.ts'
import { seasonWeeks } from './near-weeks.ts'
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
  /** Of the minutes without harvest. */
  minutesOfMakingCompost: 0,
  minutesOfEstablishing: 0,
  /** Establishing work by kind, as it was done in the season; `spread` is what falls on the season over the stated life. */
  groundEstablishing: 0,
  groundSpread: 0,
  harvestEstablishing: 0,
  harvestSpread: 0,
  compostEstablishing: 0,
  compostSpread: 0,
  /** Cost with the stated value of the group's own, and what was paid; then the part of establishing, and that spread. */
  costMinor: 0,
  costEstablishing: 0,
  costSpread: 0,
  cashMinor: 0,
  cashEstablishing: 0,
  cashSpread: 0,
  unpriced: 0,
  unpricedCash: 0,
  standing: 0,
  weeks: 0,
  hoursClosed: 0,
  weightsClosed: 0,
  /** Entries of hours and weighings, each once for a method that it touches; those read off paper, and those written late. */
  entries: 0,
  entriesFromPaper: 0,
  entriesLate: 0,
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
  addEntries(record, seasonId, ofBed)
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

export type WorkKind = 'ground' | 'harvest' | 'compost'

/** Work that scales with the crop, the making of compost, and all other work. */
export const kindOf = (task: string): WorkKind =>
  harvestTasks.includes(task as Task) ? 'harvest' : task === 'making compost' ? 'compost' : 'ground'

function addLabour(record: TrialRecord, seasonId: string, ofBed: OfBed): void {
  const lives = livesOfBeds(record)
  for (const entry of record.labour) {
    const age = ageOf(record, entry.seasonId, seasonId)
    if (age < 0 || (age > 0 && entry.phase !== 'establishing')) continue
    const kind = kindOf(entry.task)
    overBeds(record, entry.bedIds, entry.personMinutes, ofBed, (totals, minutes, bedId) => {
      if (age === 0) {
        if (kind === 'harvest') totals.minutesOfHarvest += minutes
        else totals.minutesWithoutHarvest += minutes
        if (kind === 'compost') totals.minutesOfMakingCompost += minutes
      }
      if (entry.phase !== 'establishing') return
      if (age === 0) {
        totals.minutesOfEstablishing += minutes
        totals[`${kind}Establishing`] += minutes
      }
      totals[`${kind}Spread`] += partAt(minutes, lives.of(entry.seasonId, bedId), age)
    })
  }
}

/** A cost is divided in whole, equal parts over the seasons that it lasts; each part stays with the ground it lies on. */
function addCosts(record: TrialRecord, seasonId: string, ofBed: OfBed): void {
  const lives = livesOfBeds(record)
  for (const spreading of record.spreadings) {
    const age = ageOf(record, spreading.seasonId, seasonId)
    if (age < 0) continue
    const { costMinor, cashMinor = costMinor, usefulLifeSeasons: life } = spreading
    const establishing = spreading.phase === 'establishing'
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
      overBeds(record, spreading.bedIds, partAt(minor, life, age), ofBed, (totals, part) => {
        totals[`${key}Minor`] += part
        if (establishing) totals[`${key}Establishing`] += part
      })
      if (!establishing) continue
      // Each bed's part is spread over the life stated for the method that lay on it, or over the input's own if that is longer.
      overBeds(record, spreading.bedIds, minor, ofBed, (totals, part, bedId) => {
        totals[`${key}Spread`] += partAt(part, Math.max(life, lives.of(spreading.seasonId, bedId)), age)
      })
    }
  }
}

/** How many seasons lie between the one that something was done in and the one that is counted. */
function ageOf(record: TrialRecord, doneIn: string, counted: string): number {
  const at = (id: string) => record.seasons.findIndex((season) => season.id === id)
  return at(counted) - at(doneIn)
}

/** The part of a whole total that falls on one of `life` seasons, counted from 0; nothing outside them. */
function partAt(total: number, life: number, age: number): number {
  if (age < 0 || age >= life) return 0
  const parts = splitExactly(
    total,
    Array.from({ length: life }, () => 1),
  )
  return parts?.[age] ?? 0
}

/** Over how many seasons the establishing of the method that lay on a bed in a season is spread; 1 where it is not said. */
function livesOfBeds(record: TrialRecord) {
  const life = new Map(record.methods.map((method) => [method.id, method.establishingSeasons ?? 1]))
  const laid = new Map<string, Map<string, string>>()
  return {
    of: (seasonId: string, bedId: string): number => {
      const methodOf = laid.get(seasonId) ?? methodsOfBeds(record, seasonId)
      laid.set(seasonId, methodOf)
      return life.get(methodOf.get(bedId) ?? '') ?? 1
    },
  }
}

type Adding = (totals: MethodTotals, part: number, bedId: string) => void

function overBeds(record: TrialRecord, bedIds: readonly string[], total: number, ofBed: OfBed, add: Adding): void {
  const beds = record.beds.filter((bed) => bedIds.includes(bed.id))
  const parts =
    splitExactly(
      total,
      beds.map((bed) => bed.areaCm2),
    ) ?? []
  beds.forEach((bed, i) => {
    const totals = ofBed(bed.id)
    if (totals) add(totals, parts[i] ?? 0, bed.id)
  })
}

/** Weeks of the season by garden, and how many are closed. A garden that is split counts for each of its methods. */
function addCoverage(record: TrialRecord, seasonId: string, methodOf: Map<string, string>, ofMethod: OfMethod): void {
  const season = record.seasons.find((one) => one.id === seasonId)
  if (!season) return
  const weeks = new Set<string>(seasonWeeks(record, season.id))
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

function addEntries(record: TrialRecord, seasonId: string, ofBed: OfBed): void {
  for (const entry of record.entries ?? []) {
    if (entry.seasonId !== seasonId) continue
    for (const totals of new Set(entry.bedIds.map(ofBed))) {
      if (!totals) continue
      totals.entries += 1
      totals.entriesFromPaper += entry.paper ? 1 : 0
      totals.entriesLate += entry.late ? 1 : 0
    }
  }
}
