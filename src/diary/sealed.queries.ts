import { and, asc, eq, isNull, type SQL, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { beds } from '../gardens/gardens.table.ts'
import { plantings, seasons } from '../seasons/seasons.table.ts'
import { crateLabels, harvests, weekClosings } from './diary.table.ts'

/** A label is opened when the weights of its garden are closed in its week, or when its season is closed. */
const notOpened = sql`${seasons.closedAt} is null and not exists (select from ${weekClosings}
  where ${weekClosings.groupId} = ${crateLabels.groupId} and ${weekClosings.isoWeek} = ${crateLabels.isoWeek}
  and ${weekClosings.gardenId} = ${beds.gardenId} and ${weekClosings.what} = 'weights'
  and ${weekClosings.reopenedAt} is null and ${weekClosings.removedAt} is null)`

/**
 * Whether a weighing lies under a label that is not opened yet. It counts in no figure, list or file of rows until then:
 * a sum that grew would tell whoever weighs which method the crate came from.
 */
export const isSealed: SQL<boolean> = sql`exists (select from ${crateLabels}
  join ${plantings} on ${plantings.groupId} = ${crateLabels.groupId} and ${plantings.id} = ${crateLabels.plantingId}
  join ${beds} on ${beds.groupId} = ${plantings.groupId} and ${beds.id} = ${plantings.bedId}
  join ${seasons} on ${seasons.groupId} = ${plantings.groupId} and ${seasons.id} = ${plantings.seasonId}
  where ${crateLabels.groupId} = ${harvests.groupId} and ${crateLabels.plantingId} = ${harvests.plantingId}
  and ${crateLabels.isoWeek} = ${harvests.isoWeek} and ${crateLabels.removedAt} is null and ${notOpened})`

/** The labels of the group, of one week or of all, in the order of their letters; each sealed or opened. */
export const labelsOf = (tx: Tx, groupId: string, isoWeek?: string) =>
  tx
    .select({
      ...{ id: crateLabels.id, plantingId: crateLabels.plantingId, label: crateLabels.label },
      ...{ isoWeek: crateLabels.isoWeek, sealed: sql<boolean>`${notOpened}` },
    })
    .from(crateLabels)
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, crateLabels.plantingId)))
    .innerJoin(beds, and(eq(beds.groupId, groupId), eq(beds.id, plantings.bedId)))
    .innerJoin(seasons, and(eq(seasons.groupId, groupId), eq(seasons.id, plantings.seasonId)))
    .where(
      and(
        ...[eq(crateLabels.groupId, groupId), isNull(crateLabels.removedAt)],
        ...(isoWeek === undefined ? [] : [eq(crateLabels.isoWeek, isoWeek)]),
      ),
    )
    .orderBy(asc(crateLabels.isoWeek), asc(crateLabels.label))

/** Sealed labels of a week by planting. */
export async function sealedIn(tx: Tx, groupId: string, isoWeek: string): Promise<Map<string, string>> {
  const labels = await labelsOf(tx, groupId, isoWeek)
  return new Map(labels.filter((one) => one.sealed).map((one) => [one.plantingId, one.label]))
}

/** How many weighings of each season wait under a label. */
export async function sealedBySeason(tx: Tx, groupId: string): Promise<ReadonlyMap<string, number>> {
  const rows = await tx
    .select({ seasonId: harvests.seasonId, count: sql<number>`count(*)::int` })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.removedAt), isSealed))
    .groupBy(harvests.seasonId)
  return new Map(rows.map((row) => [row.seasonId, row.count]))
}
