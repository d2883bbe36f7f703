import { integer, json, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core'
import { groups } from '../accounts/accounts.table.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'

/** Entries; of them from paper, late, and both. */
type Counts = readonly [entries: number, paper: number, late: number, paperAndLate: number]

/** As they are written down: short, for they are read whole. */
export interface SumsWritten {
  readonly weighed: readonly (readonly [plantingId: string, goodG: number, badG: number, weeks: string, ...Counts])[]
  readonly hours: readonly (readonly [
    gardenId: string | null,
    bedId: string | null,
    plantingId: string | null,
    isoWeek: IsoWeek,
    task: string,
    who: string | null,
    phase: string | null,
    minutes: readonly (readonly [minutes: number, times: number])[],
    ...Counts,
  ])[]
}

/**
 * What was weighed and worked in closed seasons, summed once (`kept-sums.queries.ts`). The database takes a row away as
 * soon as anything of its season is written, and lets nobody write one but by its own function; it is no record and has
 * no history.
 */
export const keptSums = pgTable(
  'season_sums',
  {
    groupId: uuid('group_id')
      .notNull()
      .references(() => groups.id),
    seasonId: uuid('season_id').notNull(),
    /** How the sums are written: those of another release are made anew. */
    shape: integer().notNull(),
    /** By whose days they say what was written late. */
    timeZone: text('time_zone').notNull(),
    sums: json().$type<SumsWritten>().notNull(),
  },
  (t) => [primaryKey({ columns: [t.groupId, t.seasonId] })],
)
