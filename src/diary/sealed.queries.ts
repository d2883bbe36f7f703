import { and, asc, eq, inArray, isNull, notInArray, type SQL, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { beds } from '../gardens/gardens.table.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { plantings, seasons } from '../seasons/seasons.table.ts'
import { crateLabels, harvests, weekClosings } from './diary.table.ts'

/** A label is opened when the weights of its garden are closed in its week, or when its season is closed. */
const notOpened = sql`${seasons.closedAt} is null and not exists (select from ${weekClosings}
  where ${weekClosings.groupId} = ${crateLabels.groupId} and ${weekClosings.isoWeek} = ${crateLabels.isoWeek}
  and ${weekClosings.gardenId} = ${beds.gardenId} and ${weekClosings.what} = 'weights'
  and ${weekClosings.reopenedAt} is null and ${weekClosings.removedAt} is null)`

/** The labels of the group, of one week or of all, in the order of their letters; each sealed or opened. */
export const labelsOf = (tx: Tx, groupId: string, isoWeek?: IsoWeek) =>
  tx
    .select({
      id: crateLabels.id,
      plantingId: crateLabels.plantingId,
      label: crateLabels.label,
      isoWeek: crateLabels.isoWeek,
      gardenId: beds.gardenId,
      sealed: sql<boolean>`${notOpened}`,
    })
    .from(crateLabels)
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, crateLabels.plantingId)))
    .innerJoin(beds, and(eq(beds.groupId, groupId), eq(beds.id, plantings.bedId)))
    .innerJoin(seasons, and(eq(seasons.groupId, groupId), eq(seasons.id, plantings.seasonId)))
    .where(
      and(
        eq(crateLabels.groupId, groupId),
        isNull(crateLabels.removedAt),
        ...(isoWeek === undefined ? [] : [eq(crateLabels.isoWeek, isoWeek)]),
      ),
    )
    .orderBy(asc(crateLabels.isoWeek), asc(crateLabels.label))

/**
 * Of a weighing, whether it lies under a label that is not opened yet. It counts in no figure, list or file of rows
 * until then: a sum that grew would tell whoever weighs which method the crate came from. The few sealed labels are
 * looked up first: as a join over all weighings it takes minutes where the database has not counted its rows yet.
 */
export async function sealedWeighings(tx: Tx, groupId: string): Promise<SQL> {
  const sealed = (await anyLabel(tx, groupId)) ? (await labelsOf(tx, groupId)).filter((one) => one.sealed) : []
  if (sealed.length === 0) return sql`false`
  const keys = sealed.map(({ plantingId, isoWeek }) => `${plantingId} ${isoWeek}`)
  return inArray(sql`concat(${harvests.plantingId}, ' ', ${harvests.isoWeek})`, keys)
}

/** Most groups have none: to see that takes a quarter of what their joins take to be planned. */
export async function anyLabel(tx: Tx, groupId: string): Promise<boolean> {
  const found = await tx
    .select({ id: crateLabels.id })
    .from(crateLabels)
    .where(and(eq(crateLabels.groupId, groupId), isNull(crateLabels.removedAt)))
    .limit(1)
  return found.length > 0
}

/** Sealed labels of a week by planting. */
export async function sealedIn(tx: Tx, groupId: string, isoWeek: IsoWeek): Promise<Map<string, string>> {
  const labels = await labelsOf(tx, groupId, isoWeek)
  return new Map(labels.filter((one) => one.sealed).map((one) => [one.plantingId, one.label]))
}

/** Gardens with a label in that week, sealed or opened: their weights are closed and reopened by a keeper. */
export async function gardensLabelled(tx: Tx, groupId: string, isoWeek: IsoWeek): Promise<ReadonlySet<string>> {
  return new Set((await labelsOf(tx, groupId, isoWeek)).map((one) => one.gardenId))
}

/** How many weighings of each season wait under a label. */
export async function sealedBySeason(tx: Tx, groupId: string): Promise<ReadonlyMap<string, number>> {
  if (!(await anyLabel(tx, groupId))) return new Map()
  const rows = await tx
    .select({ seasonId: harvests.seasonId, count: sql<number>`count(*)::int` })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.removedAt), await sealedWeighings(tx, groupId)))
    .groupBy(harvests.seasonId)
  return new Map(rows.map((row) => [row.seasonId, row.count]))
}

/**
 * Which of these seasons hold a weighing that lies under a label of a planting of none of them, opened or not: the
 * closing of a week, or of that planting's season, may still open or hide it.
 */
export async function seasonsUnderLabels(tx: Tx, groupId: string, among: readonly string[]): Promise<Set<string>> {
  if (among.length === 0 || !(await anyLabel(tx, groupId))) return new Set()
  const rows = await tx
    .selectDistinct({ seasonId: harvests.seasonId })
    .from(crateLabels)
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, crateLabels.plantingId)))
    .innerJoin(
      harvests,
      and(
        eq(harvests.groupId, groupId),
        eq(harvests.plantingId, crateLabels.plantingId),
        eq(harvests.isoWeek, crateLabels.isoWeek),
      ),
    )
    .where(
      and(
        eq(crateLabels.groupId, groupId),
        isNull(crateLabels.removedAt),
        notInArray(plantings.seasonId, [...among]),
        inArray(harvests.seasonId, [...among]),
      ),
    )
  return new Set(rows.map((row) => row.seasonId))
}
