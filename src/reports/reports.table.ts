import {
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

/** A frozen report: its contents never change, and `checksum` is the SHA-256 of their canonical JSON. */
export const reports = pgTable(
  'reports',
  {
    ...recordColumns(),
    title: text().notNull(),
    words: text().notNull().default(''),
    contents: jsonb().notNull(),
    schemaVersion: integer('schema_version').notNull(),
    checksum: text().notNull(),
    frozenAt: timestamp('frozen_at', { withTimezone: true }).notNull(),
  },
  (t) => [primaryKey({ columns: [t.groupId, t.id] })],
)

export const shareLinks = pgTable(
  'share_links',
  {
    ...recordColumns(),
    reportId: uuid('report_id').notNull(),
    tokenHash: text('token_hash').notNull(),
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
