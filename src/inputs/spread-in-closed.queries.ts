import { and, eq, isNotNull, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { seasons } from '../seasons/seasons.table.ts'
import { applications, deliveries } from './inputs.table.ts'

/** Whether something of an input, or of one load of it, was spread in a season that is closed: its costs rest on it. */
export async function isSpreadInClosed(
  tx: Tx,
  groupId: string,
  { inputId, deliveryId }: { readonly inputId?: string; readonly deliveryId?: string },
): Promise<boolean> {
  const found = await tx
    .select({ id: applications.id })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(seasons, and(eq(seasons.groupId, groupId), eq(seasons.id, applications.seasonId)))
    .where(
      and(
        eq(applications.groupId, groupId),
        isNull(applications.removedAt),
        isNotNull(seasons.closedAt),
        inputId === undefined ? undefined : eq(deliveries.inputId, inputId),
        deliveryId === undefined ? undefined : eq(deliveries.id, deliveryId),
      ),
    )
    .limit(1)
  return found.length > 0
}
