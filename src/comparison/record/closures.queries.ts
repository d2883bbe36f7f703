import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../../db/database.ts'
import { bedClosures } from '../../gardens/gardens.table.ts'

/** Covers of beds, and the latest count of what came up again after each. */
export async function closuresOf(tx: Tx, groupId: string) {
  const { bedId, fromDay, toDay, regrowthAfter4Weeks, regrowthAfter8Weeks, regrowthAfter12Weeks } = bedClosures
  const lastRegrowth = sql<number | null>`coalesce(
    ${regrowthAfter12Weeks}, ${regrowthAfter8Weeks}, ${regrowthAfter4Weeks})`.mapWith(Number)
  return tx
    .select({ bedId, fromDay, toDay, lastRegrowth })
    .from(bedClosures)
    .where(and(eq(bedClosures.groupId, groupId), isNull(bedClosures.removedAt)))
    .orderBy(asc(bedClosures.fromDay), asc(bedClosures.id))
}
