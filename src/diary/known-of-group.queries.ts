import { and, asc, eq, getTableName, gte, isNotNull, isNull, or, sql } from 'drizzle-orm'
import { atOnce } from '../db/at-once.ts'
import type { Tx } from '../db/database.ts'
import { bedsOf, gardensCalled } from '../gardens/gardens.queries.ts'
import { bedAreas, beds, gardens } from '../gardens/gardens.table.ts'
import { deliveries } from '../inputs/inputs.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { crops, cultivars, methodAssignments, plantings, seasons } from '../seasons/seasons.table.ts'
import { containers, crateLabels, losses } from './diary.table.ts'
import { anyLabel } from './sealed.queries.ts'

/** The tables that `knownOfGroup` reads. */
export const tablesOfKnown: ReadonlySet<string> = new Set(
  [
    gardens,
    beds,
    bedAreas,
    seasons,
    methodAssignments,
    plantings,
    cultivars,
    crops,
    containers,
    deliveries,
    losses,
    crateLabels,
  ].map(getTableName),
)

/** What rows of the diary are held against whatever week they are of, but for plantings cleared before a day. */
export async function knownOfGroup(tx: Tx, groupId: string, since: IsoDate) {
  const [names, beds, seasons, assignments, plantings, containers, loads, gone, labelled] = await atOnce([
    gardensCalled(tx, groupId),
    bedsOf(tx, groupId),
    seasonsKnown(tx, groupId),
    assignmentsKnown(tx, groupId),
    plantingsKnown(tx, groupId, since),
    containersKnown(tx, groupId),
    loadsKnown(tx, groupId),
    goneKnown(tx, groupId),
    anyLabel(tx, groupId),
  ])
  return {
    labelled,
    names,
    gardens: new Set(names.keys()),
    beds,
    areasOfBed: new Map(beds.map((one) => [one.id, one.areas])),
    gardenOfBed: new Map(beds.map((one) => [one.id, one.gardenId])),
    seasons,
    assignments,
    plantings,
    containers: new Map(containers.map((one) => [one.id, one.tareG])),
    loads: new Set(loads.map((one) => one.id)),
    gone: new Map(gone.map((one) => [one.plantingId, one.lostOn])),
  }
}

const loadsKnown = (tx: Tx, groupId: string) =>
  tx
    .select({ id: deliveries.id })
    .from(deliveries)
    .where(and(eq(deliveries.groupId, groupId), isNull(deliveries.removedAt)))

export type KnownOfGroup = Awaited<ReturnType<typeof knownOfGroup>>

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

/** Whether a planting is read where those are left out that were cleared before a day. */
export const isStillKnown = (one: KnownOfGroup['plantings'][number], since: IsoDate): boolean =>
  one.clearedOn === null || one.clearedOn >= since || (one.weighedAs !== null && one.seasonClosedAt === null)

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
      seasonClosedAt: seasons.closedAt,
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

const goneKnown = (tx: Tx, groupId: string) =>
  tx
    .select({ plantingId: losses.plantingId, lostOn: sql<string>`min(${losses.lostOn})::text` })
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt), eq(losses.sharePermille, 1000)))
    .groupBy(losses.plantingId)
