import { sql } from 'drizzle-orm'
import { check, pgTable, primaryKey, text } from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import type { Role } from './role.ts'

/** Whoever was in a group where it came from: a keeper hands over an invitation, and until then they are nobody. */
export const awaitedPeople = pgTable(
  'awaited_people',
  {
    ...recordColumns(),
    name: text().notNull(),
    role: text().$type<Role>().notNull(),
    /** Where whoever moved the group took addresses along. */
    email: text(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    check('awaited_people_role_is_known', sql`${t.role} in ('keeper', 'recorder', 'reader')`),
  ],
)
