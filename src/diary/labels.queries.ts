import { and, asc, eq, isNull } from 'drizzle-orm'
import { markRemoved, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type Author, bedsOf } from '../gardens/gardens.queries.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { seedOf } from '../statistics/seed-of.ts'
import { drawLabels } from './crate-label.ts'
import { crateLabels } from './diary.table.ts'
import { closingsOf } from './week.queries.ts'

const labelsOf = (tx: Tx, groupId: string, isoWeek: string) =>
  tx
    .select()
    .from(crateLabels)
    .where(and(eq(crateLabels.groupId, groupId), eq(crateLabels.isoWeek, isoWeek), isNull(crateLabels.removedAt)))
    .orderBy(asc(crateLabels.label))

/** The labels of a week with their gardens: sealed until the weights of that garden are closed. */
export async function labelsIn(tx: Tx, groupId: string, isoWeek: string) {
  const labels = await labelsOf(tx, groupId, isoWeek)
  if (labels.length === 0) return []
  const closed = new Set(
    (await closingsOf(tx, groupId, isoWeek)).filter((one) => one.what === 'weights').map((one) => one.gardenId),
  )
  const gardenOf = new Map((await bedsOf(tx, groupId)).map((bed) => [bed.id, bed.gardenId]))
  const plantings = new Map((await plantingsOf(tx, groupId)).map((one) => [one.id, gardenOf.get(one.bedId) ?? '']))
  return labels.map(({ id, plantingId, label }) => {
    const gardenId = plantings.get(plantingId) ?? ''
    return { id, plantingId, label, gardenId, sealed: !closed.has(gardenId) }
  })
}

/** Sealed labels by planting. */
export async function sealedIn(tx: Tx, groupId: string, isoWeek: string): Promise<Map<string, string>> {
  const labels = await labelsIn(tx, groupId, isoWeek)
  return new Map(labels.filter((one) => one.sealed).map((one) => [one.plantingId, one.label]))
}

/** Draws a label for each of these plantings that has none yet in that week: the same form sent twice draws nothing more. */
export async function makeLabels(
  tx: Tx,
  author: Author,
  given: { id: string; isoWeek: string; plantingIds: readonly string[] },
): Promise<void> {
  const there = await labelsOf(tx, author.groupId, given.isoWeek)
  const labelled = new Set(there.map((one) => one.plantingId))
  const without = [...new Set(given.plantingIds)].filter((id) => !labelled.has(id)).sort()
  const seed = seedOf(given.id)
  const labels = drawLabels(without.length, new Set(there.map((one) => one.label)), chanceFrom(seed))
  const rows = labels.map((label, i) => ({ label, plantingId: without[i] ?? '' }))
  if (rows.length === 0) return
  await tx
    .insert(crateLabels)
    .values(rows.map((row) => ({ ...author, ...row, id: newId(), isoWeek: given.isoWeek, seed: String(seed) })))
    .onConflictDoNothing()
}

/** Takes a label off: its planting is weighed by name again. False where it is gone already or of another week. */
export async function takeLabelOff(tx: Tx, groupId: string, isoWeek: string, given: { label: string; reason: string }) {
  const row = await rowOf(tx, crateLabels, groupId, given.label)
  return row?.isoWeek === isoWeek && (await markRemoved(tx, crateLabels, row, given.reason))
}
