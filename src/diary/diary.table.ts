import { sql } from 'drizzle-orm'
import {
  check,
  date,
  foreignKey,
  index,
  integer,
  pgTable,
  primaryKey,
  text,
  timestamp,
  uniqueIndex,
  uuid,
} from 'drizzle-orm/pg-core'
import { recordColumns } from '../db/record-columns.table.ts'
import { beds, gardens } from '../gardens/gardens.table.ts'
import { deliveries } from '../inputs/inputs.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import { plantings, seasons } from '../seasons/seasons.table.ts'
import type { What } from './known.ts'

export const containers = pgTable(
  'containers',
  { ...recordColumns(), name: text().notNull(), tareG: integer('tare_g').notNull() },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('containers_name_is_taken').on(t.groupId, t.name).where(sql`removed_at is null`),
    check('containers_tare_is_not_negative', sql`${t.tareG} >= 0`),
  ],
)

/** One weighing: of one planting, or of a shared crate (then `shareRule` says how `harvest_shares` divide it). */
export const harvests = pgTable(
  'harvests',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    plantingId: uuid('planting_id'),
    shareRule: text('share_rule'),
    harvestedOn: date('harvested_on').$type<IsoDate>().notNull(),
    isoWeek: text('iso_week').$type<IsoWeek>().notNull(),
    marketableG: integer('marketable_g').notNull().default(0),
    unmarketableG: integer('unmarketable_g').notNull().default(0),
    unmarketableReason: text('unmarketable_reason'),
    pieces: integer(),
    grossG: integer('gross_g'),
    containerId: uuid('container_id'),
    /** What was weighed; null in rows from before it was asked: as the crop counts. */
    state: text(),
    /**
     * 1: it was the state that counts for yield; 0: shown, and never added. Said once, so that no crop changes it
     * later.
     */
    counts: integer().notNull().default(1),
    /** Where it was lifted on another day than it was weighed. */
    liftedOn: date('lifted_on').$type<IsoDate>(),
    /** The earlier weighing of the same lot. */
    sameLotAs: uuid('same_lot_as'),
    /** Of seed that was saved: the lot that it is kept and sown as. */
    seedLot: text('seed_lot'),
    source: text().notNull().default('field'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    index('harvests_by_week').on(t.groupId, t.isoWeek),
    index('harvests_by_planting').on(t.groupId, t.plantingId),
    // For what was written last, which Home shows, and for the few that are seed.
    index('harvests_by_moment').on(t.groupId, t.createdAt, t.id),
    index('harvests_of_seed').on(t.groupId).where(sql`${t.state} = 'seed'`),
    foreignKey({
      name: 'harvests_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'harvests_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    foreignKey({
      name: 'harvests_container',
      columns: [t.groupId, t.containerId],
      foreignColumns: [containers.groupId, containers.id],
    }),
    foreignKey({
      name: 'harvests_same_lot',
      columns: [t.groupId, t.sameLotAs],
      foreignColumns: [t.groupId, t.id],
    }),
    check('harvests_state_is_known', sql`${t.state} in ('fresh', 'trimmed', 'dried', 'from store', 'seed')`),
    check(
      'harvests_count_or_not',
      sql`${t.counts} in (0, 1) and (${t.counts} = 0 or ${t.state} is distinct from 'seed')`,
    ),
    check('harvests_lifted_before_weighed', sql`${t.liftedOn} <= ${t.harvestedOn}`),
    check('harvests_seed_has_a_lot', sql`(${t.state} is not distinct from 'seed') = (${t.seedLot} is not null)`),
    check('harvests_weights_are_not_negative', sql`${t.marketableG} >= 0 and ${t.unmarketableG} >= 0`),
    check('harvests_unmarketable_has_reason', sql`${t.unmarketableG} = 0 or ${t.unmarketableReason} is not null`),
    check('harvests_planting_or_shared', sql`(${t.plantingId} is null) <> (${t.shareRule} is null)`),
    check('harvests_share_rule_is_known', sql`${t.shareRule} in ('area', 'plants', 'given')`),
  ],
)

/** The plantings that a shared crate came from; `share` is a whole-number weight, read only under the rule 'given'. */
export const harvestShares = pgTable(
  'harvest_shares',
  {
    ...recordColumns(),
    harvestId: uuid('harvest_id').notNull(),
    plantingId: uuid('planting_id').notNull(),
    share: integer(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('harvest_shares_planting_once').on(t.groupId, t.harvestId, t.plantingId).where(sql`removed_at is null`),
    foreignKey({
      name: 'harvest_shares_harvest',
      columns: [t.groupId, t.harvestId],
      foreignColumns: [harvests.groupId, harvests.id],
    }),
    foreignKey({
      name: 'harvest_shares_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    check('harvest_shares_share_is_not_negative', sql`${t.share} >= 0`),
  ],
)

/**
 * `sharePermille` is the part of what still stood that was lost: 1000 is a total loss, and a yield of zero from then
 * on.
 */
const causesOfLosses =
  "('pest', 'disease', 'weather', 'weeds', 'germination', 'water', 'animals', 'people', 'seed', 'unknown')"

export const losses = pgTable(
  'losses',
  {
    ...recordColumns(),
    plantingId: uuid('planting_id').notNull(),
    lostOn: date('lost_on').$type<IsoDate>().notNull(),
    isoWeek: text('iso_week').$type<IsoWeek>().notNull(),
    sharePermille: integer('share_permille').notNull(),
    cause: text().notNull(),
    outsideMethod: integer('outside_method').notNull().default(0),
    alsoNextDoor: text('also_next_door'),
    note: text(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    index('losses_by_planting').on(t.groupId, t.plantingId),
    foreignKey({
      name: 'losses_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    check('losses_share_is_a_part', sql`${t.sharePermille} between 1 and 1000`),
    check('losses_cause_is_known', sql`${t.cause} in ${sql.raw(causesOfLosses)}`),
    check('losses_next_door_is_known', sql`${t.alsoNextDoor} in ('yes', 'no', 'not grown')`),
  ],
)

/** Person-minutes on a task; exactly one of garden, bed, planting or a sharing rule says where they were spent. */
export const labourEntries = pgTable(
  'labour_entries',
  {
    ...recordColumns(),
    seasonId: uuid('season_id').notNull(),
    isoWeek: text('iso_week').$type<IsoWeek>().notNull(),
    workedOn: date('worked_on').$type<IsoDate>(),
    task: text().notNull(),
    /** Null where its ground carries several: then each part of it has the phase of the bed that it falls on. */
    phase: text(),
    personMinutes: integer('person_minutes').notNull(),
    people: integer().notNull().default(1),
    effort: integer(),
    gardenId: uuid('garden_id'),
    bedId: uuid('bed_id'),
    plantingId: uuid('planting_id'),
    shareRule: text('share_rule'),
    /** The load that was carried or spread in this time, where it is known. */
    deliveryId: uuid('delivery_id'),
    who: text(),
    source: text().notNull().default('field'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    index('labour_entries_by_week').on(t.groupId, t.isoWeek),
    index('labour_entries_shared').on(t.groupId).where(sql`share_rule is not null`),
    index('labour_entries_by_moment').on(t.groupId, t.createdAt, t.id),
    foreignKey({
      name: 'labour_entries_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'labour_entries_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    foreignKey({ name: 'labour_entries_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    foreignKey({
      name: 'labour_entries_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    foreignKey({
      name: 'labour_entries_delivery',
      columns: [t.groupId, t.deliveryId],
      foreignColumns: [deliveries.groupId, deliveries.id],
    }),
    check('labour_entries_minutes_are_positive', sql`${t.personMinutes} > 0 and ${t.people} > 0`),
    check(
      'labour_entries_one_place',
      sql`num_nonnulls(${t.gardenId}, ${t.bedId}, ${t.plantingId}, ${t.shareRule}) = 1`,
    ),
    check('labour_entries_phase_is_known', sql`${t.phase} in ('establishing', 'established')`),
    check('labour_entries_effort_is_known', sql`${t.effort} between 1 and 5`),
    check('labour_entries_share_rule_is_known', sql`${t.shareRule} in ('area', 'equal', 'given')`),
    check('labour_entries_source_is_known', sql`${t.source} in ('field', 'paper')`),
  ],
)

/**
 * The gardens over which shared labour is divided, or the beds of one garden that it was done on; `share` is read only
 * under the rule 'given'.
 */
export const labourShares = pgTable(
  'labour_shares',
  {
    ...recordColumns(),
    labourEntryId: uuid('labour_entry_id').notNull(),
    gardenId: uuid('garden_id').notNull(),
    bedId: uuid('bed_id'),
    share: integer(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('labour_shares_garden_once')
      .on(t.groupId, t.labourEntryId, t.gardenId)
      .where(sql`removed_at is null and bed_id is null`),
    uniqueIndex('labour_shares_bed_once').on(t.groupId, t.labourEntryId, t.bedId).where(sql`removed_at is null`),
    foreignKey({ name: 'labour_shares_bed', columns: [t.groupId, t.bedId], foreignColumns: [beds.groupId, beds.id] }),
    foreignKey({
      name: 'labour_shares_entry',
      columns: [t.groupId, t.labourEntryId],
      foreignColumns: [labourEntries.groupId, labourEntries.id],
    }),
    foreignKey({
      name: 'labour_shares_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    check('labour_shares_share_is_not_negative', sql`${t.share} >= 0`),
  ],
)

/** Open is unknown, closed is zero where nothing is written. Reopening marks the closing with a reason and keeps it. */
export const weekClosings = pgTable(
  'week_closings',
  {
    ...recordColumns(),
    gardenId: uuid('garden_id').notNull(),
    isoWeek: text('iso_week').$type<IsoWeek>().notNull(),
    what: text().$type<What>().notNull(),
    closedAt: timestamp('closed_at', { withTimezone: true }).notNull().defaultNow(),
    reopenedAt: timestamp('reopened_at', { withTimezone: true }),
    reopenedReason: text('reopened_reason'),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('week_closings_closed_once')
      .on(t.groupId, t.gardenId, t.isoWeek, t.what)
      .where(sql`reopened_at is null`),
    foreignKey({
      name: 'week_closings_garden',
      columns: [t.groupId, t.gardenId],
      foreignColumns: [gardens.groupId, gardens.id],
    }),
    check('week_closings_what_is_known', sql`${t.what} in ('hours', 'weights')`),
    check('week_closings_reopened_with_reason', sql`(${t.reopenedAt} is null) = (${t.reopenedReason} is null)`),
  ],
)

/**
 * A label on a crate of one planting in one week, so that whoever weighs does not see which planting it is. Drawn from
 * `seed`; opened when that week's weights of the planting's garden are closed.
 */
export const crateLabels = pgTable(
  'crate_labels',
  {
    ...recordColumns(),
    isoWeek: text('iso_week').$type<IsoWeek>().notNull(),
    plantingId: uuid('planting_id').notNull(),
    label: text().notNull(),
    seed: text().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('crate_labels_label_is_taken').on(t.groupId, t.isoWeek, t.label).where(sql`removed_at is null`),
    uniqueIndex('crate_labels_planting_once').on(t.groupId, t.isoWeek, t.plantingId).where(sql`removed_at is null`),
    foreignKey({
      name: 'crate_labels_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    check('crate_labels_label_is_two_letters_and_a_digit', sql`${t.label} ~ '^[A-Z][A-Z][0-9]$'`),
  ],
)

/** What a second person wrote down for a planting over a whole week, `created_by`; it is in no sum. */
export const secondReadings = pgTable(
  'second_readings',
  {
    ...recordColumns(),
    isoWeek: text('iso_week').$type<IsoWeek>().notNull(),
    plantingId: uuid('planting_id').notNull(),
    weighedG: integer('weighed_g').notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('second_readings_planting_once').on(t.groupId, t.isoWeek, t.plantingId).where(sql`removed_at is null`),
    foreignKey({
      name: 'second_readings_planting',
      columns: [t.groupId, t.plantingId],
      foreignColumns: [plantings.groupId, plantings.id],
    }),
    check('second_readings_weight_is_positive', sql`${t.weighedG} > 0`),
  ],
)
