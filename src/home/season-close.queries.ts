import { and, asc, eq, inArray, isNull, not, sql } from 'drizzle-orm'
import { changesSinceClosing } from '../comparison/record/changes-since.queries.ts'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { harvestShares, harvests, labourEntries, labourShares, losses } from '../diary/diary.table.ts'
import { sealedBySeason, sealedWeighings } from '../diary/sealed.queries.ts'
import { standingClosings } from '../diary/week.queries.ts'
import { bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { beds } from '../gardens/gardens.table.ts'
import { applications, deliveries, inputs } from '../inputs/inputs.table.ts'
import { numberIn } from '../lookups/unsaid.ts'
import { assignmentsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { plantings, seasons } from '../seasons/seasons.table.ts'
import { standsIn } from '../seasons/seasons-stood.ts'

/**
 * What a season's closing rests on: its weeks' closings, what still stands, what has no price, what was changed since.
 */
export async function seasonToClose(tx: Tx, groupId: string, seasonId: string) {
  const all = await seasonsOf(tx, groupId)
  const season = all.find((one) => one.id === seasonId)
  if (!season) return undefined
  const planted = (await plantingsOf(tx, groupId)).filter((one) => standsIn(one, seasonId, all))
  const assigned = new Set(
    (await assignmentsOf(tx, groupId)).filter((one) => one.seasonId === seasonId).map((one) => one.gardenId),
  )
  return {
    season,
    gardens: (await gardensOf(tx, groupId)).filter((garden) => assigned.has(garden.id)),
    beds: await bedsOf(tx, groupId),
    standing: planted.filter(
      (one) => one.clearedOn === null && one.purpose === 'harvest' && one.standsOverSeasons === 0,
    ),
    planted,
    closings: await standingClosings(tx, groupId),
    losses: await lossesOf(
      tx,
      groupId,
      planted.map((one) => one.id),
    ),
    weighed: await plantingsWeighed(tx, groupId),
    unsplit: await unsplitOf(tx, groupId, seasonId),
    unpriced: await unpricedOf(tx, groupId, seasonId),
    sealed: numberIn(await sealedBySeason(tx, groupId), seasonId),
    changedSince: numberIn(await changesSinceClosing(tx, groupId, [season]), seasonId),
  }
}

async function lossesOf(tx: Tx, groupId: string, plantingIds: readonly string[]) {
  if (plantingIds.length === 0) return []
  return tx
    .select()
    .from(losses)
    .where(and(eq(losses.groupId, groupId), isNull(losses.removedAt), inArray(losses.plantingId, [...plantingIds])))
    .orderBy(asc(losses.lostOn), asc(losses.id))
}

/** The plantings that any weighing names, alone or in a shared crate; what lies under a sealed label names none. */
async function plantingsWeighed(tx: Tx, groupId: string): Promise<ReadonlySet<string>> {
  const alone = await tx
    .selectDistinct({ id: harvests.plantingId })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.removedAt), not(await sealedWeighings(tx, groupId))))
  const shared = await tx
    .selectDistinct({ id: harvestShares.plantingId })
    .from(harvestShares)
    .innerJoin(harvests, and(eq(harvests.groupId, groupId), eq(harvests.id, harvestShares.harvestId)))
    .where(and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt), isNull(harvests.removedAt)))
  return new Set([...alone, ...shared].flatMap((row) => row.id ?? []))
}

/**
 * Shared crates whose plants were not counted, and shared hours over gardens without a bed: their rule cannot divide
 * them.
 */
async function unsplitOf(tx: Tx, groupId: string, seasonId: string) {
  const crates = await tx
    .selectDistinct({ id: harvests.id, isoWeek: harvests.isoWeek })
    .from(harvests)
    .innerJoin(harvestShares, and(eq(harvestShares.groupId, groupId), eq(harvestShares.harvestId, harvests.id)))
    .innerJoin(plantings, and(eq(plantings.groupId, groupId), eq(plantings.id, harvestShares.plantingId)))
    .where(
      and(
        eq(harvests.groupId, groupId),
        eq(harvests.seasonId, seasonId),
        isNull(harvests.removedAt),
        eq(harvests.shareRule, 'plants'),
        isNull(plantings.plants),
        isNull(harvestShares.removedAt),
      ),
    )
    .orderBy(asc(harvests.isoWeek), asc(harvests.id))
  const bedless = sql`not exists (select from ${beds} where ${beds.groupId} = ${groupId}
    and ${beds.gardenId} = ${labourShares.gardenId} and ${beds.removedAt} is null)`
  const hours = await tx
    .selectDistinct({ id: labourEntries.id, isoWeek: labourEntries.isoWeek })
    .from(labourEntries)
    .innerJoin(labourShares, and(eq(labourShares.groupId, groupId), eq(labourShares.labourEntryId, labourEntries.id)))
    .where(
      and(
        eq(labourEntries.groupId, groupId),
        eq(labourEntries.seasonId, seasonId),
        isNull(labourEntries.removedAt),
        isNull(labourShares.removedAt),
        bedless,
      ),
    )
    .orderBy(asc(labourEntries.isoWeek), asc(labourEntries.id))
  return { crates, hours }
}

const unpricedOf = (tx: Tx, groupId: string, seasonId: string) =>
  tx
    .selectDistinct({ id: deliveries.id, name: inputs.name, deliveredOn: deliveries.deliveredOn })
    .from(applications)
    .innerJoin(deliveries, and(eq(deliveries.groupId, groupId), eq(deliveries.id, applications.deliveryId)))
    .innerJoin(inputs, and(eq(inputs.groupId, groupId), eq(inputs.id, deliveries.inputId)))
    .where(
      and(
        eq(applications.groupId, groupId),
        eq(applications.seasonId, seasonId),
        isNull(applications.removedAt),
        isNull(deliveries.priceMinor),
      ),
    )
    .orderBy(asc(deliveries.deliveredOn), asc(deliveries.id))

interface Closing {
  readonly groupId: string
  readonly id: string
  readonly version: number
  readonly closedBy: string | null
}

export const closeSeason = (tx: Tx, { closedBy, ...seen }: Closing): Promise<boolean> =>
  amend(tx, seasons, seen, { closedAt: new Date(), closedBy })

export const reopenSeason = (tx: Tx, { closedBy: _who, ...seen }: Closing): Promise<boolean> =>
  amend(tx, seasons, seen, { closedAt: null, closedBy: null })
