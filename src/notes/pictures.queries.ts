import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { fieldNotes } from './notes.table.ts'
import { pictureBytes, pictures } from './pictures.table.ts'

/** What is known of the group's pictures, oldest first; without their bytes. */
export const picturesOf = (tx: Tx, groupId: string) =>
  tx
    .select()
    .from(pictures)
    .where(and(eq(pictures.groupId, groupId), isNull(pictures.removedAt)))
    .orderBy(asc(pictures.id))

/** Bytes of all pictures that are kept, of the group and of the whole installation: removed ones are kept too. */
export async function bytesKept(tx: Tx, groupId: string): Promise<{ ofGroup: number; ofAll: number }> {
  const [found] = await tx
    .select({
      ofGroup: sql<string>`coalesce(sum(${pictures.byteCount}), 0)`,
      ofAll: sql<string>`public.picture_bytes_kept()`,
    })
    .from(pictures)
    .where(eq(pictures.groupId, groupId))
  return { ofGroup: Number(found?.ofGroup), ofAll: Number(found?.ofAll) }
}

interface NewPicture {
  readonly id: string
  readonly noteId: string
  readonly caption: string | null
  readonly jpeg: Uint8Array
  readonly width: number
  readonly height: number
}

/** False where there is no such note. A form sent twice is stored once. */
export async function savePicture(tx: Tx, author: Author, { jpeg, ...given }: NewPicture): Promise<boolean> {
  const here = and(eq(fieldNotes.groupId, author.groupId), eq(fieldNotes.id, given.noteId))
  const [note] = await tx
    .select({ id: fieldNotes.id })
    .from(fieldNotes)
    .where(and(here, isNull(fieldNotes.removedAt)))
  if (!note) return false
  const made = await tx
    .insert(pictures)
    .values({ ...author, ...given, byteCount: jpeg.length })
    .onConflictDoNothing({ target: [pictures.groupId, pictures.id] })
    .returning({ id: pictures.id })
  if (made.length === 1) await tx.insert(pictureBytes).values({ groupId: author.groupId, id: given.id, jpeg })
  return true
}

/** The bytes of a picture that stands, of a note that stands; undefined otherwise. */
export async function jpegOf(tx: Tx, groupId: string, id: string): Promise<Uint8Array | undefined> {
  const [found] = await tx
    .select({ jpeg: pictureBytes.jpeg })
    .from(pictures)
    .innerJoin(pictureBytes, and(eq(pictureBytes.groupId, groupId), eq(pictureBytes.id, pictures.id)))
    .innerJoin(fieldNotes, and(eq(fieldNotes.groupId, groupId), eq(fieldNotes.id, pictures.noteId)))
    .where(
      and(eq(pictures.groupId, groupId), eq(pictures.id, id), isNull(pictures.removedAt), isNull(fieldNotes.removedAt)),
    )
  return found?.jpeg
}
