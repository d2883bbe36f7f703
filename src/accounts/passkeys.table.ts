import { sql } from 'drizzle-orm'
import { bigint, check, index, pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core'
import { people } from './accounts.table.ts'

/** What a person's device signs with: of the pair of keys the public one alone is here. */
export const passkeys = pgTable(
  'passkeys',
  {
    /** As the device names it, in base64url. */
    credentialId: text('credential_id').primaryKey(),
    /** Names it on the page that takes it away. */
    id: uuid().notNull().defaultRandom(),
    personId: uuid('person_id')
      .notNull()
      .references(() => people.id),
    /** In the form of COSE (RFC 9053), in base64url. */
    publicKey: text('public_key').notNull(),
    /** How often the device has signed, where it counts: what signs with a lower count is a copy. */
    counter: bigint({ mode: 'number' }).notNull(),
    /** How a browser reaches the device, parted by commas. */
    transports: text().notNull(),
    name: text().notNull(),
    createdAt: timestamp('created_at', { withTimezone: true }).notNull().defaultNow(),
    lastUsedAt: timestamp('last_used_at', { withTimezone: true }),
  },
  (t) => [
    index('passkeys_by_person').on(t.personId),
    check('passkeys_counters_count', sql`${t.counter} >= 0`),
    check('passkeys_have_names', sql`${t.name} <> ''`),
  ],
)

export type ChallengePurpose = 'sign-in' | 'present' | 'add'

/** What a device was asked to sign, for some minutes: each is taken once, for what it was asked for. */
export const passkeyChallenges = pgTable(
  'passkey_challenges',
  {
    challengeHash: text('challenge_hash').primaryKey(),
    purpose: text().$type<ChallengePurpose>().notNull(),
    /** Nobody yet where somebody signs in. */
    personId: uuid('person_id').references(() => people.id),
    expiresAt: timestamp('expires_at', { withTimezone: true }).notNull(),
  },
  (t) => [
    check('passkey_challenges_purpose_is_known', sql`${t.purpose} in ('sign-in', 'present', 'add')`),
    check('passkey_challenges_are_of_whom_they_ask', sql`(${t.purpose} = 'sign-in') = (${t.personId} is null)`),
  ],
)
