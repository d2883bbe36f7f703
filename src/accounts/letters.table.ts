import { index, pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core'
import { people } from './accounts.table.ts'

/** Letters to a person where none can be sent: shown when they sign in, until they say that they have read them. */
export const waitingLetters = pgTable(
  'waiting_letters',
  {
    id: uuid().primaryKey(),
    personId: uuid('person_id')
      .notNull()
      .references(() => people.id),
    subject: text().notNull(),
    text: text().notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
  },
  (t) => [index('waiting_letters_by_person').on(t.personId, t.createdAt)],
)
