import { sql } from 'drizzle-orm'
import { check, date, foreignKey, integer, jsonb, numeric, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import { beds, gardens, sites } from '../gardens/gardens.table.ts'
import type { IsoDate } from '../quantities/dates.ts'

/** One value of one sample. Values by different extractants are different quantities and are never joined. */
export const soilTests = pgTable(
  'soil_tests',
  {
    ...recordColumns(),
    siteId: uuid('site_id').notNull(),
    gardenId: uuid('garden_id'),
    bedId: uuid('bed_id'),
    sampledOn: date('sampled_on').$type<IsoDate>().notNull(),
    laboratory: text().notNull(),
    extractant: text(),
    analyte: text().notNull(),
    /** As the laboratory printed it: a decimal, not a float. */
    value: numeric().notNull(),
    /** Where the laboratory gave a limit ("<5"): on which side of the printed value it lies; never used as a number. */
    beyond: text(),
    /** The laboratory's own standard error as it printed it: in the unit of the value, or per cent of it. */
    standardError: numeric('standard_error'),
    standardErrorOf: text('standard_error_of'),
    unit: text().notNull(),
    depthMm: integer('depth_mm'),
    bands: jsonb(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({ name: 'soil_tests_site', columns: [t.groupId, t.siteId], foreignColumns: [sites.groupId, sites.id] }),
    foreignKey({
      name: 'soil_tests_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    check('soil_tests_beyond_is_known', sql`${t.beyond} in ('below', 'above')`),
    check(
      'soil_tests_error_is_possible',
      sql`(${t.standardError} is null) = (${t.standardErrorOf} is null) and ${t.standardError} > 0
        and (${t.standardErrorOf} = 'unit' or ${t.standardErrorOf} = 'percent' and ${t.standardError} <= 100)`,
    ),
    foreignKey({ name: 'soil_tests_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
  ],
)
