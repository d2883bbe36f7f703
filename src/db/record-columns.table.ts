import { bigint, customType, integer, text, timestamp, uuid } from 'drizzle-orm/pg-core'

/**
 * The columns that every table of a group carries. `groupId` stands first in every key, so that no join can cross
 * groups; `version` lets the second of two editors be told; nothing is deleted, a removal is a mark with its reason.
 */
export const recordColumns = () => ({
  groupId: uuid('group_id').notNull(),
  id: uuid().notNull(),
  createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
  createdBy: uuid('created_by'),
  version: integer().notNull().default(1),
  removedAt: timestamp('removed_at', { withTimezone: true }),
  removedReason: text('removed_reason'),
})

/** Money in minor units; bigint because a currency without decimals fills 32 bits soon. */
export const moneyColumn = (name: string) => bigint(name, { mode: 'number' })

export const bytea = customType<{ data: Uint8Array }>({ dataType: () => 'bytea' })
