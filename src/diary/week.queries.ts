import { and, asc, between, eq, gte, isNotNull, isNull, not, sql } from 'drizzle-orm'
import { rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { storeOnce } from '../db/store-once.ts'
import { type Author, bedsOf } from '../gardens/gardens.queries.ts'
import { asShown, linkOf } from '../lookups/unsaid.ts'
import { type IsoWeek, weekAfter, weekWritten } from '../quantities/iso-week.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import {
  containers,
  harvestShares,
  harvests,
  labourEntries,
  labourShares,
  losses,
  weekClosings,
} from './diary.table.ts'
import { weeksOfLately } from './lately.ts'
import { sealedWeighings } from './sealed.queries.ts'

const ofGroup = { labour: labourEntries, harvests, losses }
export type Entry = keyof typeof ofGroup

export async function entriesOfWeek(tx: Tx, groupId: string, isoWeek: IsoWeek) {
  const inWeek = <T extends typeof labourEntries | typeof harvests | typeof losses>(table: T) =>
    and(eq(table.groupId, groupId), eq(table.isoWeek, isoWeek), isNull(table.removedAt))
  const labour = await tx.select().from(labourEntries).where(inWeek(labourEntries)).orderBy(asc(labourEntries.id))
  const over = await tx
    .select({ entry: labourShares.labourEntryId, bedId: labourShares.bedId })
    .from(labourShares)
    .innerJoin(labourEntries, and(eq(labourEntries.groupId, groupId), eq(labourEntries.id, labourShares.labourEntryId)))
    .where(and(inWeek(labourEntries), isNotNull(labourShares.bedId)))
    .orderBy(asc(labourShares.bedId))
  return {
    labour: labour.map((one) => ({
      ...one,
      /** The beds that it was done on, where they are several of one garden. */
      overBeds: over.flatMap(({ entry, bedId }) => (entry === one.id && bedId !== null ? [bedId] : [])),
    })),
    harvests: await tx.select().from(harvests).where(inWeek(harvests)).orderBy(asc(harvests.id)),
    losses: await tx.select().from(losses).where(inWeek(losses)).orderBy(asc(losses.id)),
  }
}

/** The latest week in which anything was weighed. */
export async function lastWeekWritten(tx: Tx, groupId: string): Promise<string | null> {
  const [last] = await tx
    .select({ week: sql<string | null>`max(${harvests.isoWeek})` })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.removedAt)))
  return last?.week ?? null
}

export const containersOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(containers)
    .where(and(eq(containers.groupId, groupId), isNull(containers.removedAt)))
    .orderBy(asc(containers.id))

export const closingsOf = (tx: Tx, groupId: string, isoWeek: IsoWeek) =>
  tx
    .select()
    .from(weekClosings)
    .where(and(eq(weekClosings.groupId, groupId), eq(weekClosings.isoWeek, isoWeek), isNull(weekClosings.reopenedAt)))
    .orderBy(asc(weekClosings.id))

/**
 * The closings of a week, for whoever is about to write into it: none is closed or opened again until that is stored.
 * Writers do not wait for each other.
 */
export async function closingsHeld(tx: Tx, groupId: string, isoWeek: IsoWeek) {
  await holdClosings(tx, groupId)
  return closingsOf(tx, groupId, isoWeek)
}

export const holdClosings = (tx: Tx, groupId: string) =>
  tx.execute(sql`select pg_advisory_xact_lock_shared(${closingsOfGroup(groupId)})`)

/** Waits until all who write into weeks of the group are done; who comes after them sees what was closed. */
export const closingsWaitedFor = (tx: Tx, groupId: string) =>
  tx.execute(sql`select pg_advisory_xact_lock(${closingsOfGroup(groupId)})`)

const closingsOfGroup = (groupId: string) => sql`hashtextextended('week closings ' || ${groupId}::text, 0)`

/** All closings of the group that still stand. */
export const standingClosings = (tx: Tx, groupId: string) =>
  tx
    .select({ gardenId: weekClosings.gardenId, isoWeek: weekClosings.isoWeek, what: weekClosings.what })
    .from(weekClosings)
    .where(closingsStanding(groupId))
    .orderBy(asc(weekClosings.id))

/**
 * The same by garden, kind and week: the weeks of a garden are one text on their way, since those of ten years are four
 * thousand rows.
 */
export async function closingsByGarden(tx: Tx, groupId: string) {
  const { gardenId, what, isoWeek } = weekClosings
  const rows = await tx
    .select({ gardenId, what, weeks: sql<string>`string_agg(${isoWeek}, ' ' order by ${isoWeek})` })
    .from(weekClosings)
    .where(closingsStanding(groupId))
    .groupBy(gardenId, what)
    .orderBy(asc(gardenId), asc(what))
  return rows.flatMap(({ weeks, ...row }) => weeks.split(' ').map((week) => ({ ...row, isoWeek: weekWritten(week) })))
}

const closingsStanding = (groupId: string) =>
  and(eq(weekClosings.groupId, groupId), isNull(weekClosings.reopenedAt), isNull(weekClosings.removedAt))

/** Person-minutes that were written down for each load that was carried or spread. */
export async function minutesByDelivery(tx: Tx, groupId: string): Promise<Map<string, number>> {
  const rows = await tx
    .select({ deliveryId: labourEntries.deliveryId, minutes: sql<string>`sum(${labourEntries.personMinutes})` })
    .from(labourEntries)
    .where(
      and(eq(labourEntries.groupId, groupId), isNotNull(labourEntries.deliveryId), isNull(labourEntries.removedAt)),
    )
    .groupBy(labourEntries.deliveryId)
    .orderBy(asc(labourEntries.deliveryId))
  return new Map(rows.map((row) => [linkOf(row.deliveryId), Number(row.minutes)]))
}

export const saveContainer = (tx: Tx, author: Author, given: { id: string; name: string; tareG: number }) =>
  storeOnce(tx, containers, { ...author, ...given })

interface GardenWeek {
  readonly gardenId: string
  readonly isoWeek: IsoWeek
  readonly what: 'hours' | 'weights'
}

/** Closing twice closes once. */
export async function closeWeek(tx: Tx, author: Author, week: GardenWeek): Promise<void> {
  await closingsWaitedFor(tx, author.groupId)
  await tx
    .insert(weekClosings)
    .values({ ...author, ...week, id: newId() })
    .onConflictDoNothing()
}

export async function reopenWeek(tx: Tx, groupId: string, week: GardenWeek, reason: string): Promise<void> {
  await closingsWaitedFor(tx, groupId)
  await tx
    .update(weekClosings)
    .set({ reopenedAt: sql`now()`, reopenedReason: reason })
    .where(
      and(
        eq(weekClosings.groupId, groupId),
        eq(weekClosings.gardenId, week.gardenId),
        eq(weekClosings.isoWeek, week.isoWeek),
        eq(weekClosings.what, week.what),
        isNull(weekClosings.reopenedAt),
      ),
    )
}

/** A removal is a mark with its reason; the shares of what was shared go with it. */
export async function removeEntry(tx: Tx, groupId: string, entry: Entry, id: string, reason: string): Promise<void> {
  const table = ofGroup[entry]
  const mark = { removedAt: sql`now()`, removedReason: reason }
  await tx
    .update(table)
    .set({ ...mark, version: sql`${table.version} + 1` })
    .where(and(eq(table.groupId, groupId), eq(table.id, id), isNull(table.removedAt)))
  await tx
    .update(labourShares)
    .set(mark)
    .where(and(eq(labourShares.groupId, groupId), eq(labourShares.labourEntryId, id), isNull(labourShares.removedAt)))
  await tx
    .update(harvestShares)
    .set(mark)
    .where(and(eq(harvestShares.groupId, groupId), eq(harvestShares.harvestId, id), isNull(harvestShares.removedAt)))
}

/** The gardens that an entry touches, through its bed, its planting or its shares. */
export async function gardensTouched(tx: Tx, groupId: string, entry: Entry, id: string): Promise<string[]> {
  const row = entry === 'losses' ? undefined : await rowOf(tx, ofGroup[entry], groupId, id)
  if (!row) return []
  const at = row as { gardenId?: string | null; bedId?: string | null; plantingId: string | null }
  const plantingIds = [at.plantingId, ...(await sharesOf(tx, groupId, id)).map((share) => share.plantingId)]
  const planted = (await plantingsOf(tx, groupId)).filter((planting) => plantingIds.includes(planting.id))
  const bedIds = [at.bedId, ...planted.map((planting) => planting.bedId)]
  const beds = (await bedsOf(tx, groupId)).filter((bed) => bedIds.includes(bed.id))
  const over = await sharesOfWork(tx, groupId, id)
  return [linkOf(at.gardenId), ...beds.map((bed) => bed.gardenId), ...over.map((share) => share.gardenId)].filter(
    Boolean,
  )
}

/** The gardens that a stretch of work was done in, with the shares that it is divided by. */
export const sharesOfWork = (tx: Tx, groupId: string, labourEntryId: string) =>
  tx
    .select()
    .from(labourShares)
    .where(
      and(
        eq(labourShares.groupId, groupId),
        eq(labourShares.labourEntryId, labourEntryId),
        isNull(labourShares.removedAt),
      ),
    )

/** The plantings of a shared crate, or the shares that it was divided by. */
export const sharesOf = (tx: Tx, groupId: string, harvestId: string) =>
  tx
    .select()
    .from(harvestShares)
    .where(
      and(eq(harvestShares.groupId, groupId), eq(harvestShares.harvestId, harvestId), isNull(harvestShares.removedAt)),
    )

/** Who worked longer ago is not offered by name: ten years of hours are not read for it. */
const weeksOfPeople = 52

/**
 * The day each planting was last picked, by planting, in a week and those before it that count as lately; and who is
 * known to have worked within a year of it or since, to choose from.
 */
export async function lastUsed(tx: Tx, groupId: string, week: IsoWeek) {
  const picked = await tx
    .select({ plantingId: harvests.plantingId, day: sql<string>`max(${harvests.harvestedOn})::text` })
    .from(harvests)
    .where(
      and(
        eq(harvests.groupId, groupId),
        isNull(harvests.removedAt),
        between(harvests.isoWeek, weekAfter(week, -weeksOfLately), week),
        not(await sealedWeighings(tx, groupId)),
      ),
    )
    .groupBy(harvests.plantingId)
    .orderBy(asc(harvests.plantingId))
  const people = await tx
    .selectDistinct({ who: labourEntries.who })
    .from(labourEntries)
    .where(
      and(
        eq(labourEntries.groupId, groupId),
        gte(labourEntries.isoWeek, weekAfter(week, -weeksOfPeople)),
        isNull(labourEntries.removedAt),
        isNotNull(labourEntries.who),
      ),
    )
  return {
    picked: new Map(picked.flatMap((one) => (one.plantingId ? [[one.plantingId, one.day] as const] : []))),
    people: people.map((one) => asShown(one.who)).sort(),
  }
}
