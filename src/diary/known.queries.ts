import { and, asc, eq, gte, inArray, isNotNull, isNull, or, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { lyingOn } from '../gardens/areas-held.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { gardens } from '../gardens/gardens.table.ts'
import { deliveries } from '../inputs/inputs.table.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, mondayOf, thursdayOf } from '../quantities/iso-week.ts'
import { crops, cultivars, methodAssignments, plantings, seasons } from '../seasons/seasons.table.ts'
import { containers, harvestShares, harvests, losses } from './diary.table.ts'
import { closedKey, type Known, labelKey, sealedKey, weighedKey } from './known.ts'
import { labelsOf } from './sealed.queries.ts'
import { closingsOf, holdClosings } from './week.queries.ts'

/** A planting that was cleared longer ago than this can be neither weighed nor lost by anybody: it is not read. */
const daysKept = 400

/**
 * All that rows of these weeks are held against, in one reading; the closings stay as they are until the transaction
 * ends. Writers do not wait for each other.
 */
export async function knownForWriting(tx: Tx, groupId: string, of: { weeks: readonly IsoWeek[]; today: IsoDate }) {
  await holdClosings(tx, groupId)
  return knownIn(tx, groupId, of)
}

export async function knownIn(
  tx: Tx,
  groupId: string,
  { weeks, today }: { readonly weeks: readonly IsoWeek[]; readonly today: IsoDate },
): Promise<Known> {
  const mondays = weeks.map((week) => mondayOf(week)).sort()
  const since = addDays(mondays[0] ?? today, -daysKept)
  const closed = new Set<string>()
  const labels = new Map<string, { plantingId: string; sealed: boolean }>()
  const sealed = new Map<string, string>()
  for (const week of new Set(weeks)) {
    for (const one of await closingsOf(tx, groupId, week)) closed.add(closedKey(one.what, one.gardenId, week))
    for (const one of await labelsOf(tx, groupId, week)) {
      labels.set(labelKey(one.label, week), { plantingId: one.plantingId, sealed: one.sealed })
      if (one.sealed) sealed.set(sealedKey(one.plantingId, week), one.label)
    }
  }
  const weighed = await weighedIn(tx, groupId, weeks)
  const hidden = new Set([...sealed.keys()].map((key) => key.split(' ')[0]))
  const ground = await bedsOf(tx, groupId)
  const latest = weeks.toSorted().at(-1)
  const alone = [...weighed.keys()].flatMap((key) => key.split(' ')[0] ?? [])
  const told = [...alone, ...(await inCrates(tx, groupId, weeks))].filter((id) => !hidden.has(id))
  return {
    today,
    closed,
    labels,
    sealed,
    gardens: new Set((await idsOf(tx, gardens, groupId)).map((one) => one.id)),
    areasOfBed: new Map(ground.map((one) => [one.id, one.areas])),
    gardenOfBed: new Map(ground.map((one) => [one.id, one.gardenId])),
    // As it lies in the latest of the weeks that are written in.
    ground: lyingOn(ground, latest === undefined ? today : thursdayOf(latest)),
    seasons: await seasonsKnown(tx, groupId),
    assignments: await assignmentsKnown(tx, groupId),
    plantings: new Map((await plantingsKnown(tx, groupId, since)).map((one) => [one.id, one])),
    containers: new Map((await containersKnown(tx, groupId)).map((one) => [one.id, one.tareG])),
    loads: new Set((await idsOf(tx, deliveries, groupId)).map((one) => one.id)),
    weighed,
    picked: new Set(told),
    gone: new Map((await goneKnown(tx, groupId)).map((one) => [one.plantingId, one.lostOn])),
  }
}

const idsOf = (tx: Tx, table: typeof gardens | typeof deliveries, groupId: string) =>
  tx
    .select({ id: table.id })
    .from(table)
    .where(and(eq(table.groupId, groupId), isNull(table.removedAt)))

async function seasonsKnown(tx: Tx, groupId: string) {
  const rows = await tx
    .select({ id: seasons.id, startsOn: seasons.startsOn, endsOn: seasons.endsOn, closedAt: seasons.closedAt })
    .from(seasons)
    .where(and(eq(seasons.groupId, groupId), isNull(seasons.removedAt)))
    .orderBy(asc(seasons.startsOn), asc(seasons.id))
  return rows.map(({ id, startsOn, endsOn, closedAt }) => ({ id, startsOn, endsOn, closed: closedAt !== null }))
}

const assignmentsKnown = (tx: Tx, groupId: string) =>
  tx
    .select({
      seasonId: methodAssignments.seasonId,
      gardenId: methodAssignments.gardenId,
      bedId: methodAssignments.bedId,
      methodId: methodAssignments.methodId,
      phase: methodAssignments.phase,
    })
    .from(methodAssignments)
    .where(and(eq(methodAssignments.groupId, groupId), isNull(methodAssignments.removedAt)))
    .orderBy(asc(methodAssignments.id))

const plantingsKnown = (tx: Tx, groupId: string, since: IsoDate) =>
  tx
    .select({
      id: plantings.id,
      seasonId: plantings.seasonId,
      bedId: plantings.bedId,
      crop: crops.name,
      areaCm2: plantings.areaCm2,
      plants: plantings.plants,
      sownOn: plantings.sownOn,
      plantedOn: plantings.plantedOn,
      clearedOn: plantings.clearedOn,
      askAboveGPerM2: crops.askAboveGPerM2,
      weighedAs: crops.weighedAs,
      countsWhenPicked: crops.countsWhenPicked,
      matchedSetId: plantings.matchedSetId,
      standsOverSeasons: plantings.standsOverSeasons,
    })
    .from(plantings)
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .innerJoin(crops, and(eq(crops.groupId, groupId), eq(crops.id, cultivars.cropId)))
    .innerJoin(seasons, and(eq(seasons.groupId, groupId), eq(seasons.id, plantings.seasonId)))
    .where(
      and(
        eq(plantings.groupId, groupId),
        isNull(plantings.removedAt),
        or(
          isNull(plantings.clearedOn),
          gte(plantings.clearedOn, since),
          and(isNotNull(crops.weighedAs), isNull(seasons.closedAt)),
        ),
      ),
    )

const containersKnown = (tx: Tx, groupId: string) =>
  tx
    .select({ id: containers.id, tareG: containers.tareG })
    .from(containers)
    .where(and(eq(containers.groupId, groupId), isNull(containers.removedAt)))

async function weighedIn(tx: Tx, groupId: string, weeks: readonly IsoWeek[]) {
  const rows = await tx
    .select({
      id: harvests.id,
      plantingId: harvests.plantingId,
      harvestedOn: harvests.harvestedOn,
      marketableG: harvests.marketableG,
      unmarketableG: harvests.unmarketableG,
    })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), inArray(harvests.isoWeek, [...weeks]), isNull(harvests.removedAt)))
    .orderBy(asc(harvests.id))
  const weighed = new Map<string, string[]>()
  for (const { id, plantingId, ...weight } of rows) {
    if (plantingId === null) continue
    const key = weighedKey(plantingId, weight)
    weighed.set(key, [...(weighed.get(key) ?? []), id])
  }
  return weighed
}

/** The plantings of crates from several: they were picked too. */
async function inCrates(tx: Tx, groupId: string, weeks: readonly IsoWeek[]): Promise<string[]> {
  const rows = await tx
    .selectDistinct({ plantingId: harvestShares.plantingId })
    .from(harvestShares)
    .innerJoin(harvests, and(eq(harvests.groupId, groupId), eq(harvests.id, harvestShares.harvestId)))
    .where(
      and(
        eq(harvestShares.groupId, groupId),
        isNull(harvestShares.removedAt),
        inArray(harvests.isoWeek, [...weeks]),
        isNull(harvests.removedAt),
      ),
    )
    .orderBy(asc(harvestShares.plantingId))
  return rows.map((one) => one.plantingId)
}

const goneKnown = (tx: Tx, groupId: string) =>
  tx
    .select({ plantingId: losses.plantingId, lostOn: sql<string>`min(${losses.lostOn})::text` })
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt), eq(losses.sharePermille, 1000)))
    .groupBy(losses.plantingId)
