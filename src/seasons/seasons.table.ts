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
  timestamp,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core'
import { moneyColumn, recordColumns } from '../db/record-columns.table.ts'
import { beds, gardens, methods } from '../gardens/gardens.table.ts'
import type { IsoDate } from '../quantities/dates.ts'

/**
 * Seasons of a group never overlap and last two years at most (constraints in the migrations say so); gaps are allowed.
 */
export const seasons = pgTable(
  'seasons',
  {
    ...recordColumns(),
    name: text().notNull(),
    startsOn: date('starts_on').$type<IsoDate>().notNull(),
    endsOn: date('ends_on').$type<IsoDate>().notNull(),
    closedAt: timestamp('closed_at', { withTimezone: true }),
    closedBy: uuid('closed_by'),
    isUniformYear: integer('is_uniform_year').notNull().default(0),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('seasons_name_is_taken').on(t.groupId, t.name).where(sql`removed_at is null`),
    check('seasons_end_after_start', sql`${t.endsOn} > ${t.startsOn}`),
  ],
)

/** Which method lies on a garden, or on one bed of it, in a season. A bed's own assignment overrules its garden's. */
export const methodAssignments = pgTable(
  'method_assignments',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    gardenId: uuid('garden_id').notNull(),
    bedId: uuid('bed_id'),
    methodId: uuid('method_id').notNull(),
    phase: text().notNull(),
    yearOfMethod: integer('year_of_method').notNull().default(1),
    how: text().notNull(),
    randomSeed: text('random_seed'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('method_assignments_garden_has_one')
      .on(t.groupId, t.seasonId, t.gardenId)
      .where(sql`bed_id is null and removed_at is null`),
    uniqueIndex('method_assignments_bed_has_one')
      .on(t.groupId, t.seasonId, t.bedId)
      .where(sql`bed_id is not null and removed_at is null`),
    foreignKey({
      name: 'method_assignments_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'method_assignments_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({
      name: 'method_assignments_bed',
      columns: [t.groupId, t.bedId],
      foreignColumns: [beds.groupId, beds.id],
    }),
    foreignKey({
      name: 'method_assignments_method',
      columns: [t.groupId, t.methodId],
      foreignColumns: [methods.groupId, methods.id],
    }),
    check('method_assignments_phase_is_known', sql`${t.phase} in ('establishing', 'established')`),
    check('method_assignments_how_is_known', sql`${t.how} in ('choice', 'random', 'rotation')`),
    check('method_assignments_random_has_seed', sql`${t.how} <> 'random' or ${t.randomSeed} is not null`),
  ],
)

export const seasonQuestions = pgTable(
  'season_questions',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    question: text().notNull(),
    referenceMethodId: uuid('reference_method_id'),
    primaryMeasure: text('primary_measure').notNull(),
    /** The matched crops, their common mix and the counting rules, as fixed beforehand. */
    terms: jsonb().notNull(),
    marginPercent: integer('margin_percent'),
    seasonsToLookAt: integer('seasons_to_look_at').notNull(),
    sentenceIfSeen: text('sentence_if_seen').notNull(),
    sentenceIfNotSeen: text('sentence_if_not_seen').notNull(),
    lockedAt: timestamp('locked_at', { withTimezone: true }),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('season_questions_season_has_one').on(t.groupId, t.seasonId).where(sql`removed_at is null`),
    foreignKey({
      name: 'season_questions_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'season_questions_method',
      columns: [t.groupId, t.referenceMethodId],
      foreignColumns: [methods.groupId, methods.id],
    }),
  ],
)

export const crops = pgTable(
  'crops',
  {
    ...recordColumns(),
    name: text().notNull(),
    family: text(),
    edibleUnit: text('edible_unit'),
    /** The price from the beginning; later ones stand in `crop_prices` by their day. */
    priceMinorPerKg: moneyColumn('price_minor_per_kg'),
    pricedOn: date('priced_on').$type<IsoDate>(),
    /** kcal and milligrams per 100 g edible, as the source gives them. */
    energyKcalPer100g: integer('energy_kcal_per_100g'),
    proteinMgPer100g: integer('protein_mg_per_100g'),
    phosphorusMgPer100g: integer('phosphorus_mg_per_100g'),
    potassiumMgPer100g: integer('potassium_mg_per_100g'),
    refusePercent: integer('refuse_percent'),
    /** g of crop per square metre and crop cycle: above it the service asks whether the unit is right. */
    usualYieldGPerM2: integer('usual_yield_g_per_m2'),
    askAboveGPerM2: integer('ask_above_g_per_m2'),
    /** Whether the edible part touches the soil or soil particles: 1, 0, or null where it is not known. */
    touchesSoil: integer('touches_soil'),
    /** The state that counts for yield, where it is not fresh from the bed: such a weight may follow clearing. */
    weighedAs: text('weighed_as'),
    /** 1: what overwinters counts toward the season in which it is picked; 0: toward the one that planted it. */
    countsWhenPicked: integer('counts_when_picked').notNull().default(0),
    /** 1: it grows again after a cut, and its cuts are numbered. */
    regrows: integer().notNull().default(0),
    source: text(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('crops_name_is_taken').on(t.groupId, t.name).where(sql`removed_at is null`),
    check('crops_count_when_picked_or_not', sql`${t.countsWhenPicked} in (0, 1)`),
    check('crops_regrow_or_not', sql`${t.regrows} in (0, 1)`),
    check('crops_touch_the_soil_or_not', sql`${t.touchesSoil} in (0, 1)`),
    check('crops_are_weighed_in_a_known_state', sql`${t.weighedAs} in ('trimmed', 'dried', 'from store')`),
  ],
)

/** The price of a crop from a day on, until the next such day; null: none from then on. */
export const cropPrices = pgTable(
  'crop_prices',
  {
    ...recordColumns(),
    cropId: uuid('crop_id').notNull(),
    fromDay: date('from_day').$type<IsoDate>().notNull(),
    priceMinorPerKg: moneyColumn('price_minor_per_kg'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('crop_prices_one_a_day').on(t.groupId, t.cropId, t.fromDay).where(sql`removed_at is null`),
    foreignKey({ name: 'crop_prices_crop', columns: [t.groupId, t.cropId], foreignColumns: [crops.groupId, crops.id] }),
    check('crop_prices_price_is_not_negative', sql`${t.priceMinorPerKg} >= 0`),
  ],
)

export const cultivars = pgTable(
  'cultivars',
  { ...recordColumns(), cropId: uuid('crop_id').notNull(), name: text().notNull(), source: text() },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('cultivars_name_is_taken').on(t.groupId, t.cropId, t.name).where(sql`removed_at is null`),
    foreignKey({ name: 'cultivars_crop', columns: [t.groupId, t.cropId], foreignColumns: [crops.groupId, crops.id] }),
  ],
)

export const matchedSets = pgTable(
  'matched_sets',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    cultivarId: uuid('cultivar_id').notNull(),
    name: text().notNull(),
    windowFrom: date('window_from').$type<IsoDate>(),
    windowTo: date('window_to').$type<IsoDate>(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    foreignKey({
      name: 'matched_sets_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'matched_sets_cultivar',
      columns: [t.groupId, t.cultivarId],
      foreignColumns: [cultivars.groupId, cultivars.id],
    }),
  ],
)

export const plantings = pgTable(
  'plantings',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    bedId: uuid('bed_id').notNull(),
    cultivarId: uuid('cultivar_id').notNull(),
    matchedSetId: uuid('matched_set_id'),
    areaCm2: integer('area_cm2').notNull(),
    plants: integer(),
    purpose: text().notNull().default('harvest'),
    how: text().notNull().default('direct'),
    sownOn: date('sown_on').$type<IsoDate>(),
    plantedOn: date('planted_on').$type<IsoDate>(),
    clearedOn: date('cleared_on').$type<IsoDate>(),
    /** Until when it is meant to stand; what counts is the day of clearing once there is one. */
    standsUntil: date('stands_until').$type<IsoDate>(),
    interplanted: integer().notNull().default(0),
    /** The nursery bed in which it was raised: its ground and work are divided over what was raised there. */
    raisedInBedId: uuid('raised_in_bed_id'),
    /** 1: it stands over seasons (asparagus, rhubarb, bush fruit) and counts in each of them until it is cleared. */
    standsOverSeasons: integer('stands_over_seasons').notNull().default(0),
    /** Of those seasons how many, from its first, it takes to bear; null where that is not said. */
    establishingSeasons: integer('establishing_seasons'),
    spacing: text(),
    seedLot: text('seed_lot'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    index('plantings_by_season').on(t.groupId, t.seasonId),
    index('plantings_by_bed').on(t.groupId, t.bedId),
    foreignKey({
      name: 'plantings_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({ name: 'plantings_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    foreignKey({
      name: 'plantings_cultivar',
      columns: [t.groupId, t.cultivarId],
      foreignColumns: [cultivars.groupId, cultivars.id],
    }),
    foreignKey({
      name: 'plantings_matched_set',
      columns: [t.groupId, t.matchedSetId],
      foreignColumns: [matchedSets.groupId, matchedSets.id],
    }),
    foreignKey({
      name: 'plantings_raised_in',
      columns: [t.groupId, t.raisedInBedId],
      foreignColumns: [beds.groupId, beds.id],
    }),
    check('plantings_raised_are_transplanted', sql`${t.raisedInBedId} is null or ${t.how} = 'transplanted'`),
    check('plantings_area_is_positive', sql`${t.areaCm2} > 0`),
    check('plantings_purpose_is_known', sql`${t.purpose} in ('harvest', 'green manure', 'seed', 'guard row')`),
    check('plantings_how_is_known', sql`${t.how} in ('direct', 'transplanted')`),
    check('plantings_are_sown_or_planted', sql`coalesce(${t.sownOn}, ${t.plantedOn}) is not null`),
    check('plantings_planted_after_sown', sql`${t.plantedOn} >= ${t.sownOn}`),
    check('plantings_stand_after_sown', sql`${t.standsUntil} >= coalesce(${t.sownOn}, ${t.plantedOn})`),
    check('plantings_stand_over_seasons_or_not', sql`${t.standsOverSeasons} in (0, 1)`),
    check(
      'plantings_establish_over_seasons',
      sql`${t.establishingSeasons} is null or (${t.establishingSeasons} >= 0 and ${t.standsOverSeasons} = 1)`,
    ),
    check('plantings_cleared_after_sown', sql`${t.clearedOn} >= coalesce(${t.sownOn}, ${t.plantedOn})`),
  ],
)
