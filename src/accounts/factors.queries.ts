import { eq, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { people, sessions } from './accounts.table.ts'
import { hashOf, newToken } from './sessions.queries.ts'

// In plain names: within one table's columns the builder leaves the table out, and passkeys have an id too.
const withCodes = sql<boolean>`exists (select from second_steps s
  where s.person_id = people.id and s.confirmed_at is not null)`
const withPasskeys = sql<boolean>`exists (select from passkeys k where k.person_id = people.id)`

interface Factors {
  readonly withCodes: boolean
  readonly withPasskeys: boolean
}

/** What a person can show beside their password. */
export async function factorsOf(database: Database, personId: string): Promise<Factors> {
  const [found] = await asDoor(database, (tx) =>
    tx.select({ withCodes, withPasskeys }).from(people).where(eq(people.id, personId)),
  )
  return found ?? { withCodes: false, withPasskeys: false }
}

/**
 * From now on more than a password was shown in this session, and it goes on by a token of its own: whoever had copied
 * the one before does not come along.
 */
export async function markFactorShown(database: Database, token: string): Promise<string> {
  const fresh = newToken()
  await asDoor(database, (tx) =>
    tx
      .update(sessions)
      .set({ tokenHash: hashOf(fresh), factorShownAt: sql`now()` })
      .where(eq(sessions.tokenHash, hashOf(token))),
  )
  return fresh
}

/** Where a factor is gone, no session of its person rests on more than a password until one is shown anew. */
export async function forgetFactorsShown(tx: Tx, personId: string): Promise<void> {
  await tx.update(sessions).set({ factorShownAt: null }).where(eq(sessions.personId, personId))
}
