import { and, asc, desc, eq, isNull } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { type Author, bedsOf, gardensOf } from '../gardens/gardens.queries.ts'
import { plantingsOf } from '../seasons/seasons.queries.ts'
import { notePlaces } from './ground.ts'
import { counts, fieldNotes, weedPatches } from './notes.table.ts'

export async function notePlacesOf(tx: Tx, groupId: string) {
  return notePlaces({ gardens: await gardensOf(tx, groupId), beds: await bedsOf(tx, groupId) })
}

/** What a count can be of: gardens, their beds, and what grows in those. */
export async function countedGroundOf(tx: Tx, groupId: string) {
  return { places: await notePlacesOf(tx, groupId), plantings: await plantingsOf(tx, groupId) }
}

/** Latest first. */
export const notesOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(fieldNotes)
    .where(and(eq(fieldNotes.groupId, groupId), isNull(fieldNotes.removedAt)))
    .orderBy(desc(fieldNotes.seenOn), desc(fieldNotes.id))

export const countsOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(counts)
    .where(and(eq(counts.groupId, groupId), isNull(counts.removedAt)))
    .orderBy(asc(counts.countedOn), asc(counts.id))

export const patchesOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(weedPatches)
    .where(and(eq(weedPatches.groupId, groupId), isNull(weedPatches.removedAt)))
    .orderBy(asc(weedPatches.seenOn), asc(weedPatches.id))

export type NoteRow = typeof fieldNotes.$inferSelect
export type CountRow = typeof counts.$inferSelect
export type PatchRow = typeof weedPatches.$inferSelect

interface At {
  readonly id: string
  readonly gardenId: string
  readonly bedId: string | null
}

type NewNote = At & Pick<NoteRow, 'seenOn' | 'kind' | 'words' | 'severity'>
type NewCount = At & Pick<CountRow, 'plantingId' | 'countedOn' | 'what' | 'method' | 'value' | 'outOf' | 'unit'>
type NewPatch = At & Pick<PatchRow, 'seenOn' | 'species' | 'areaCm2' | 'coverPermille' | 'shootsPerM2' | 'position'>

export async function saveNote(tx: Tx, author: Author, given: NewNote): Promise<void> {
  const target = [fieldNotes.groupId, fieldNotes.id]
  await tx
    .insert(fieldNotes)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target })
}

export async function saveCount(tx: Tx, author: Author, given: NewCount): Promise<void> {
  await tx
    .insert(counts)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target: [counts.groupId, counts.id] })
}

export async function savePatch(tx: Tx, author: Author, given: NewPatch): Promise<void> {
  const target = [weedPatches.groupId, weedPatches.id]
  await tx
    .insert(weedPatches)
    .values({ ...author, ...given })
    .onConflictDoNothing({ target })
}
