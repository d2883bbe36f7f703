import { sql } from 'drizzle-orm'
import { check, integer, pgTable, primaryKey, text, timestamp, uuid } from 'drizzle-orm/pg-core'
import { groups, people } from '../accounts/accounts.table.ts'

/** The one pair of keys (Ed25519) that this installation signs its exports with, made at the first. */
export const installationKeys = pgTable(
  'installation_keys',
  {
    one: integer().primaryKey().default(1),
    /** PKCS #8, in base64url. */
    privateKey: text('private_key').notNull(),
    /** The 32 bytes of RFC 8032, in base64url. */
    publicKey: text('public_key').notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
  },
  (t) => [check('installation_keys_are_one', sql`${t.one} = 1`)],
)

/** Keys of other installations that a person has heard of by another way than a file, under a name of their own. */
export const confirmedKeys = pgTable(
  'confirmed_keys',
  {
    personId: uuid('person_id')
      .notNull()
      .references(() => people.id),
    fingerprint: text().notNull(),
    name: text().notNull(),
    confirmedAt: timestamp('confirmed_at', { withTimezone: true }).notNull().defaultNow(),
  },
  (t) => [primaryKey({ columns: [t.personId, t.fingerprint] })],
)

/** How the export that a group was brought in from stood to its signature. */
export const packageOrigins = pgTable(
  'package_origins',
  {
    groupId: uuid('group_id')
      .primaryKey()
      .references(() => groups.id),
    state: text().$type<'unchanged' | 'changed' | 'unsigned'>().notNull(),
    /** Of the key that it names; null where it names none. */
    fingerprint: text(),
    broughtAt: timestamp('brought_at', { withTimezone: true }).notNull().defaultNow(),
  },
  (t) => [
    check('package_origins_state_is_known', sql`${t.state} in ('unchanged', 'changed', 'unsigned')`),
    check('package_origins_name_their_key', sql`${t.state} <> 'unchanged' or ${t.fingerprint} is not null`),
  ],
)
