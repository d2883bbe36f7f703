import { sql } from 'drizzle-orm'
import { check, foreignKey, index, integer, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core'
import { bytea, recordColumns } from '../db/record-columns.table.ts'
import { fieldNotes } from './notes.table.ts'

/** What is known of a picture; its bytes lie apart, in `picture_bytes`. */
export const pictures = pgTable(
  'pictures',
  {
    ...recordColumns(),
    noteId: uuid('note_id').notNull(),
    caption: text(),
    width: integer().notNull(),
    height: integer().notNull(),
    byteCount: integer('byte_count').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    index('pictures_by_note').on(t.groupId, t.noteId),
    foreignKey({
      name: 'pictures_note',
      columns: [t.groupId, t.noteId],
      foreignColumns: [fieldNotes.groupId, fieldNotes.id],
    }),
    check('pictures_have_a_size', sql`${t.width} > 0 and ${t.height} > 0 and ${t.byteCount} > 0`),
  ],
)

/**
 * The bytes of a picture, written once. They lie in the database, so that one backup holds everything and no second
 * service has to be run; and in a table of their own, since the history copies each row that is written and would hold
 * them twice.
 */
export const pictureBytes = pgTable(
  'picture_bytes',
  { groupId: uuid('group_id').notNull(), id: uuid().notNull(), jpeg: bytea().notNull() },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'picture_bytes_picture',
      columns: [t.groupId, t.id],
      foreignColumns: [pictures.groupId, pictures.id],
    }),
  ],
)
