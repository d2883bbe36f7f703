import { sql } from 'drizzle-orm'
import { bigint, check, date, foreignKey, pgTable, primaryKey, text, uuid } from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import { beds, gardens, methods } from '../gardens/gardens.table.ts'
import { inputs } from '../inputs/inputs.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { seasons } from '../seasons/seasons.table.ts'

/** Thousandths of the unit that stands beside it. */
const thousandths = (name: string) => bigint(name, { mode: 'number' })

/**
 * What was decided, on which finding and what was expected: in words and, where a measure is named, as a figure in a
 * unit of its own, so that the record can say what happened. What it was about says `about_season_id` (null: the next
 * season that begins), methods, ground and input.
 */
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
    /** Of a page of Decide: what it asked, what it took for granted, and its address below the group's. */
    question: text(),
    assumptions: text(),
    address: text(),
    measure: text(),
    unit: text(),
    expectedThousandths: thousandths('expected_thousandths'),
    lowThousandths: thousandths('low_thousandths'),
    highThousandths: thousandths('high_thousandths'),
    aboutSeasonId: uuid('about_season_id'),
    methodId: uuid('method_id'),
    besideMethodId: uuid('beside_method_id'),
    gardenId: uuid('garden_id'),
    bedId: uuid('bed_id'),
    inputId: uuid('input_id'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'decisions_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'decisions_about_season',
      columns: [t.groupId, t.aboutSeasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'decisions_method',
      columns: [t.groupId, t.methodId],
      foreignColumns: [methods.groupId, methods.id],
    }),
    foreignKey({
      name: 'decisions_beside_method',
      columns: [t.groupId, t.besideMethodId],
      foreignColumns: [methods.groupId, methods.id],
    }),
    foreignKey({
      name: 'decisions_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({ name: 'decisions_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    foreignKey({
      name: 'decisions_input',
      columns: [t.groupId, t.inputId],
      foreignColumns: [inputs.groupId, inputs.id],
    }),
    check(
      'decisions_figure_is_whole',
      sql`num_nonnulls(${t.measure}, ${t.unit}, ${t.expectedThousandths}) in (0, 3)
        and num_nonnulls(${t.lowThousandths}, ${t.highThousandths}) in (0, 2)
        and (${t.measure} is not null or num_nonnulls(${t.lowThousandths}, ${t.aboutSeasonId}, ${t.methodId},
          ${t.besideMethodId}, ${t.gardenId}, ${t.bedId}, ${t.inputId}) = 0)`,
    ),
    check(
      'decisions_range_is_in_order',
      sql`${t.lowThousandths} <= ${t.expectedThousandths} and ${t.expectedThousandths} <= ${t.highThousandths}`,
    ),
    check('decisions_methods_are_two', sql`${t.methodId} <> ${t.besideMethodId}`),
    check('decisions_ground_is_one', sql`num_nonnulls(${t.gardenId}, ${t.bedId}) < 2`),
  ],
)
