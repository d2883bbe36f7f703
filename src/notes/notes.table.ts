import { sql } from 'drizzle-orm'
import {
  check,
  date,
  foreignKey,
  integer,
  numeric,
  pgTable,
  primaryKey,
  text,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import { beds, gardens } from '../gardens/gardens.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { plantings } from '../seasons/seasons.table.ts'

const places = () => ({ gardenId: uuid('garden_id').notNull(), bedId: uuid('bed_id'), plantingId: uuid('planting_id') })

export const fieldNotes = pgTable(
  'field_notes',
  {
    ...recordColumns(),
    ...places(),
    seenOn: date('seen_on').$type<IsoDate>().notNull(),
    kind: text().notNull(),
    words: text().notNull(),
    severity: integer(),
    areaCm2: integer('area_cm2'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'field_notes_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({ name: 'field_notes_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    foreignKey({
      name: 'field_notes_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    check(
      'field_notes_kind_is_known',
      sql`${t.kind} in ('weed', 'pest', 'disease', 'germination', 'weather', 'soil', 'other')`,
    ),
    check('field_notes_severity_is_known', sql`${t.severity} between 0 and 5`),
  ],
)

export const counts = pgTable(
  'counts',
  {
    ...recordColumns(),
    ...places(),
    countedOn: date('counted_on').$type<IsoDate>().notNull(),
    what: text().notNull(),
    method: text().notNull(),
    value: numeric().notNull(),
    outOf: numeric('out_of'),
    unit: text().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'counts_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({ name: 'counts_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    foreignKey({
      name: 'counts_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
  ],
)

export const weedPatches = pgTable(
  'weed_patches',
  {
    ...recordColumns(),
    ...places(),
    seenOn: date('seen_on').$type<IsoDate>().notNull(),
    species: text().notNull(),
    /** Null where the weed is spread over the place as a whole. */
    areaCm2: integer('area_cm2'),
    /** How much of its ground it covers: of the patch, or of the place where it has no area of its own. */
    coverPermille: integer('cover_permille'),
    shootsPerM2: integer('shoots_per_m2'),
    position: text(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'weed_patches_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({ name: 'weed_patches_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    check('weed_patches_cover_is_a_share', sql`${t.coverPermille} between 0 and 1000`),
    check('weed_patches_are_measured', sql`num_nonnulls(${t.areaCm2}, ${t.coverPermille}) > 0`),
  ],
)

/** Tenths of a degree Celsius and tenths of a millimetre: what stations print, without a float. */
export const weatherDays = pgTable(
  'weather_days',
  {
    ...recordColumns(),
    station: text().notNull(),
    day: date().$type<IsoDate>().notNull(),
    minimumTenthsC: integer('minimum_tenths_c'),
    maximumTenthsC: integer('maximum_tenths_c'),
    rainTenthsMm: integer('rain_tenths_mm'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('weather_days_day_once').on(t.groupId, t.station, t.day).where(sql`removed_at is null`),
    check('weather_days_minimum_below_maximum', sql`${t.minimumTenthsC} <= ${t.maximumTenthsC}`),
    check('weather_days_rain_is_not_negative', sql`${t.rainTenthsMm} >= 0`),
  ],
)
