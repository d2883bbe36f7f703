import { sql } from 'drizzle-orm'
import {
  bigint,
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
import { recordColumns } from '../db/record-columns.table.ts'
import { methods } from '../gardens/gardens.table.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { seasons } from '../seasons/seasons.table.ts'

/**
 * A report in one edition: a draft, live (figures of the day on which it is opened) or frozen. Once frozen nothing of
 * it changes; `checksum` is the SHA-256 of the canonical JSON of its figures, `dataCutOff` the group's change number.
 */
export const reports = pgTable(
  'reports',
  {
    ...recordColumns(),
    title: text().notNull(),
    words: text().notNull().default(''),
    state: text().notNull().default('frozen'),
    /** How it is kept once it is finished: frozen or live. */
    keeps: text().notNull().default('frozen'),
    /** A season's id, or "all". */
    season: text().notNull().default('all'),
    sections: jsonb().notNull().default([]),
    /** Which pictures were chosen; what they are drawn from stands in `contents`. */
    pictures: jsonb().notNull().default([]),
    /** Whether the rows behind the figures go out with them. */
    rowsAgreed: integer('rows_agreed').notNull().default(0),
    /** The first edition of this report; links lead to the latest finished one. */
    firstId: uuid('first_id'),
    edition: integer().notNull().default(1),
    contents: jsonb(),
    rows: jsonb(),
    schemaVersion: integer('schema_version').notNull(),
    checksum: text(),
    dataCutOff: bigint('data_cut_off', { mode: 'number' }),
    serviceVersion: text('service_version'),
    frozenAt: timestamp('frozen_at', { withTimezone: true }),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('reports_edition_once').on(t.groupId, t.firstId, t.edition).where(sql`removed_at is null`),
    check('reports_state_is_known', sql`${t.state} in ('draft', 'live', 'frozen')`),
    check('reports_keeps_is_known', sql`${t.keeps} in ('live', 'frozen')`),
    check(
      'reports_frozen_is_whole',
      sql`${t.state} <> 'frozen' or num_nonnulls(${t.contents}, ${t.checksum}, ${t.frozenAt}) = 3`,
    ),
  ],
)

export const shareLinks = pgTable(
  'share_links',
  {
    ...recordColumns(),
    reportId: uuid('report_id').notNull(),
    tokenHash: text('token_hash').notNull(),
    passphraseHash: text('passphrase_hash'),
    endsAt: timestamp('ends_at', { withTimezone: true }),
    revokedAt: timestamp('revoked_at', { withTimezone: true }),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('share_links_token_is_unique').on(t.tokenHash),
    index('share_links_by_report').on(t.groupId, t.reportId),
    foreignKey({
      name: 'share_links_report',
      columns: [t.groupId, t.reportId],
      foreignColumns: [reports.groupId, reports.id],
    }),
  ],
)

/** How often a link was opened on a day, and nothing about who did: no address, no cookie, no time of day. */
export const linkOpenings = pgTable(
  'link_openings',
  {
    groupId: uuid('group_id').notNull(),
    id: uuid().notNull(),
    linkId: uuid('link_id').notNull(),
    day: date().$type<IsoDate>().notNull(),
    openings: integer().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('link_openings_day_once').on(t.groupId, t.linkId, t.day),
    foreignKey({
      name: 'link_openings_link',
      columns: [t.groupId, t.linkId],
      foreignColumns: [shareLinks.groupId, shareLinks.id],
    }),
    check('link_openings_are_counted', sql`${t.openings} > 0`),
  ],
)

/** Whether a person has agreed to be named on the group's reports: off until a keeper writes it down. */
export const nameAgreements = pgTable(
  'name_agreements',
  {
    ...recordColumns(),
    personId: uuid('person_id').notNull(),
    agreed: integer().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('name_agreements_person_once').on(t.groupId, t.personId),
    check('name_agreements_are_yes_or_no', sql`${t.agreed} in (0, 1)`),
  ],
)

/** What a person thought, before seeing it, how much more a method gives than the reference, in whole per cent. */
export const guesses = pgTable(
  'guesses',
  {
    ...recordColumns(),
    personId: uuid('person_id').notNull(),
    seasonId: uuid('season_id').notNull(),
    referenceMethodId: uuid('reference_method_id').notNull(),
    methodId: uuid('method_id').notNull(),
    percent: integer().notNull(),
  },
  (t) => [
    primaryKey({ columns: [t.groupId, t.id] }),
    uniqueIndex('guesses_one_a_person_and_season').on(t.groupId, t.seasonId, t.personId, t.methodId),
    foreignKey({
      name: 'guesses_season',
      columns: [t.groupId, t.seasonId],
      foreignColumns: [seasons.groupId, seasons.id],
    }),
    foreignKey({
      name: 'guesses_method',
      columns: [t.groupId, t.methodId],
      foreignColumns: [methods.groupId, methods.id],
    }),
    foreignKey({
      name: 'guesses_reference',
      columns: [t.groupId, t.referenceMethodId],
      foreignColumns: [methods.groupId, methods.id],
    }),
    check('guesses_are_possible', sql`${t.percent} between -99 and 900`),
  ],
)
