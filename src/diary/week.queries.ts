import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type Author, gardensOf } from '../gardens/gardens.queries.ts'
import {
  containers,
  harvestShares,
  harvests,
  labourEntries,
  labourShares,
  losses,
  weekClosings,
} from './diary.table.ts'

const ofGroup = { labour: labourEntries, harvests, losses }
export type Entry = keyof typeof ofGroup

export async function entriesOfWeek(tx: Tx, groupId: string, isoWeek: string) {
  const inWeek = <T extends typeof labourEntries | typeof harvests | typeof losses>(table: T) =>
    and(eq(table.groupId, groupId), eq(table.isoWeek, isoWeek), isNull(table.removedAt))
  return {
    labour: await tx.select().from(labourEntries).where(inWeek(labourEntries)).orderBy(asc(labourEntries.id)),
    harvests: await tx.select().from(harvests).where(inWeek(harvests)).orderBy(asc(harvests.id)),
    losses: await tx.select().from(losses).where(inWeek(losses)).orderBy(asc(losses.id)),
  }
}

export const containersOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(containers)
    .where(and(eq(containers.groupId, groupId), isNull(containers.removedAt)))
    .orderBy(asc(containers.id))

export const closingsOf = (tx: Tx, groupId: string, isoWeek: string) =>
  tx
    .select()
    .from(weekClosings)
    .where(and(eq(weekClosings.groupId, groupId), eq(weekClosings.isoWeek, isoWeek), isNull(weekClosings.reopenedAt)))
    .orderBy(asc(weekClosings.id))

export type NewLabour = Omit<typeof labourEntries.$inferInsert, keyof Author>

/** Hours at a garden, or shared over all gardens by the area of their beds. A form sent twice is stored once. */
export async function saveLabour(tx: Tx, author: Author, given: NewLabour): Promise<void> {
  const made = await tx
    .insert(labourEntries)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [labourEntries.groupId, labourEntries.id] })
    .returning({ id: labourEntries.id })
  if (made.length === 0 || !given.shareRule) return
  const over = await gardensOf(tx, author.groupId)
  await tx
    .insert(labourShares)
    .values(over.map((garden) => ({ ...author, id: newId(), labourEntryId: given.id, gardenId: garden.id })))
}

export type NewHarvest = Omit<typeof harvests.$inferInsert, keyof Author>

export async function saveHarvest(tx: Tx, author: Author, given: NewHarvest, from: readonly string[]): Promise<void> {
  const made = await tx
    .insert(harvests)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [harvests.groupId, harvests.id] })
    .returning({ id: harvests.id })
  if (made.length === 0 || from.length === 0) return
  await tx
    .insert(harvestShares)
    .values(from.map((plantingId) => ({ ...author, id: newId(), harvestId: given.id, plantingId })))
}

export async function saveLoss(tx: Tx, author: Author, given: Omit<typeof losses.$inferInsert, keyof Author>) {
  await tx
    .insert(losses)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [losses.groupId, losses.id] })
}

export async function saveContainer(tx: Tx, author: Author, given: { id: string; name: string; tareG: number }) {
  await tx
    .insert(containers)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [containers.groupId, containers.id] })
}

export interface GardenWeek {
  readonly gardenId: string
  readonly isoWeek: string
  readonly what: 'hours' | 'weights'
}

/** Closing twice closes once. */
export async function closeWeek(tx: Tx, author: Author, week: GardenWeek): Promise<void> {
  await tx
    .insert(weekClosings)
    .values({ ...author, ...week, id: newId() })
    .onConflictDoNothing()
}

export async function reopenWeek(tx: Tx, groupId: string, week: GardenWeek, reason: string): Promise<void> {
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

/** A removal is a mark with its reason. */
export async function removeEntry(tx: Tx, groupId: string, entry: Entry, id: string, reason: string): Promise<void> {
  const table = ofGroup[entry]
  await tx
    .update(table)
    .set({ removedAt: sql`now()`, removedReason: reason })
    .where(and(eq(table.groupId, groupId), eq(table.id, id), isNull(table.removedAt)))
}
