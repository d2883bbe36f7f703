import { markRemoved, rowOf } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { nth } from '../lookups/nth.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { seedOf } from '../statistics/seed-of.ts'
import { drawLabels } from './crate-label.ts'
import { crateLabels } from './diary.table.ts'
import { labelsOf } from './sealed.queries.ts'

/**
 * Draws a label for each of these plantings that has none yet in that week: the same form sent twice draws nothing
 * more.
 */
export async function makeLabels(
  tx: Tx,
  author: Author,
  given: { id: string; isoWeek: IsoWeek; plantingIds: readonly string[] },
): Promise<void> {
  const there = await labelsOf(tx, author.groupId, given.isoWeek)
  const labelled = new Set(there.map((one) => one.plantingId))
  const without = [...new Set(given.plantingIds)].filter((id) => !labelled.has(id)).sort()
  const seed = seedOf(given.id)
  const labels = drawLabels(without.length, new Set(there.map((one) => one.label)), chanceFrom(seed))
  const rows = labels.map((label, i) => ({ label, plantingId: nth(without, i) }))
  if (rows.length === 0) return
  await tx
    .insert(crateLabels)
    .values(rows.map((row) => ({ ...author, ...row, id: newId(), isoWeek: given.isoWeek, seed: String(seed) })))
    .onConflictDoNothing()
}

/** Takes a label off: its planting is weighed by name again. False where it is gone already or of another week. */
export async function takeLabelOff(
  tx: Tx,
  groupId: string,
  isoWeek: IsoWeek,
  given: { label: string; reason: string },
) {
  const row = await rowOf(tx, crateLabels, groupId, given.label)
  return row?.isoWeek === isoWeek && (await markRemoved(tx, crateLabels, row, given.reason))
}
