import { and, asc, eq, inArray, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { crateLabels, harvestShares, harvests, labourEntries, losses, secondReadings } from '../diary/diary.table.ts'
import { applications } from '../inputs/inputs.table.ts'
import { counts, fieldNotes } from '../notes/notes.table.ts'

/** Every table with rows of one planting, and nothing but that to say whose they are. */
export const tablesOfPlantings = {
  harvests,
  harvestShares,
  losses,
  labourEntries,
  applications,
  fieldNotes,
  counts,
  crateLabels,
  secondReadings,
}

/** All that hangs on plantings, by its table, in the order of its ids; a share comes with the crate that it is of. */
export async function hangingOn(tx: Tx, groupId: string, plantingIds: readonly string[]) {
  const ids = [...plantingIds]
  const rows = async <T extends (typeof tablesOfPlantings)[keyof typeof tablesOfPlantings]>(
    table: T,
  ): Promise<T['$inferSelect'][]> =>
    (await tx
      .select()
      .from(table as typeof harvests)
      .where(
        and(eq(table.groupId, groupId), inArray((table as typeof harvests).plantingId, ids), isNull(table.removedAt)),
      )
      .orderBy(asc(table.id))) as T['$inferSelect'][]
  const shares = await rows(harvestShares)
  return {
    weights: await rows(harvests),
    shares,
    crates: await cratesOf(tx, groupId, [...new Set(shares.map((one) => one.harvestId))]),
    losses: await rows(losses),
    labour: await rows(labourEntries),
    loads: await rows(applications),
    notes: await rows(fieldNotes),
    counts: await rows(counts),
    labels: await rows(crateLabels),
    readings: await rows(secondReadings),
  }
}

export type Hanging = Awaited<ReturnType<typeof hangingOn>>

/** Shared crates with all their shares, those of other plantings too. */
async function cratesOf(tx: Tx, groupId: string, harvestIds: readonly string[]) {
  if (harvestIds.length === 0) return []
  const crates = await tx
    .select()
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), inArray(harvests.id, [...harvestIds]), isNull(harvests.removedAt)))
    .orderBy(asc(harvests.id))
  const shares = await tx
    .select()
    .from(harvestShares)
    .where(
      and(
        eq(harvestShares.groupId, groupId),
        inArray(harvestShares.harvestId, [...harvestIds]),
        isNull(harvestShares.removedAt),
      ),
    )
    .orderBy(asc(harvestShares.id))
  return crates.map((crate) => ({ ...crate, shares: shares.filter((one) => one.harvestId === crate.id) }))
}
