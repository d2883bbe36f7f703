import { sql } from 'drizzle-orm'
import {
  check,
  date,
  foreignKey,
  index,
  integer,
  jsonb,
  pgTable,
  primaryKey,
  text,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core'
import { moneyColumn, recordColumns } from '../db/record-columns.table.ts'
import { beds, gardens } from '../gardens/gardens.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { plantings, seasons } from '../seasons/seasons.table.ts'
import type { HeapEntry } from './heap.ts'

/** What is bought or made. Quantities are thousandths of `unit`, so that half a barrow is a whole number. */
export const inputs = pgTable(
  'inputs',
  {
    ...recordColumns(),
    name: text().notNull(),
    kind: text().notNull(),
    unit: text().notNull(),
    usefulLifeSeasons: integer('useful_life_seasons').notNull().default(1),
    ownMade: integer('own_made').notNull().default(0),
    /** 0 no, 1 raw, 2 partly rotted (manure-interval.ts). */
    rawManure: integer('raw_manure').notNull().default(0),
    moisturePermille: integer('moisture_permille'),
    densityKgPerM3: integer('density_kg_per_m3'),
    /** Milligrams of the element in a kilogram of dry matter: oxides are converted when they are entered. */
    nitrogenMgPerKg: integer('nitrogen_mg_per_kg'),
    phosphorusMgPerKg: integer('phosphorus_mg_per_kg'),
    potassiumMgPerKg: integer('potassium_mg_per_kg'),
    source: text(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('inputs_name_is_taken').on(t.groupId, t.name).where(sql`removed_at is null`),
    check('inputs_life_is_positive', sql`${t.usefulLifeSeasons} between 1 and 100`),
    check('inputs_manure_is_known', sql`${t.rawManure} between 0 and 2`),
    check('inputs_moisture_is_a_part', sql`${t.moisturePermille} between 0 and 1000`),
    check('inputs_density_is_positive', sql`${t.densityKgPerM3} > 0`),
  ],
)

/** How much a barrow or a bag of the group's own holds: measured once, by volume, by weight or both. */
export const inputMeasures = pgTable(
  'measures',
  {
    ...recordColumns(),
    name: text().notNull(),
    volumeMl: integer('volume_ml'),
    massG: integer('mass_g'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('measures_name_is_taken').on(t.groupId, sql`lower(${t.name})`).where(sql`removed_at is null`),
    check('measures_hold_something', sql`num_nonnulls(${t.volumeMl}, ${t.massG}) > 0`),
    check('measures_are_positive', sql`${t.volumeMl} > 0 and ${t.massG} > 0`),
  ],
)

/**
 * A delivery, or a batch of the group's own: then `priceMinor` is the value that the group states. Null price:
 * unpriced. While `deliveredOn` is null it is ordered and has not come: nothing can be spread of it.
 */
export const deliveries = pgTable(
  'deliveries',
  {
    ...recordColumns(),
    inputId: uuid('input_id').notNull(),
    orderedOn: date('ordered_on').$type<IsoDate>(),
    deliveredOn: date('delivered_on').$type<IsoDate>(),
    quantityThousandths: integer('quantity_thousandths').notNull(),
    priceMinor: moneyColumn('price_minor'),
    deliveryPriceMinor: moneyColumn('delivery_price_minor').notNull().default(0),
    supplier: text(),
    note: text(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'deliveries_input',
      columns: [t.groupId, t.inputId],
      foreignColumns: [inputs.groupId, inputs.id],
    }),
    check('deliveries_quantity_is_positive', sql`${t.quantityThousandths} > 0`),
    check('deliveries_ordered_or_come', sql`num_nonnulls(${t.orderedOn}, ${t.deliveredOn}) > 0`),
    check('deliveries_come_after_the_order', sql`${t.deliveredOn} >= ${t.orderedOn}`),
    check('deliveries_prices_are_not_negative', sql`${t.priceMinor} >= 0 and ${t.deliveryPriceMinor} >= 0`),
  ],
)

/** Own heaps: what went in, when it was turned, when it was ready. */
export const stocks = pgTable(
  'stocks',
  {
    ...recordColumns(),
    inputId: uuid('input_id').notNull(),
    name: text().notNull(),
    startedOn: date('started_on').$type<IsoDate>().notNull(),
    readyOn: date('ready_on').$type<IsoDate>(),
    /** Dated additions, turnings and temperatures in the order they happened. */
    log: jsonb().$type<HeapEntry[]>().notNull().default([]),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({ name: 'stocks_input', columns: [t.groupId, t.inputId], foreignColumns: [inputs.groupId, inputs.id] }),
    check('stocks_ready_after_start', sql`${t.readyOn} >= ${t.startedOn}`),
  ],
)

export const applications = pgTable(
  'applications',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    deliveryId: uuid('delivery_id').notNull(),
    gardenId: uuid('garden_id'),
    bedId: uuid('bed_id'),
    plantingId: uuid('planting_id'),
    appliedOn: date('applied_on').$type<IsoDate>().notNull(),
    quantityThousandths: integer('quantity_thousandths').notNull(),
    depthMm: integer('depth_mm'),
    /** Null where its ground carries several: then each of its beds has the phase that lies there. */
    phase: text(),
    /** How many seasons this one lasts, where another number holds for its input by now; null: as the input says. */
    usefulLifeSeasons: integer('useful_life_seasons'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    index('applications_by_season').on(t.groupId, t.seasonId),
    foreignKey({
      name: 'applications_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'applications_delivery',
      columns: [t.groupId, t.deliveryId],
      foreignColumns: [deliveries.groupId, deliveries.id],
    }),
    foreignKey({
      name: 'applications_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({ name: 'applications_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    foreignKey({
      name: 'applications_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    check('applications_life_is_positive', sql`${t.usefulLifeSeasons} between 1 and 100`),
    check('applications_quantity_is_positive', sql`${t.quantityThousandths} > 0`),
    check('applications_depth_is_positive', sql`${t.depthMm} > 0`),
    check('applications_one_place', sql`num_nonnulls(${t.gardenId}, ${t.bedId}, ${t.plantingId}) = 1`),
    check('applications_phase_is_known', sql`${t.phase} in ('establishing', 'established')`),
  ],
)
