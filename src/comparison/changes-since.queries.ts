import { and, eq, inArray, sql } from 'drizzle-orm'
import { changes } from '../accounts/accounts.table.ts'
import { changedAfter } from '../accounts/changed-after.queries.ts'
import { tablesOfFigures } from '../accounts/tables-of-figures.ts'
import type { Tx } from '../db/database.ts'

/** Corrections and additions to the record since a moment, in tables that figures are made of. */
export async function changesSince(tx: Tx, groupId: string, since: Date): Promise<number> {
  const [found] = await tx
    .select({ rows: sql<string>`count(*)` })
    .from(changes)
    .where(and(eq(changes.groupId, groupId), changedAfter(since), inArray(changes.tableName, [...tablesOfFigures])))
  return Number(found?.rows ?? 0)
}

/** For each closed season, how many rows were written or changed in that season's record since it closed. */
export async function changesSinceClosing(
  tx: Tx,
  groupId: string,
  seasons: readonly { id: string; closedAt: Date | null; createdAt: Date }[],
): Promise<ReadonlyMap<string, number>> {
  const found = new Map<string, number>()
  for (const { id, closedAt, createdAt } of seasons) {
    if (!closedAt) continue
    const since = lateOf(closedAt, createdAt)
    const [row] = await tx
      .select({ rows: sql<string>`count(*)` })
      .from(changes)
      .where(
        and(
          ...[eq(changes.groupId, groupId), changedAfter(since), inArray(changes.tableName, [...tablesOfFigures])],
          sql`coalesce(${changes.after}, ${changes.before}) ->> 'season_id' = ${id}`,
        ),
      )
    found.set(id, Number(row?.rows ?? 0))
  }
  return found
}

/** A season that was written down after its end, whole, has not been changed by that. */
export const lateOf = (closedAt: Date, createdAt: Date): Date => (createdAt > closedAt ? createdAt : closedAt)
