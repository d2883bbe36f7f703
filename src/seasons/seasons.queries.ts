import { and, asc, eq, getTableColumns, inArray, isNull, sql } from 'drizzle-orm'
import { rowHeld } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { idAfter, newId } from '../db/new-id.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { nth } from '../lookups/nth.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { firstCrops } from './first-crops.ts'
import { crops, cultivars, matchedSets, methodAssignments, plantings, seasons } from './seasons.table.ts'
import { usuallyTouchesSoil } from './touches-soil.ts'
import { usualLimits } from './usual-limits.ts'

export const seasonsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(seasons)
    .where(and(eq(seasons.groupId, groupId), isNull(seasons.removedAt)))
    .orderBy(asc(seasons.startsOn), asc(seasons.id))

/** Asked before something of it is corrected: of a closed season the history keeps why. */
export async function seasonIsClosed(
  tx: Tx,
  { groupId, seasonId }: { readonly groupId: string; readonly seasonId: string },
): Promise<boolean> {
  const season = (await seasonsOf(tx, groupId)).find((one) => one.id === seasonId)
  return season !== undefined && season.closedAt !== null
}

export const assignmentsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(methodAssignments)
    .where(and(eq(methodAssignments.groupId, groupId), isNull(methodAssignments.removedAt)))
    .orderBy(asc(methodAssignments.id))

export const cropsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(crops)
    .where(and(eq(crops.groupId, groupId), isNull(crops.removedAt)))
    .orderBy(asc(crops.name), asc(crops.id))

/** Plantings with the names they go by, oldest first. */
export const plantingsOf = (tx: Tx, groupId: string) =>
  tx
    .select({
      ...getTableColumns(plantings),
      cultivar: cultivars.name,
      crop: crops.name,
      cropId: crops.id,
      touchesSoil: crops.touchesSoil,
      weighedAs: crops.weighedAs,
      countsWhenPicked: crops.countsWhenPicked,
      regrows: crops.regrows,
    })
    .from(plantings)
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .innerJoin(crops, and(eq(crops.groupId, groupId), eq(crops.id, cultivars.cropId)))
    .where(and(eq(plantings.groupId, groupId), isNull(plantings.removedAt)))
    .orderBy(asc(plantings.id))

export type PlantingRow = Awaited<ReturnType<typeof plantingsOf>>[number]

export async function addFirstCrops(tx: Tx, groupId: string): Promise<void> {
  await tx.insert(crops).values(
    firstCrops.map(({ ndb, ...crop }) => ({
      ...crop,
      family: usualLimits[crop.name]?.[0] ?? null,
      // Asked for only where the crop has a usual limit.
      askAboveGPerM2: usualLimits[crop.name] ? Math.round(1000 * (usualLimits[crop.name]?.[1] ?? 0)) : null,
      touchesSoil: usuallyTouchesSoil(crop.name),
      groupId,
      id: newId(),
      source: `USDA National Nutrient Database for Standard Reference, number ${ndb}`,
    })),
  )
}

export async function saveSeason(
  tx: Tx,
  author: Author,
  given: { id: string; name: string; startsOn: IsoDate; endsOn: IsoDate; isUniformYear: number },
): Promise<void> {
  await tx
    .insert(seasons)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [seasons.groupId, seasons.id] })
}

interface NewAssignment {
  readonly id: string
  readonly gardenId: string
  /** Set where one bed alone is meant: it overrules its garden. */
  readonly bedId: string | null
  readonly methodId: string
  readonly phase: string
  readonly yearOfMethod: number
  readonly how: string
  readonly randomSeed: string | null
}

/**
 * One method a garden or bed and season: what stood before is marked as removed and kept. Two who say it at once wait
 * for each other.
 */
export async function saveAssignment(
  tx: Tx,
  author: Author,
  seasonId: string,
  { surely, ...given }: NewAssignment & { readonly surely: boolean },
): Promise<Assigned> {
  const season = await rowHeld(tx, seasons, author.groupId, seasonId)
  const here = and(
    eq(methodAssignments.groupId, author.groupId),
    eq(methodAssignments.seasonId, seasonId),
    eq(methodAssignments.gardenId, given.gardenId),
    given.bedId === null ? isNull(methodAssignments.bedId) : eq(methodAssignments.bedId, given.bedId),
    isNull(methodAssignments.removedAt),
  )
  const [before] = await tx.select().from(methodAssignments).where(here)
  if (before?.id === given.id) return { kind: 'answer' }
  if (season?.closedAt) return { kind: 'refused', code: 'seasonClosed', methodId: null }
  if (before && !surely) return { kind: 'refused', code: 'laidAlready', methodId: before.methodId }
  await tx.update(methodAssignments).set({ removedAt: new Date(), removedReason: 'replaced' }).where(here)
  await tx.insert(methodAssignments).values({ ...author, ...given, seasonId })
  return { kind: 'answer' }
}

/** Whether it was laid; of what lies there already, the method, since it is asked about before it is replaced. */
type Assigned =
  | { readonly kind: 'answer' }
  | {
      readonly kind: 'refused'
      readonly code: 'seasonClosed' | 'laidAlready'
      readonly methodId: string | null
    }

export interface NewPlantings {
  readonly id: string
  readonly seasonId: string
  readonly cropId: string
  readonly cultivar: string
  readonly bedIds: readonly string[]
  /** In each bed; a list gives each bed its own. */
  readonly areaCm2: number | readonly number[]
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly standsUntil?: IsoDate | null
  readonly plants: number | null
  readonly purpose: string
  readonly seedLot: string | null
  readonly spacing: string | null
  readonly interplanted: number
  /** 0 and null where they are not given. */
  readonly standsOverSeasons?: number
  readonly establishingSeasons?: number | null
  readonly raisedInBedId?: string | null
  /** Of the matched set; the cultivar's where none is given. */
  readonly setName?: string
}

/** One cultivar in one bed of each garden, joined to one matched set where there are two or more. */
export async function savePlantings(tx: Tx, author: Author, given: NewPlantings): Promise<void> {
  const { bedIds, areaCm2, cropId, cultivar, setName = cultivar, ...planting } = given
  const cultivarId = await cultivarNamed(tx, author, cropId, cultivar)
  const matchedSetId = bedIds.length > 1 && given.purpose === 'harvest' ? given.id : null
  if (matchedSetId) {
    const day = given.sownOn ?? given.plantedOn
    const set = { ...author, id: matchedSetId, seasonId: given.seasonId, cultivarId, name: setName }
    const made = await tx
      .insert(matchedSets)
      .values({ ...set, windowFrom: day, windowTo: day })
      .onConflictDoNothing({ target: [matchedSets.groupId, matchedSets.id] })
      .returning({ id: matchedSets.id })
    if (made.length === 0) return
  }
  // Sent twice, a form makes the same ids.
  const rows = bedIds.map((bedId, i) => {
    const id = i === 0 ? given.id : idAfter(given.id, i)
    const ofBed = typeof areaCm2 === 'number' ? areaCm2 : nth(areaCm2, i)
    return { ...author, ...planting, id, bedId, areaCm2: ofBed, cultivarId, matchedSetId }
  })
  await tx
    .insert(plantings)
    .values(rows)
    .onConflictDoNothing({ target: [plantings.groupId, plantings.id] })
}

/** The cultivar of a crop by its name, made where the group has none. */
export async function cultivarNamed(tx: Tx, author: Author, cropId: string, name: string): Promise<string> {
  const named = and(eq(cultivars.groupId, author.groupId), eq(cultivars.cropId, cropId), eq(cultivars.name, name))
  const [found] = await tx
    .select({ id: cultivars.id })
    .from(cultivars)
    .where(and(named, isNull(cultivars.removedAt)))
  if (found) return found.id
  const made = await tx
    .insert(cultivars)
    .values({ ...author, id: newId(), cropId, name })
    .onConflictDoNothing()
    .returning({ id: cultivars.id })
  // None was made where somebody else wrote the same name at the same moment: theirs is there now.
  return made[0]?.id ?? cultivarNamed(tx, author, cropId, name)
}

interface Cleared {
  readonly groupId: string
  readonly seasonId: string
  readonly plantingId: string
  readonly clearedOn: IsoDate
}

/**
 * The first and the last day for which something was weighed or lost of a planting. Asked of a chapter above this one:
 * it stood on those days, so that it was neither sown after the first nor cleared before the last.
 */
export type DaysWritten = (
  tx: Tx,
  groupId: string,
  plantingId: string,
) => Promise<{ readonly first: string | null; readonly last: string | null }>

/**
 * The day on which it is cleared then: another one where somebody had written that before; undefined where there is no
 * such planting.
 */
export async function clearPlanting(tx: Tx, given: Cleared): Promise<string | undefined> {
  const { groupId, seasonId, plantingId, clearedOn } = given
  const here = and(
    eq(plantings.groupId, groupId),
    eq(plantings.seasonId, seasonId),
    eq(plantings.id, plantingId),
    isNull(plantings.removedAt),
  )
  const cleared = await tx
    .update(plantings)
    .set({ clearedOn, version: sql`${plantings.version} + 1` })
    .where(and(here, isNull(plantings.clearedOn)))
    .returning({ day: plantings.clearedOn })
  const [found] =
    cleared.length > 0 ? cleared : await tx.select({ day: plantings.clearedOn }).from(plantings).where(here)
  return found?.day ?? undefined
}

export const matchedSetsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(matchedSets)
    .where(and(eq(matchedSets.groupId, groupId), isNull(matchedSets.removedAt)))
    .orderBy(asc(matchedSets.id))

interface NewMatchedSet {
  readonly id: string
  readonly name: string
  readonly seasonId: string
  readonly cultivarId: string
  readonly plantingIds: readonly string[]
}

/** Joins plantings of one cultivar that stand already; each leaves the set it was in. */
export async function saveMatchedSet(tx: Tx, author: Author, given: NewMatchedSet): Promise<void> {
  const { plantingIds, ...set } = given
  await tx
    .insert(matchedSets)
    .values({ ...author, ...set })
    .onConflictDoNothing({ target: [matchedSets.groupId, matchedSets.id] })
  await tx
    .update(plantings)
    .set({ matchedSetId: given.id, version: sql`${plantings.version} + 1` })
    .where(and(eq(plantings.groupId, author.groupId), inArray(plantings.id, [...plantingIds])))
}

export async function saveCrop(
  tx: Tx,
  author: Author,
  given: { id: string; name: string; family: string | null; touchesSoil: number | null },
) {
  await tx
    .insert(crops)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [crops.groupId, crops.id] })
}

/** The name of the latest closed season in which a method lay on a garden; null where there is none. */
export async function closedOn(tx: Tx, groupId: string, gardenId: string): Promise<string | null> {
  const laid = (await assignmentsOf(tx, groupId)).filter((one) => one.gardenId === gardenId)
  const closed = (await seasonsOf(tx, groupId)).filter(
    (season) => season.closedAt !== null && laid.some((one) => one.seasonId === season.id),
  )
  return closed.at(-1)?.name ?? null
}
