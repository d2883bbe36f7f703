import { and, eq, inArray, isNull, ne, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { harvestShares, harvests, labourEntries, weekClosings } from '../diary/diary.table.ts'
import { labelsOf } from '../diary/sealed.queries.ts'
import { phaseAt } from '../diary/week-rules.ts'
import { bedsOf } from '../gardens/gardens.queries.ts'
import { applications } from '../inputs/inputs.table.ts'
import { counts, fieldNotes } from '../notes/notes.table.ts'
import { assignmentsOf, plantingsOf } from '../seasons/seasons.queries.ts'
import { matchedSets, plantings } from '../seasons/seasons.table.ts'

interface Moved {
  readonly plantingId: string
  readonly seasonId: string
  readonly gardenId: string
  readonly bedId: string
}

/**
 * What hangs on a planting lies where it lies: notes and counts of it name its new garden and bed, and hours and loads
 * have the phase of the method on that ground, where one is laid.
 */
export async function followTo(tx: Tx, groupId: string, moved: Moved): Promise<void> {
  const { plantingId, seasonId, gardenId, bedId } = moved
  for (const table of [fieldNotes, counts]) {
    await tx
      .update(table)
      .set({ gardenId, bedId, version: sql`${table.version} + 1` })
      .where(and(eq(table.groupId, groupId), eq(table.plantingId, plantingId), isNull(table.removedAt)))
  }
  const phase = phaseAt(await assignmentsOf(tx, groupId), seasonId, moved)
  if (phase === undefined) return
  for (const table of [labourEntries, applications]) {
    const own = and(eq(table.groupId, groupId), eq(table.plantingId, plantingId), ne(table.phase, phase))
    await tx
      .update(table)
      .set({ phase, version: sql`${table.version} + 1` })
      .where(and(own, isNull(table.removedAt)))
  }
}

/** Whether what was written of plantings lies in a week that is closed for one of these gardens: weights or hours. */
export async function closedWeekOf(
  tx: Tx,
  groupId: string,
  { plantingIds, gardenIds }: { plantingIds: readonly string[]; gardenIds: readonly string[] },
): Promise<boolean> {
  const closings = await tx
    .select({ isoWeek: weekClosings.isoWeek, what: weekClosings.what })
    .from(weekClosings)
    .where(
      and(
        eq(weekClosings.groupId, groupId),
        inArray(weekClosings.gardenId, [...gardenIds]),
        isNull(weekClosings.reopenedAt),
        isNull(weekClosings.removedAt),
      ),
    )
  const closed = new Set(closings.map((one) => `${one.what} ${one.isoWeek}`))
  const weeks = (await weeksOf(tx, groupId, plantingIds)).map((one) => `${one.what} ${one.isoWeek}`)
  return weeks.some((week) => closed.has(week))
}

async function weeksOf(tx: Tx, groupId: string, plantingIds: readonly string[]) {
  const ids = [...plantingIds]
  const alone = await tx
    .select({ isoWeek: harvests.isoWeek })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), inArray(harvests.plantingId, ids), isNull(harvests.removedAt)))
  const shared = await tx
    .select({ isoWeek: harvests.isoWeek })
    .from(harvestShares)
    .innerJoin(harvests, and(eq(harvests.groupId, groupId), eq(harvests.id, harvestShares.harvestId)))
    .where(
      and(
        eq(harvestShares.groupId, groupId),
        inArray(harvestShares.plantingId, ids),
        isNull(harvestShares.removedAt),
        isNull(harvests.removedAt),
      ),
    )
  const worked = await tx
    .select({ isoWeek: labourEntries.isoWeek })
    .from(labourEntries)
    .where(
      and(eq(labourEntries.groupId, groupId), inArray(labourEntries.plantingId, ids), isNull(labourEntries.removedAt)),
    )
  return [
    ...[...alone, ...shared].map(({ isoWeek }) => ({ what: 'weights', isoWeek })),
    ...worked.map(({ isoWeek }) => ({ what: 'hours', isoWeek })),
  ]
}

interface Counted {
  readonly groupId: string
  readonly plantingId: string
  /** All of this set go with it; null where it goes alone. */
  readonly setId: string | null
  readonly seasonId: string
}

/**
 * Hours, loads and kilograms of plantings count toward the season that these count toward, with the phase of the method
 * on their ground in it. A crate that was shared with others stays with the season that it was weighed for.
 */
export async function countToward(tx: Tx, { groupId, plantingId, setId, seasonId }: Counted): Promise<void> {
  if (setId !== null) {
    await tx
      .update(matchedSets)
      .set({ seasonId, version: sql`${matchedSets.version} + 1` })
      .where(and(eq(matchedSets.groupId, groupId), eq(matchedSets.id, setId)))
    await tx
      .update(plantings)
      .set({ seasonId, version: sql`${plantings.version} + 1` })
      .where(and(eq(plantings.groupId, groupId), eq(plantings.matchedSetId, setId), ne(plantings.id, plantingId)))
  }
  const [all, beds, laid] = [
    await plantingsOf(tx, groupId),
    await bedsOf(tx, groupId),
    await assignmentsOf(tx, groupId),
  ]
  for (const planting of all.filter((one) => one.id === plantingId || (setId && one.matchedSetId === setId))) {
    const ofPlanting = (table: typeof harvests | typeof labourEntries | typeof applications) =>
      and(eq(table.groupId, groupId), eq(table.plantingId, planting.id), isNull(table.removedAt))
    await tx
      .update(harvests)
      .set({ seasonId, version: sql`${harvests.version} + 1` })
      .where(ofPlanting(harvests))
    const bed = beds.find((one) => one.id === planting.bedId)
    const phase = bed && phaseAt(laid, seasonId, { gardenId: bed.gardenId, bedId: bed.id })
    for (const table of [labourEntries, applications]) {
      await tx
        .update(table)
        .set({ seasonId, ...(phase && { phase }), version: sql`${table.version} + 1` })
        .where(ofPlanting(table))
    }
  }
}

/** Whether anything of it counts toward another season than its own. */
export async function countsElsewhere(
  tx: Tx,
  { groupId, id, seasonId }: { readonly groupId: string; readonly id: string; readonly seasonId: string },
): Promise<boolean> {
  for (const table of [harvests, labourEntries, applications]) {
    const own = and(eq(table.groupId, groupId), eq(table.plantingId, id), ne(table.seasonId, seasonId))
    const found = await tx
      .select({ id: table.id })
      .from(table)
      .where(and(own, isNull(table.removedAt)))
      .limit(1)
    if (found.length > 0) return true
  }
  return false
}

/** Whether a crate of one of them waits under a label. */
export async function isSealed(tx: Tx, groupId: string, plantingIds: readonly string[]): Promise<boolean> {
  return (await labelsOf(tx, groupId)).some((one) => one.sealed && plantingIds.includes(one.plantingId))
}
