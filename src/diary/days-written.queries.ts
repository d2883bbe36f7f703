import { and, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { harvestShares, harvests, losses } from './diary.table.ts'

/** The first and the last day for which something was weighed, alone or in a shared crate, or lost of a planting; null for none. */
export async function daysWritten(tx: Tx, groupId: string, plantingId: string) {
  const weighed = and(eq(harvests.groupId, groupId), isNull(harvests.removedAt))
  const days = sql<string>`${harvests.harvestedOn}::text`
  const alone = await tx
    .select({ day: days })
    .from(harvests)
    .where(and(weighed, eq(harvests.plantingId, plantingId)))
  const shared = await tx
    .select({ day: days })
    .from(harvestShares)
    .innerJoin(harvests, and(weighed, eq(harvests.id, harvestShares.harvestId)))
    .where(
      and(
        ...[eq(harvestShares.groupId, groupId), eq(harvestShares.plantingId, plantingId)],
        isNull(harvestShares.removedAt),
      ),
    )
  const lost = await tx
    .select({ day: sql<string>`${losses.lostOn}::text` })
    .from(losses)
    .where(and(eq(losses.groupId, groupId), eq(losses.plantingId, plantingId), isNull(losses.removedAt)))
  const all = [...alone, ...shared, ...lost].map((one) => one.day).sort()
  return { first: all[0] ?? null, last: all.at(-1) ?? null }
}
