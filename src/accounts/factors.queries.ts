import { and, eq, ne, or, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { groups, people, sessions } from './accounts.table.ts'
import { hashOf, newToken } from './sessions.queries.ts'

// In plain names: within one table's columns the builder leaves the table out, and passkeys have an id too.
const withCodes = sql<boolean>`exists (select from second_steps s
  where s.person_id = people.id and s.confirmed_at is not null)`
const withPasskeys = sql<boolean>`exists (select from passkeys k where k.person_id = people.id)`

/** Whether a group of theirs asks for one. */
const isAsked = sql<boolean>`exists (select from members m join groups g on g.id = m.group_id
  where m.person_id = people.id and g.asks_factor = 1)`

interface Factors {
  readonly withCodes: boolean
  readonly withPasskeys: boolean
  readonly isAsked: boolean
}

/** What a person can show beside their password: a passkey where the service has an address to show it for. */
export async function factorsOf(database: Database, personId: string, passkeysShown: boolean): Promise<Factors> {
  const [found] = await asDoor(database, (tx) =>
    tx.select({ withCodes, withPasskeys, isAsked }).from(people).where(eq(people.id, personId)),
  )
  if (!found) return { withCodes: false, withPasskeys: false, isAsked: false }
  return { ...found, withPasskeys: found.withPasskeys && passkeysShown }
}

/** Those members of a group who can show more than a password. */
export async function membersWithFactor(
  database: Database,
  groupId: string,
  passkeysShown: boolean,
): Promise<ReadonlySet<string>> {
  const had = passkeysShown ? or(withCodes, withPasskeys) : withCodes
  const found = await asDoor(database, (tx) =>
    tx
      .select({ id: people.id })
      .from(people)
      .where(and(sql`exists (select from members m where m.group_id = ${groupId} and m.person_id = people.id)`, had)),
  )
  return new Set(found.map(({ id }) => id))
}

/** Whether it is otherwise now than it was. */
export async function askFactor(tx: Tx, groupId: string, asks: boolean): Promise<boolean> {
  const asksFactor = asks ? 1 : 0
  const changed = await tx
    .update(groups)
    .set({ asksFactor })
    .where(and(eq(groups.id, groupId), ne(groups.asksFactor, asksFactor)))
    .returning({ id: groups.id })
  return changed.length > 0
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
