import { and, eq, gte, isNotNull, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { methodAssignments, seasons } from './seasons.table.ts'

interface OfGarden {
  readonly groupId: string
  readonly gardenId: string
  /** The first day on which the ground was, or would be, other than it is; null for the beginning. */
  readonly from: IsoDate | null
}

/** Whether figures of a closed season rest on the ground of a garden from a day on: a method lay on it then. */
export const closedOverGround = (tx: Tx, { groupId, gardenId, from }: OfGarden): Promise<boolean> =>
  isAnyClosed(
    tx,
    groupId,
    and(eq(methodAssignments.gardenId, gardenId), from === null ? undefined : gte(seasons.endsOn, from)),
  )

/** Whether a method lay anywhere in a closed season: over how many seasons its first work is spread counts there. */
export const closedUnderMethod = (tx: Tx, groupId: string, methodId: string): Promise<boolean> =>
  isAnyClosed(tx, groupId, eq(methodAssignments.methodId, methodId))

async function isAnyClosed(tx: Tx, groupId: string, fits: ReturnType<typeof and>): Promise<boolean> {
  const found = await tx
    .select({ id: seasons.id })
    .from(seasons)
    .innerJoin(
      methodAssignments,
      and(eq(methodAssignments.groupId, groupId), eq(methodAssignments.seasonId, seasons.id)),
    )
    .where(
      and(
        eq(seasons.groupId, groupId),
        isNull(seasons.removedAt),
        isNotNull(seasons.closedAt),
        isNull(methodAssignments.removedAt),
        fits,
      ),
    )
    .limit(1)
  return found.length > 0
}
