import { and, asc, eq, isNull } from 'drizzle-orm'
import { amend } from '../db/amend.ts'
import type { Tx } from '../db/database.ts'
import { idAfter, newId } from '../db/new-id.ts'
import { type Author, bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { bedAreas, beds, gardenAreas } from '../gardens/gardens.table.ts'
import type { GroundRows } from '../gardens/ground-change.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { methodAssignments, seasons } from './seasons.table.ts'

/**
 * A garden, its beds, and each change of their areas with its row, by their days; undefined where it is not of this
 * group.
 */
export async function groundOf(tx: Tx, groupId: string, gardenId: string) {
  const garden = (await gardensOf(tx, groupId)).find((one) => one.id === gardenId)
  if (!garden) return undefined
  const own = (await bedsOf(tx, groupId)).filter((bed) => bed.gardenId === gardenId)
  const ofBeds = await tx
    .select()
    .from(bedAreas)
    .where(and(eq(bedAreas.groupId, groupId), isNull(bedAreas.removedAt)))
    .orderBy(asc(bedAreas.fromDay), asc(bedAreas.id))
  const ofGarden = await tx
    .select()
    .from(gardenAreas)
    .where(and(eq(gardenAreas.groupId, groupId), eq(gardenAreas.gardenId, gardenId), isNull(gardenAreas.removedAt)))
    .orderBy(asc(gardenAreas.fromDay), asc(gardenAreas.id))
  const here = new Set(own.map((bed) => bed.id))
  return { garden, beds: own, ofBeds: ofBeds.filter((one) => here.has(one.bedId)), ofGarden }
}

/**
 * Smaller areas are written before the beds that take their ground. The form's id is that of the first row: sent twice
 * it adds nothing.
 */
export async function saveGround(tx: Tx, author: Author, at: { id: string; gardenId: string }, rows: GroundRows) {
  const { id, gardenId } = at
  for (const [i, one] of rows.areas.entries()) {
    const there = await changeOn(tx, author.groupId, one)
    if (there) await amend(tx, bedAreas, there, { areaCm2: one.areaCm2 })
    else {
      await tx
        .insert(bedAreas)
        .values({ ...author, ...one, id: i === 0 ? id : idAfter(id, i) })
        .onConflictDoNothing({ target: [bedAreas.groupId, bedAreas.id] })
    }
  }
  if (rows.bed === null) return
  const position = (await bedsOf(tx, author.groupId)).filter((bed) => bed.gardenId === gardenId).length
  await tx
    .insert(beds)
    .values({ ...author, ...rows.bed, id, gardenId, position })
    .onConflictDoNothing({ target: [beds.groupId, beds.id] })
}

/**
 * What is written down already of a bed's area from a day on: a bed that is parted again on it becomes smaller still.
 */
async function changeOn(tx: Tx, groupId: string, { bedId, fromDay }: { bedId: string; fromDay: IsoDate }) {
  const own = and(eq(bedAreas.groupId, groupId), eq(bedAreas.bedId, bedId), eq(bedAreas.fromDay, fromDay))
  const [found] = await tx
    .select()
    .from(bedAreas)
    .where(and(own, isNull(bedAreas.removedAt)))
  return found
}

/** A part of a bed lies under what the bed has of its own, in the seasons that end on its first day or after it. */
export async function layPartAlike(tx: Tx, author: Author, part: { id: string; of: string; fromDay: IsoDate }) {
  const laid = await tx
    .select({ assignment: methodAssignments, endsOn: seasons.endsOn })
    .from(methodAssignments)
    .innerJoin(seasons, and(eq(seasons.groupId, author.groupId), eq(seasons.id, methodAssignments.seasonId)))
    .where(
      and(
        eq(methodAssignments.groupId, author.groupId),
        eq(methodAssignments.bedId, part.of),
        isNull(methodAssignments.removedAt),
      ),
    )
    .orderBy(asc(methodAssignments.id))
  const later = laid.filter((one) => one.endsOn >= part.fromDay)
  if (later.length === 0) return
  await tx.insert(methodAssignments).values(
    later.map(({ assignment }) => {
      const { seasonId, gardenId, methodId, phase, yearOfMethod, how, randomSeed } = assignment
      const bed = { ...author, id: newId(), bedId: part.id }
      return { ...bed, seasonId, gardenId, methodId, phase, yearOfMethod, how, randomSeed }
    }),
  )
}

export async function saveGross(
  tx: Tx,
  author: Author,
  given: { id: string; gardenId: string; fromDay: IsoDate; grossAreaCm2: number },
) {
  await tx
    .insert(gardenAreas)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [gardenAreas.groupId, gardenAreas.id] })
}
