import { and, eq, inArray, isNull } from 'drizzle-orm'
import { amend, rowHeld } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type Author, bedsOf, blocksOf, gardensOf, saveBlock } from '../gardens/gardens.queries.ts'
import { beds } from '../gardens/gardens.table.ts'
import { type GroundRefused, groundChange } from '../gardens/ground-change.ts'
import { asShown, textIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { groundOf, layPartAlike, saveGround } from '../seasons/ground.queries.ts'
import { assignmentsOf } from '../seasons/seasons.queries.ts'
import { methodAssignments, seasons } from '../seasons/seasons.table.ts'
import type { AssignmentRow } from './laying.ts'

type NewLaid = Omit<AssignmentRow, 'seasonId'>

/**
 * Lays a season's methods anew on the gardens named: what lay there is marked as removed and kept. Nothing is written
 * where the same lies there already, so that a form sent twice is kept once. Two who lay one season at once wait for
 * each other.
 */
export async function saveLayout(tx: Tx, author: Author, seasonId: string, laid: readonly NewLaid[]): Promise<void> {
  await rowHeld(tx, seasons, author.groupId, seasonId)
  const gardenIds = [...new Set(laid.map((one) => one.gardenId))]
  const standing = (await assignmentsOf(tx, author.groupId)).filter(
    (one) => one.seasonId === seasonId && gardenIds.includes(one.gardenId),
  )
  const inWords = (one: NewLaid) =>
    [one.gardenId, one.bedId, one.methodId, one.how, one.randomSeed, one.phase, one.yearOfMethod].join(' ')
  const [now, wanted] = [standing.map(inWords).sort(), laid.map(inWords).sort()]
  if (now.join('\n') === wanted.join('\n')) return
  if (standing.length > 0) {
    await tx
      .update(methodAssignments)
      .set({ removedAt: new Date(), removedReason: 'replaced' })
      .where(
        and(
          eq(methodAssignments.groupId, author.groupId),
          inArray(
            methodAssignments.id,
            standing.map((one) => one.id),
          ),
          isNull(methodAssignments.removedAt),
        ),
      )
  }
  await tx.insert(methodAssignments).values(laid.map((one) => ({ ...author, ...one, id: newId(), seasonId })))
}

interface Parting {
  readonly id: string
  readonly bedId: string
  readonly name: string
  readonly areaCm2: number
}

/**
 * Takes a part of a bed for a new one beside it from the first day of a season on, under the same method. Earlier
 * seasons keep the bed as it was. Two who part one bed at once wait for each other, and a form sent twice parts once.
 */
export async function partBed(
  tx: Tx,
  author: Author,
  given: Parting & { readonly fromDay: IsoDate },
): Promise<'parted' | 'no bed' | GroundRefused> {
  const bed = await rowHeld(tx, beds, author.groupId, given.bedId)
  const known = bed && (await groundOf(tx, author.groupId, bed.gardenId))
  if (!bed || !known) return 'no bed'
  if (known.beds.some((one) => one.id === given.id)) return 'parted'
  const rows = groundChange(known.beds, { act: 'parted', ...given })
  if (rows.kind === 'refused') return rows
  await saveGround(tx, author, { id: given.id, gardenId: bed.gardenId }, rows)
  await layPartAlike(tx, author, { id: given.id, of: bed.id, fromDay: given.fromDay })
  return 'parted'
}

/**
 * The block of each bed that is named, by the block's name: the one of that name on the bed's site, or a new one. How
 * many beds lie in another block than before.
 */
export async function saveBlocks(tx: Tx, author: Author, named: ReadonlyMap<string, string | null>): Promise<number> {
  const siteOf = new Map((await gardensOf(tx, author.groupId)).map((one) => [one.id, one.siteId]))
  const there = new Map((await blocksOf(tx, author.groupId)).map((one) => [blockKey(one.siteId, one.name), one.id]))
  let moved = 0
  for (const bed of await bedsOf(tx, author.groupId)) {
    const name = named.get(bed.id)
    if (name === undefined) continue
    const siteId = textIn(siteOf, bed.gardenId)
    const key = blockKey(siteId, asShown(name))
    if (name !== null && !there.has(key)) {
      const id = newId()
      await saveBlock(tx, author, { id, siteId, name, notes: null })
      there.set(key, id)
    }
    const blockId = name === null ? null : (there.get(key) ?? null)
    if (blockId === bed.blockId) continue
    await amend(tx, beds, bed, { blockId })
    moved += 1
  }
  return moved
}

const blockKey = (siteId: string, name: string) => `${siteId} ${name.toLowerCase()}`
