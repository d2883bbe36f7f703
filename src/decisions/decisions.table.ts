import { date, foreignKey, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { seasons } from '../seasons/seasons.table.ts'

export const decisions = pgTable(
  'decisions',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    decidedOn: date('decided_on').$type<IsoDate>().notNull(),
    decision: text().notNull(),
    finding: text().notNull(),
    expected: text().notNull(),
    lookAgainOn: date('look_again_on').$type<IsoDate>(),
    happened: text(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'decisions_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
  ],
)
