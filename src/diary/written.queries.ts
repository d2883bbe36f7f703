import { and, asc, eq, inArray, isNotNull, isNull, not, or, sql } from 'drizzle-orm'
import { groups } from '../accounts/accounts.table.ts'
import type { Tx } from '../db/database.ts'
import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { sundayOf } from '../quantities/iso-week.ts'
import type { ByRow } from './by-row.ts'
import { harvestShares, harvests, labourEntries, labourShares } from './diary.table.ts'
import { sealedWeighings } from './sealed.queries.ts'

/**
 * Fourteen days after its day, or after the end of its week: later than that it is written from memory or from paper.
 */
export const daysUntilLate = 14

interface Place {
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
}

/** The time zone by whose days a group counts. */
export async function timeZoneOf(tx: Tx, groupId: string): Promise<string> {
  const [group] = await tx.select({ timeZone: groups.timeZone }).from(groups).where(eq(groups.id, groupId))
  return group?.timeZone ?? 'UTC'
}

/** Entries of hours and weighings with how they came into the record; and, by entry, the places that each touches. */
export async function entriesWritten(tx: Tx, groupId: string, which: ByRow = 'all') {
  const timeZone = await timeZoneOf(tx, groupId)
  const dayOf = (table: typeof labourEntries | typeof harvests) =>
    sql<IsoDate>`(${table.createdAt} at time zone ${timeZone})::date::text`
  const shared = (table: typeof labourEntries | typeof harvests) =>
    which === 'all' ? undefined : or(isNotNull(table.shareRule), inArray(table.seasonId, [...which]))
  const { id, seasonId, isoWeek, source, gardenId, bedId, plantingId } = labourEntries
  const hours = await tx
    .select({
      id,
      seasonId,
      isoWeek,
      source,
      gardenId,
      bedId,
      plantingId,
      on: labourEntries.workedOn,
      written: dayOf(labourEntries),
    })
    .from(labourEntries)
    .where(and(eq(labourEntries.groupId, groupId), isNull(labourEntries.removedAt), shared(labourEntries)))
    .orderBy(asc(labourEntries.id))
  const weights = await tx
    .select({
      id: harvests.id,
      seasonId: harvests.seasonId,
      isoWeek: harvests.isoWeek,
      source: harvests.source,
      plantingId: harvests.plantingId,
      on: harvests.harvestedOn,
      written: dayOf(harvests),
    })
    .from(harvests)
    .where(
      and(
        eq(harvests.groupId, groupId),
        isNull(harvests.removedAt),
        eq(harvests.counts, 1),
        not(await sealedWeighings(tx, groupId)),
        shared(harvests),
      ),
    )
    .orderBy(asc(harvests.id))
  const places = await placesOfShared(tx, groupId)
  for (const row of hours) if (row.gardenId ?? row.bedId ?? row.plantingId) places.set(row.id, [row])
  for (const row of weights) {
    if (row.plantingId) places.set(row.id, [{ ...nowhere, plantingId: row.plantingId }])
  }
  const entries = [...hours, ...weights].map((row) => ({
    id: row.id,
    seasonId: row.seasonId,
    isoWeek: row.isoWeek,
    on: row.on,
    written: row.written,
    of: 'gardenId' in row ? ('hours' as const) : ('weights' as const),
    paper: row.source === 'paper',
    late: isLate(row.on ?? sundayOf(row.isoWeek), row.written),
  }))
  return { entries, places }
}

const nowhere: Place = { gardenId: null, bedId: null, plantingId: null }

export const isLate = (day: IsoDate, written: IsoDate): boolean => daysBetween(day, written) > daysUntilLate

async function placesOfShared(tx: Tx, groupId: string): Promise<Map<string, Place[]>> {
  const places = new Map<string, Place[]>()
  const add = (entry: string, place: Partial<Place>) =>
    places.set(entry, [...(places.get(entry) ?? []), { ...nowhere, ...place }])
  const over = await tx
    .select({ entry: labourShares.labourEntryId, gardenId: labourShares.gardenId })
    .from(labourShares)
    .where(and(eq(labourShares.groupId, groupId), isNull(labourShares.removedAt)))
    .orderBy(asc(labourShares.id))
  for (const { entry, gardenId } of over) add(entry, { gardenId })
  const from = await tx
    .select({ entry: harvestShares.harvestId, plantingId: harvestShares.plantingId })
    .from(harvestShares)
    .where(and(eq(harvestShares.groupId, groupId), isNull(harvestShares.removedAt)))
    .orderBy(asc(harvestShares.id))
  for (const { entry, plantingId } of from) add(entry, { plantingId })
  return places
}
