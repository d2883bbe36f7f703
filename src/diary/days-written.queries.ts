import { and, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { crops, cultivars, plantings } from '../seasons/seasons.table.ts'
import { harvestShares, harvests, losses } from './diary.table.ts'

/**
 * The first day for which something was weighed, alone or in a shared crate, or lost of a planting, and the last on
 * which it must still have stood; null for none. What counts dried or out of store may be weighed long after it was
 * cleared.
 */
export async function daysWritten(tx: Tx, groupId: string, plantingId: string) {
  const planting = await tx
    .select({ weighedAs: crops.weighedAs })
    .from(plantings)
    .innerJoin(cultivars, and(eq(cultivars.groupId, groupId), eq(cultivars.id, plantings.cultivarId)))
    .innerJoin(crops, and(eq(crops.groupId, groupId), eq(crops.id, cultivars.cropId)))
    .where(and(eq(plantings.groupId, groupId), eq(plantings.id, plantingId)))
  const later = planting.some((one) => one.weighedAs !== null)
  const weighed = and(eq(harvests.groupId, groupId), isNull(harvests.removedAt))
  const days = sql<string>`coalesce(${harvests.liftedOn}, ${harvests.harvestedOn})::text`
  const isFresh = sql<boolean>`coalesce(${harvests.state}, ${later ? 'kept' : 'fresh'}) = 'fresh'
    or ${harvests.liftedOn} is not null`
  const alone = await tx
    .select({ day: days, isFresh })
    .from(harvests)
    .where(and(weighed, eq(harvests.plantingId, plantingId)))
  const shared = await tx
    .select({ day: days, isFresh })
    .from(harvestShares)
    .innerJoin(harvests, and(weighed, eq(harvests.id, harvestShares.harvestId)))
    .where(
      and(
        eq(harvestShares.groupId, groupId),
        eq(harvestShares.plantingId, plantingId),
        isNull(harvestShares.removedAt),
      ),
    )
  const lost = await tx
    .select({ day: sql<string>`${losses.lostOn}::text` })
    .from(losses)
    .where(and(eq(losses.groupId, groupId), eq(losses.plantingId, plantingId), isNull(losses.removedAt)))
  const picked = [...alone, ...shared]
  const all = [...picked, ...lost].map((one) => one.day).sort()
  const lastStood = [...picked.filter((one) => one.isFresh), ...lost].map((one) => one.day).sort()
  return { first: all[0] ?? null, last: lastStood.at(-1) ?? null }
}
