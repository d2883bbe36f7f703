import { sql } from 'drizzle-orm'
import { check, date, integer, pgTable, primaryKey, text, uniqueIndex } from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { LimitedNutrient, LimitedSource } from './limits.ts'

/** What a rule of the place allows of one nutrient from one kind of source, on a m2 and year, from a day on. */
export const spreadingLimits = pgTable(
  'spreading_limits',
  {
    ...recordColumns(),
    source: text('kind_of_source').$type<LimitedSource>().notNull(),
    nutrient: text().$type<LimitedNutrient>().notNull(),
    /** Null where it says that from this day on there is none. */
    mostMgPerM2: integer('most_mg_per_m2'),
    rule: text().notNull(),
    fromDay: date('from_day').$type<IsoDate>().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('spreading_limits_one_a_day')
      .on(t.groupId, t.source, t.nutrient, t.fromDay)
      .where(sql`removed_at is null`),
    check('spreading_limits_source_is_known', sql`${t.source} in ('manure', 'compost', 'mulch', 'other', 'all')`),
    check('spreading_limits_nutrient_is_known', sql`${t.nutrient} in ('nitrogen', 'phosphorus')`),
    check('spreading_limits_amount_is_possible', sql`${t.mostMgPerM2} between 0 and 1000000`),
  ],
)
