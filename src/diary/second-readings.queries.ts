import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { type Stored, storeOnce } from '../db/store-once.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { harvestShares, harvests, secondReadings } from './diary.table.ts'

export const secondReadingsOf = (tx: Tx, groupId: string, isoWeek: IsoWeek) =>
  tx
    .select()
    .from(secondReadings)
    .where(
      and(eq(secondReadings.groupId, groupId), eq(secondReadings.isoWeek, isoWeek), isNull(secondReadings.removedAt)),
    )
    .orderBy(asc(secondReadings.id))

/** Weighings of the same planting and week that the same person wrote down: then two readings are one person's. */
const ownWeighing = (groupId: string, isoWeek: unknown, plantingId: unknown, personId: unknown) =>
  sql<boolean>`exists (select from ${harvests} where ${harvests.groupId} = ${groupId}
    and ${harvests.isoWeek} = ${isoWeek}
    and ${harvests.plantingId} = ${plantingId} and ${harvests.createdBy} = ${personId}
    and ${harvests.removedAt} is null)`

export async function weighedByThem(
  tx: Tx,
  groupId: string,
  isoWeek: IsoWeek,
  plantingId: string,
  personId: string | null,
) {
  if (personId === null) return false
  const [found] = await tx
    .select({ own: ownWeighing(groupId, isoWeek, plantingId, personId) })
    .from(sql`(select 1) as one`)
  return found?.own === true
}

/**
 * A part of a crate from several plantings is reckoned and not weighed: there is nothing to hold a second reading
 * against.
 */
const inSharedCrate = (groupId: string) =>
  sql<boolean>`exists (select from ${harvestShares}
    join ${harvests} on ${harvests.groupId} = ${harvestShares.groupId} and ${harvests.id} = ${harvestShares.harvestId}
    where ${harvestShares.groupId} = ${groupId} and ${harvestShares.plantingId} = ${secondReadings.plantingId}
    and ${harvests.isoWeek} = ${secondReadings.isoWeek} and ${harvestShares.removedAt} is null
    and ${harvests.removedAt} is null)`

/** Second readings by someone other than who wrote down a weight of that planting in that week. */
export const readTwiceOf = (tx: Tx, groupId: string) =>
  tx
    .select({
      plantingId: secondReadings.plantingId,
      isoWeek: secondReadings.isoWeek,
      weighedG: secondReadings.weighedG,
    })
    .from(secondReadings)
    .where(
      and(
        eq(secondReadings.groupId, groupId),
        isNull(secondReadings.removedAt),
        sql`not ${ownWeighing(groupId, secondReadings.isoWeek, secondReadings.plantingId, secondReadings.createdBy)}`,
        sql`not ${inSharedCrate(groupId)}`,
      ),
    )
    .orderBy(asc(secondReadings.id))

export async function saveSecondReading(
  tx: Tx,
  author: Author,
  given: { id: string; isoWeek: IsoWeek; plantingId: string; weighedG: number },
): Promise<Stored> {
  return storeOnce(tx, secondReadings, { ...author, ...given })
}
