import { sql } from 'drizzle-orm'
import { bigint, check, index, integer, json, pgTable, primaryKey, text, timestamp, uuid } from 'drizzle-orm/pg-core'
import { groups } from '../accounts/accounts.table.ts'
import { bytea } from '../db/record-columns.table.ts'
import type { FoundKept } from './found-kept.ts'
import type { KindOfRows } from './row-kind.ts'

/**
 * Files of rows that are read and wait to be confirmed, for an hour after what was last done with them. They stand in
 * the database, so that another process than the one that took a file can go on with it; they are no record yet and
 * have no history.
 */
export const waitingFiles = pgTable(
  'waiting_files',
  {
    groupId: uuid('group_id')
      .notNull()
      .references(() => groups.id),
    id: uuid().notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
    personId: uuid('person_id'),
    kind: text().$type<KindOfRows>().notNull(),
    /** The locale that the file writes its numbers in. */
    numbersIn: text('numbers_in').notNull(),
    /** "reading" and "storing" are work under way. */
    state: text().$type<'reading' | 'read' | 'storing' | 'stored' | 'failed'>().notNull(),
    /** Of the work that is or was under way: only it may write down what became of the file. */
    run: uuid().notNull(),
    /** When something was last done with it; a process that works on it says so every second. */
    workedAt: timestamp('worked_at', { withTimezone: true }).notNull().defaultNow(),
    lines: integer().notNull().default(0),
    /** Null until it was read. */
    found: json().$type<FoundKept>(),
    /** 1 where the record changed between the check and the storing. */
    changed: integer().notNull().default(0),
    /** Of its rows in the history, once they are stored. */
    first: bigint({ mode: 'number' }),
    /** Packed; empty once it is stored. */
    contents: bytea().notNull(),
    /** The rows that its lines become, packed, where all of them were right; gone once they are stored. */
    rightRows: bytea('right_rows'),
    /** What they were read against: as long as all of it stands they need not be read anew. */
    readAgainst: text('read_against'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    index('waiting_files_by_work').on(t.workedAt),
    check('waiting_files_state_is_known', sql`${t.state} in ('reading', 'read', 'storing', 'stored', 'failed')`),
    check('waiting_files_changed_or_not', sql`${t.changed} in (0, 1)`),
  ],
)
