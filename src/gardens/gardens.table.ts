import { sql } from 'drizzle-orm'
import { check, date, foreignKey, integer, pgTable, primaryKey, text, uniqueIndex, uuid } from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import type { IsoDate } from '../quantities/dates.ts'

export const sites = pgTable(
  'sites',
  { ...recordColumns(), name: text().notNull(), soil: text(), exposure: text(), notes: text() },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('sites_name_is_taken').on(t.groupId, t.name).where(sql`removed_at is null`),
  ],
)

export const blocks = pgTable(
  'blocks',
  { ...recordColumns(), siteId: uuid('site_id').notNull(), name: text().notNull(), notes: text() },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({ name: 'blocks_site', columns: [t.groupId, t.siteId], foreignColumns: [sites.groupId, sites.id] }),
  ],
)

export const methods = pgTable(
  'methods',
  {
    ...recordColumns(),
    name: text().notNull(),
    workingRules: text('working_rules').notNull().default(''),
    /** Over how many seasons the group spreads the work of establishing; null where it has not said. */
    establishingSeasons: integer('establishing_seasons'),
    colourIndex: integer('colour_index').notNull().default(0),
    position: integer().notNull().default(0),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('methods_name_is_taken').on(t.groupId, t.name).where(sql`removed_at is null`),
    check('methods_establishing_is_spread', sql`${t.establishingSeasons} between 1 and 100`),
  ],
)

export const gardens = pgTable(
  'gardens',
  {
    ...recordColumns(),
    siteId: uuid('site_id').notNull(),
    name: text().notNull(),
    /** As it was first; what it became after stands in `garden_areas`. */
    grossAreaCm2: integer('gross_area_cm2').notNull(),
    exposure: text(),
    soil: text(),
    groundBefore: text('ground_before'),
    waterDistanceMm: integer('water_distance_mm'),
    compostDistanceMm: integer('compost_distance_mm'),
    /** The order in which the recorder walks the gardens. */
    position: integer().notNull().default(0),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('gardens_name_is_taken').on(t.groupId, t.name).where(sql`removed_at is null`),
    foreignKey({ name: 'gardens_site', columns: [t.groupId, t.siteId], foreignColumns: [sites.groupId, sites.id] }),
    check('gardens_gross_area_is_positive', sql`${t.grossAreaCm2} > 0`),
  ],
)

export const beds = pgTable(
  'beds',
  {
    ...recordColumns(),
    gardenId: uuid('garden_id').notNull(),
    blockId: uuid('block_id'),
    name: text().notNull(),
    /** As it was when it began; what it became after stands in `bed_areas`. */
    areaCm2: integer('area_cm2').notNull(),
    /** The day on which it began; null for a bed that was there from the first. */
    thereSince: date('there_since').$type<IsoDate>(),
    position: integer().notNull().default(0),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('beds_name_is_taken').on(t.groupId, t.gardenId, t.name).where(sql`removed_at is null`),
    foreignKey({
      name: 'beds_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({ name: 'beds_block', columns: [t.groupId, t.blockId], foreignColumns: [blocks.groupId, blocks.id] }),
    check('beds_area_is_positive', sql`${t.areaCm2} > 0`),
  ],
)

/** The area of a bed from a day on, until the next such day; 0 is a bed given up. */
export const bedAreas = pgTable(
  'bed_areas',
  {
    ...recordColumns(),
    bedId: uuid('bed_id').notNull(),
    fromDay: date('from_day').$type<IsoDate>().notNull(),
    areaCm2: integer('area_cm2').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('bed_areas_one_a_day').on(t.groupId, t.bedId, t.fromDay).where(sql`removed_at is null`),
    foreignKey({ name: 'bed_areas_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    check('bed_areas_area_is_not_negative', sql`${t.areaCm2} >= 0`),
  ],
)

/** The gross area of a garden from a day on, until the next such day. */
export const gardenAreas = pgTable(
  'garden_areas',
  {
    ...recordColumns(),
    gardenId: uuid('garden_id').notNull(),
    fromDay: date('from_day').$type<IsoDate>().notNull(),
    grossAreaCm2: integer('gross_area_cm2').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('garden_areas_one_a_day').on(t.groupId, t.gardenId, t.fromDay).where(sql`removed_at is null`),
    foreignKey({
      name: 'garden_areas_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    check('garden_areas_gross_area_is_positive', sql`${t.grossAreaCm2} > 0`),
  ],
)

export const bedClosures = pgTable(
  'bed_closures',
  {
    ...recordColumns(),
    bedId: uuid('bed_id').notNull(),
    fromDay: date('from_day').$type<IsoDate>().notNull(),
    toDay: date('to_day').$type<IsoDate>(),
    why: text().notNull(),
    material: text(),
    regrowth: text(),
    /** Shoots per m2 that came up again, weeks after it was uncovered; null where nobody counted. */
    regrowthAfter4Weeks: integer('regrowth_after_4_weeks'),
    regrowthAfter8Weeks: integer('regrowth_after_8_weeks'),
    regrowthAfter12Weeks: integer('regrowth_after_12_weeks'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({ name: 'bed_closures_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    check('bed_closures_end_after_start', sql`${t.toDay} is null or ${t.toDay} >= ${t.fromDay}`),
    check(
      'bed_closures_regrowth_is_not_negative',
      sql`${t.regrowthAfter4Weeks} >= 0 and ${t.regrowthAfter8Weeks} >= 0 and ${t.regrowthAfter12Weeks} >= 0`,
    ),
  ],
)
