import { sql } from 'drizzle-orm'
import {
  bigint,
  check,
  date,
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
import type { Role } from './role.ts'

export const groups = pgTable(
  'groups',
  {
    id: uuid().primaryKey(),
    slug: text().notNull(),
    name: text().notNull(),
    currency: text().notNull(),
    timeZone: text('time_zone').notNull(),
    locale: text().notNull(),
    weightUnit: text('weight_unit').$type<'kg' | 'lb'>().notNull().default('kg'),
    areaUnit: text('area_unit').$type<'m2' | 'ft2'>().notNull().default('m2'),
    labourRateMinorPerHour: bigint('labour_rate_minor_per_hour', { mode: 'number' }),
    isDemo: integer('is_demo').notNull().default(0),
    /** Whether it opens only to who has shown more than a password. */
    asksFactor: integer('asks_factor').notNull().default(0),
    version: integer().notNull().default(1),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
  },
  (t) => [
    uniqueIndex('groups_slug_is_taken').on(t.slug),
    check('groups_currency_is_iso_4217', sql`${t.currency} ~ '^[A-Z]{3}$'`),
    check('groups_weight_unit_is_known', sql`${t.weightUnit} in ('kg', 'lb')`),
    check('groups_area_unit_is_known', sql`${t.areaUnit} in ('m2', 'ft2')`),
  ],
)

/**
 * Moved by the history trigger with every statement that changes a row of the group: tells a kept page from a stale
 * one.
 */
export const groupCounters = pgTable('group_counters', {
  groupId: uuid('group_id')
    .primaryKey()
    .references(() => groups.id),
  changes: bigint({ mode: 'number' }).notNull().default(0),
})

export const people = pgTable(
  'people',
  {
    id: uuid().primaryKey(),
    email: text().notNull(),
    name: text().notNull(),
    passwordHash: text('password_hash').notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
    /** Set where the account was deleted: name and address are gone, the row stays for what it wrote. */
    goneAt: timestamp('gone_at', { withTimezone: true }),
  },
  (t) => [
    uniqueIndex('people_email_is_taken').on(t.email),
    check('people_email_is_lower_case', sql`${t.email} = lower(${t.email})`),
    check('people_gone_are_nobody', sql`${t.goneAt} is null or (${t.name} = '' and ${t.passwordHash} = '')`),
  ],
)

export const members = pgTable(
  'members',
  {
    groupId: uuid('group_id')
      .notNull()
      .references(() => groups.id),
    personId: uuid('person_id')
      .notNull()
      .references(() => people.id),
    role: text().$type<Role>().notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.personId] }),
    index('members_by_person').on(t.personId),
    check('members_role_is_known', sql`${t.role} in ('keeper', 'recorder', 'reader')`),
  ],
)

export const sessions = pgTable(
  'sessions',
  {
    tokenHash: text('token_hash').primaryKey(),
    /** Names the session on the page that ends it. */
    id: uuid().notNull().defaultRandom(),
    personId: uuid('person_id')
      .notNull()
      .references(() => people.id),
    expiresAt: timestamp('expires_at', { withTimezone: true }).notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
    /** To some minutes: not every page is worth a write. */
    lastUsedAt: timestamp('last_used_at', { withTimezone: true }).notNull().defaultNow(),
    /** What the browser and its system call themselves, without their versions; null where they say nothing known. */
    browser: text(),
    system: text(),
    /** Until when a passkey that was shown in it stands for the present password; null where none was. */
    shownUntil: timestamp('shown_until', { withTimezone: true }),
    /** When more than a password was shown in it (a passkey, a code); null where it rests on a password alone. */
    factorShownAt: timestamp('factor_shown_at', { withTimezone: true }),
  },
  (t) => [index('sessions_by_expiry').on(t.expiresAt), index('sessions_by_person').on(t.personId)],
)

/** What a person's program of codes and this service both know; it asks at sign-in once it is confirmed. */
export const secondSteps = pgTable('second_steps', {
  personId: uuid('person_id')
    .primaryKey()
    .references(() => people.id),
  /** In base 32, as programs of codes take it. */
  secret: text().notNull(),
  confirmedAt: timestamp('confirmed_at', { withTimezone: true }),
  /** The latest step of time whose code was taken: none is taken twice. */
  lastStep: bigint('last_step', { mode: 'number' }).notNull().default(0),
})

/** Codes for whoever has lost that program: each works once, and only its hash is kept. */
export const recoveryCodes = pgTable(
  'recovery_codes',
  {
    personId: uuid('person_id')
      .notNull()
      .references(() => people.id),
    codeHash: text('code_hash').notNull(),
  },
  (t) => [primaryKey({ columns: [t.personId, t.codeHash] })],
)

/** Whoever has given the right password and still owes the code, for some minutes. */
export const halfSignIns = pgTable('half_sign_ins', {
  tokenHash: text('token_hash').primaryKey(),
  personId: uuid('person_id')
    .notNull()
    .references(() => people.id),
  expiresAt: timestamp('expires_at', { withTimezone: true }).notNull(),
})

/** Links that let a forgotten password be chosen anew: one a person, kept as a hash, gone once used. */
export const passwordResets = pgTable(
  'password_resets',
  {
    personId: uuid('person_id')
      .primaryKey()
      .references(() => people.id),
    tokenHash: text('token_hash').notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
    expiresAt: timestamp('expires_at', { withTimezone: true }).notNull(),
  },
  (t) => [uniqueIndex('password_resets_token_is_unique').on(t.tokenHash)],
)

export const invitations = pgTable(
  'invitations',
  {
    groupId: uuid('group_id')
      .notNull()
      .references(() => groups.id),
    id: uuid().notNull(),
    tokenHash: text('token_hash').notNull(),
    role: text().$type<Role>().notNull(),
    createdBy: uuid('created_by').references(() => people.id),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
    expiresAt: timestamp('expires_at', { withTimezone: true }).notNull(),
    usedAt: timestamp('used_at', { withTimezone: true }),
    usedBy: uuid('used_by').references(() => people.id),
    /** How many people may come in by it, and how many have. */
    places: integer().notNull().default(1),
    taken: integer().notNull().default(0),
    endedAt: timestamp('ended_at', { withTimezone: true }),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('invitations_token_is_unique').on(t.tokenHash),
    check('invitations_role_is_known', sql`${t.role} in ('keeper', 'recorder', 'reader')`),
    check(
      'invitations_let_in_as_many_as_said',
      sql`${t.places} between 1 and 50 and ${t.taken} between 0 and ${t.places}`,
    ),
  ],
)

/** Counts attempts in a window, by an opaque key such as a hash of the address that signs in. */
export const rateLimits = pgTable('rate_limits', {
  key: text().primaryKey(),
  windowStartedAt: timestamp('window_started_at', { withTimezone: true }).notNull(),
  attempts: integer().notNull(),
})

/** Append-only history, written by statement-level triggers alone. */
export const changes = pgTable(
  'changes',
  {
    groupId: uuid('group_id').notNull(),
    /** Counts the changes of the group: taken from its counter, so that no sequence is needed. */
    number: bigint({ mode: 'number' }).notNull(),
    tableName: text('table_name').notNull(),
    rowId: text('row_id').notNull(),
    personId: uuid('person_id'),
    changedAt: timestamp('changed_at', { withTimezone: true }).notNull().defaultNow(),
    reason: text(),
    before: jsonb(),
    after: jsonb(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.number] }),
    index('changes_by_row').on(t.groupId, t.tableName, t.rowId),
    index('changes_by_moment').on(t.groupId, t.changedAt),
  ],
)

/**
 * A group that its keeper has asked to delete: all in it goes on the day it ends, unless it is called back before. The
 * days (UTC) are those on which upkeep found it so: a clock that jumps ahead makes one, a service that rests none.
 */
export const groupEndings = pgTable('group_endings', {
  groupId: uuid('group_id')
    .primaryKey()
    .references(() => groups.id),
  askedBy: uuid('asked_by')
    .notNull()
    .references(() => people.id),
  askedAt: timestamp('asked_at', { withTimezone: true }).notNull().defaultNow(),
  endsAt: timestamp('ends_at', { withTimezone: true }).notNull(),
  daysSeen: date('days_seen').array().notNull().default([]),
  reason: text().notNull(),
  calledBackAt: timestamp('called_back_at', { withTimezone: true }),
})
