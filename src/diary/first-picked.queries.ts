import { and, asc, eq, gt, isNull, ne, not, or, type SQL, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { linked } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { harvestShares, harvests, losses } from './diary.table.ts'
import { sealedWeighings } from './sealed.queries.ts'

const first = sql<IsoDate>`min(${harvests.harvestedOn})::text`
const weighed = (groupId: string, sealed: SQL) =>
  and(
    eq(harvests.groupId, groupId),
    isNull(harvests.removedAt),
    not(sealed),
    or(gt(harvests.marketableG, 0), gt(harvests.unmarketableG, 0)),
  )

/** The day on which something of each planting was first weighed, alone or in a shared crate. */
export async function firstPicked(tx: Tx, groupId: string): Promise<Map<string, IsoDate>> {
  const sealed = await sealedWeighings(tx, groupId)
  const alone = await tx
    .select({ plantingId: harvests.plantingId, day: first })
    .from(harvests)
    .where(weighed(groupId, sealed))
    .groupBy(harvests.plantingId)
  const shared = await tx
    .select({ plantingId: harvestShares.plantingId, day: first })
    .from(harvestShares)
    .innerJoin(harvests, and(eq(harvests.groupId, groupId), eq(harvests.id, harvestShares.harvestId)))
    .where(
      and(
        eq(harvestShares.groupId, groupId),
        isNull(harvestShares.removedAt),
        weighed(groupId, sealed),
        or(ne(harvests.shareRule, 'given'), gt(harvestShares.share, 0)),
      ),
    )
    .groupBy(harvestShares.plantingId)
  const days = new Map<string, IsoDate>()
  for (const { plantingId, day } of [...alone, ...shared]) {
    const known = linked(days, plantingId)
    if (plantingId && (known === undefined || day < known)) days.set(plantingId, day)
  }
  return days
}

/** Plantings of which everything was lost, with the first day on which that was written down. */
export async function whollyLost(tx: Tx, groupId: string): Promise<{ plantingId: string; lostOn: IsoDate }[]> {
  return tx
    .select({ plantingId: losses.plantingId, lostOn: sql<IsoDate>`min(${losses.lostOn})::text` })
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt), eq(losses.sharePermille, 1000)))
    .groupBy(losses.plantingId)
}

/** The rows by which all of a planting was lost, the first day first. */
export const totallyLost = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt), eq(losses.sharePermille, 1000)))
    .orderBy(asc(losses.lostOn), asc(losses.id))
