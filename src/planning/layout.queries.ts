import { and, eq, inArray, isNull } from 'drizzle-orm'
import { amend, rowHeld } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { type Author, bedsOf } from '../gardens/gardens.queries.ts'
import { beds } from '../gardens/gardens.table.ts'
import { assignmentsOf } from '../seasons/seasons.queries.ts'
import { methodAssignments, seasons } from '../seasons/seasons.table.ts'

interface NewLaid {
  readonly gardenId: string
  readonly bedId: string | null
  readonly methodId: string
  readonly how: string
  readonly randomSeed: string | null
  readonly phase: string
  readonly yearOfMethod: number
}

/**
 * Lays a season's methods anew on the gardens named: what lay there is marked as removed and kept. Nothing is written where the
 * same lies there already, so that a form sent twice is kept once. Two who lay one season at once wait for each other.
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
 * Takes a part of a bed for a new one beside it, under the same method in every season in which the bed had one of its own.
 * Refused where the part is no less than the bed; the database refuses where what stands in it, or stood there, would no longer
 * fit. Two who part one bed at once wait for each other, and a form sent twice parts once.
 */
export async function partBed(tx: Tx, author: Author, given: Parting): Promise<'parted' | 'no bed' | 'too large'> {
  const bed = await rowHeld(tx, beds, author.groupId, given.bedId)
  if (!bed) return 'no bed'
  const all = await bedsOf(tx, author.groupId)
  if (all.some((one) => one.id === given.id)) return 'parted'
  const left = bed.areaCm2 - given.areaCm2
  if (left <= 0) return 'too large'
  const position = Math.max(...all.filter((one) => one.gardenId === bed.gardenId).map((one) => one.position)) + 1
  await amend(tx, beds, { groupId: author.groupId, id: bed.id, version: bed.version }, { areaCm2: left })
  const { gardenId, blockId } = bed
  const { id, name, areaCm2 } = given
  await tx.insert(beds).values({ ...author, id, name, areaCm2, gardenId, blockId, position })
  await layAlike(tx, author, bed.id, id)
  return 'parted'
}

/** The new bed lies under what the old one lay under, in closed seasons too: its ground was a part of it then. */
async function layAlike(tx: Tx, author: Author, oldId: string, bedId: string): Promise<void> {
  const laid = (await assignmentsOf(tx, author.groupId)).filter((one) => one.bedId === oldId)
  if (laid.length === 0) return
  await tx.insert(methodAssignments).values(
    laid.map(({ seasonId, gardenId, methodId, phase, yearOfMethod, how, randomSeed }) => ({
      ...{ ...author, id: newId(), seasonId, gardenId, bedId, methodId, phase, yearOfMethod, how, randomSeed },
    })),
  )
}
