import { and, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { crops, cultivars, plantings, seasons } from '../seasons/seasons.table.ts'
import { harvestShares, harvests } from './diary.table.ts'

/**
 * Another state of a crop counts now: its weighings of seasons that are open are counted by it, each lot once. Those of
 * closed seasons stay as they counted.
 */
export async function restated(tx: Tx, groupId: string, cropId: string): Promise<void> {
  const plantingsOfCrop = sql`(select ${plantings.id} from ${plantings}
    join ${cultivars} on ${cultivars.groupId} = ${plantings.groupId} and ${cultivars.id} = ${plantings.cultivarId}
    where ${plantings.groupId} = ${groupId} and ${cultivars.cropId} = ${cropId})`
  // A crate from several plantings is of the crop where all of them are.
  const ofCrate = sql`(select bool_and(${harvestShares.plantingId} in ${plantingsOfCrop}) from ${harvestShares}
    where ${harvestShares.groupId} = ${groupId} and ${harvestShares.harvestId} = ${harvests.id}
    and ${harvestShares.removedAt} is null)`
  const ofCrop = sql`(${harvests.plantingId} in ${plantingsOfCrop} or (${harvests.plantingId} is null and ${ofCrate}))`
  const isOpen = sql`exists (select from ${seasons} where ${seasons.groupId} = ${groupId}
    and ${seasons.id} = ${harvests.seasonId} and ${seasons.closedAt} is null)`
  const counting = sql`(select coalesce(${crops.weighedAs}, 'fresh') from ${crops}
    where ${crops.groupId} = ${groupId} and ${crops.id} = ${cropId})`
  const counts = sql`case when ${harvests.state} = ${counting} then 1 else 0 end`
  const own = and(eq(harvests.groupId, groupId), isNull(harvests.removedAt), ofCrop, isOpen)
  await tx
    .update(harvests)
    .set({ counts, version: sql`${harvests.version} + 1` })
    .where(and(own, sql`${harvests.state} is not null and ${harvests.counts} <> ${counts}`))
  const counted = sql`exists (select from ${harvests} as earlier where earlier.group_id = ${groupId}
    and earlier.id = ${harvests.sameLotAs} and earlier.counts = 1 and earlier.removed_at is null)`
  await tx
    .update(harvests)
    .set({ counts: 0 })
    .where(and(own, eq(harvests.counts, 1), counted))
}
