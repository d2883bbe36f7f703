import { and, asc, eq, gt, inArray, isNull, sql } from 'drizzle-orm'
import { changes } from '../accounts/accounts.table.ts'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { losses } from '../diary/diary.table.ts'
import { standingClosings } from '../diary/week.queries.ts'
import { gardensOf } from '../gardens/gardens.queries.ts'
import { applications, deliveries, inputs } from '../inputs/inputs.table.ts'
import { assignmentsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { seasons } from '../seasons/seasons.table.ts'

/** What a season's closing rests on: its weeks' closings, what still stands, what has no price, what was changed since. */
export async function seasonToClose(tx: Tx, groupId: string, seasonId: string) {
  const season = (await seasonsOf(tx, groupId)).find((one) => one.id === seasonId)
  if (!season) return undefined
  const plantings = (await plantingsOf(tx, groupId)).filter((one) => one.seasonId === seasonId)
  const assigned = new Set(
    (await assignmentsOf(tx, groupId)).filter((one) => one.seasonId === seasonId).map((one) => one.gardenId),
  )
  return {
    season,
    gardens: (await gardensOf(tx, groupId)).filter((garden) => assigned.has(garden.id)),
    standing: plantings.filter((one) => one.clearedOn === null && one.purpose === 'harvest'),
    plantings,
    closings: await standingClosings(tx, groupId),
    losses: await lossesOf(
      tx,
      groupId,
      plantings.map((one) => one.id),
    ),
    unpriced: await unpricedOf(tx, groupId, seasonId),
    changedSince: season.closedAt ? await changesSince(tx, groupId, season.closedAt) : 0,
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

const unpricedOf = (tx: Tx, groupId: string, seasonId: string) =>
  tx
    .selectDistinct({ name: inputs.name, deliveredOn: deliveries.deliveredOn })
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
    .orderBy(asc(deliveries.deliveredOn))

/** Corrections and additions to the record after the closing, in tables that figures are made of. */
async function changesSince(tx: Tx, groupId: string, closedAt: Date): Promise<number> {
  const [found] = await tx
    .select({ rows: sql<string>`count(*)` })
    .from(changes)
    .where(
      and(
        eq(changes.groupId, groupId),
        gt(changes.changedAt, closedAt),
        inArray(changes.tableName, [
          'harvests',
          'losses',
          'labour_entries',
          'plantings',
          'applications',
          'deliveries',
          'beds',
          'gardens',
        ]),
      ),
    )
  return Number(found?.rows ?? 0)
}

export interface Closing {
  readonly groupId: string
  readonly id: string
  readonly version: number
  readonly closedBy: string | null
}

export const closeSeason = (tx: Tx, { closedBy, ...seen }: Closing): Promise<boolean> =>
  amend(tx, seasons, seen, { closedAt: new Date(), closedBy })

export const reopenSeason = (tx: Tx, { closedBy: _who, ...seen }: Closing): Promise<boolean> =>
  amend(tx, seasons, seen, { closedAt: null, closedBy: null })
