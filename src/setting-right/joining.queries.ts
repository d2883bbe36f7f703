import { and, eq, inArray, isNull, sql } from 'drizzle-orm'
import { amend, markRemoved, type RecordTable } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { crateLabels, harvestShares, type harvests, losses, secondReadings } from '../diary/diary.table.ts'
import { plantings } from '../seasons/seasons.table.ts'
import { type Hanging, hangingOn, tablesOfPlantings } from './hanging.queries.ts'
import { type GroundOfHalves, type Half, joined, lossesOfJoined } from './joined.ts'

type Row = Half & { readonly groupId: string; readonly version: number }

interface Joining {
  readonly kept: Row
  readonly other: Row
  readonly ground: GroundOfHalves
  readonly reason: string
}

/**
 * Two plantings that are one: all that hangs on the other hangs on the one that is kept, and the other is marked as
 * removed. What can be said once of a planting and week only (a part of a crate, a label, a second reading) becomes
 * one.
 */
export async function joinPlantings(tx: Tx, { kept, other, ground, reason }: Joining): Promise<boolean> {
  const { groupId } = kept
  const hanging = await hangingOn(tx, groupId, [kept.id, other.id])
  await joinLosses(tx, { kept, other, ground, reason }, hanging)
  await joinCrates(tx, { kept, other, reason }, hanging)
  await joinWeeks(tx, { kept, other, reason }, hanging)
  for (const table of Object.values(tablesOfPlantings)) {
    await tx
      .update(table as typeof harvests)
      .set({ plantingId: kept.id, version: sql`${table.version} + 1` })
      .where(
        and(eq(table.groupId, groupId), eq((table as typeof harvests).plantingId, other.id), isNull(table.removedAt)),
      )
  }
  const gone = await markRemoved(tx, plantings, other, reason)
  return gone && amend(tx, plantings, kept, joined(kept, other, ground))
}

type Two = Pick<Joining, 'kept' | 'other' | 'reason'>

async function joinLosses(tx: Tx, { kept, other, ground, reason }: Joining, hanging: Hanging): Promise<void> {
  const shares = lossesOfJoined(hanging.losses, [kept, other], ground)
  for (const loss of hanging.losses) {
    const share = shares.get(loss.id)
    if (share === null) await markRemoved(tx, losses, loss, reason)
    else if (share !== undefined && share !== loss.sharePermille)
      await amend(tx, losses, loss, { sharePermille: share })
  }
}

/** A crate that both were in: their given shares are added, and it is one part. */
async function joinCrates(tx: Tx, { kept, other, reason }: Two, { crates }: Hanging): Promise<void> {
  for (const crate of crates) {
    const [own, its] = [kept, other].map((half) => crate.shares.find((one) => one.plantingId === half.id))
    if (!own || !its) continue
    await markRemoved(tx, harvestShares, its, reason)
    if (own.share !== null && its.share !== null) await amend(tx, harvestShares, own, { share: own.share + its.share })
  }
}

/**
 * Labels and second readings are one a planting and week; a reading of half of what was weighed in a week is of no use.
 */
async function joinWeeks(tx: Tx, { kept, other, reason }: Two, { labels, readings, weights }: Hanging): Promise<void> {
  const own = new Set(labels.filter((one) => one.plantingId === kept.id).map((one) => one.isoWeek))
  const twice = labels.filter((one) => one.plantingId === other.id && own.has(one.isoWeek))
  await removeAll(tx, crateLabels, kept.groupId, { ids: twice.map((one) => one.id), reason })
  for (const isoWeek of new Set(readings.map((one) => one.isoWeek))) {
    const [first, second] = [kept, other].map((half) =>
      readings.find((one) => one.isoWeek === isoWeek && one.plantingId === half.id),
    )
    if (first && second) {
      await markRemoved(tx, secondReadings, second, reason)
      await amend(tx, secondReadings, first, { weighedG: first.weighedG + second.weighedG })
      continue
    }
    const alone = first ?? second
    const unread = first ? other : kept
    const isHalf = weights.some((one) => one.plantingId === unread.id && one.isoWeek === isoWeek)
    if (alone && isHalf) await markRemoved(tx, secondReadings, alone, reason)
  }
}

async function removeAll(
  tx: Tx,
  table: RecordTable & typeof crateLabels,
  groupId: string,
  { ids, reason }: { ids: readonly string[]; reason: string },
): Promise<void> {
  if (ids.length === 0) return
  await tx
    .update(table)
    .set({ removedAt: sql`now()`, removedReason: reason, version: sql`${table.version} + 1` })
    .where(and(eq(table.groupId, groupId), inArray(table.id, [...ids])))
}
