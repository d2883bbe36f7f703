import { createHash, randomBytes } from 'node:crypto'
import { and, eq, gt, lt, sql } from 'drizzle-orm'
import type { Database } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { people, rateLimits, sessions } from './accounts.table.ts'
import type { Person } from './members.queries.ts'

export const newToken = () => randomBytes(32).toString('base64url')

/** What is stored of a secret: who reads the database cannot use it. The token is random, so no salt is needed. */
export const hashOf = (token: string) => createHash('sha256').update(token).digest('hex')

const sessionDays = 60

/** No try counts for longer. */
const longestWindow = sql`interval '1 hour'`

/** Opens a session; what is over by then, sessions and counted tries, is swept away with it. */
export async function openSession(database: Database, personId: string): Promise<string> {
  const token = newToken()
  await asDoor(database, async (tx) => {
    await tx.delete(sessions).where(lt(sessions.expiresAt, sql`now()`))
    await tx.delete(rateLimits).where(lt(rateLimits.windowStartedAt, sql`now() - ${longestWindow}`))
    await tx
      .insert(sessions)
      .values({ tokenHash: hashOf(token), personId, expiresAt: sql`now() + make_interval(days => ${sessionDays})` })
  })
  return token
}

export async function closeSession(database: Database, token: string): Promise<void> {
  await asDoor(database, (tx) => tx.delete(sessions).where(eq(sessions.tokenHash, hashOf(token))))
}

export async function personOfSession(database: Database, token: string): Promise<Person | null> {
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ id: people.id, name: people.name, email: people.email })
      .from(sessions)
      .innerJoin(people, eq(people.id, sessions.personId))
      .where(and(eq(sessions.tokenHash, hashOf(token)), gt(sessions.expiresAt, sql`now()`))),
  )
  return found ?? null
}

/** Counts one try under a key; false where there were more than `most` within so many minutes. */
export async function mayTry(database: Database, key: string, most: number, minutes = 15): Promise<boolean> {
  const fresh = sql`${rateLimits.windowStartedAt} < now() - make_interval(mins => ${minutes})`
  const [row] = await asDoor(database, (tx) =>
    tx
      .insert(rateLimits)
      .values({ key: hashOf(key), windowStartedAt: sql`now()`, attempts: 1 })
      .onConflictDoUpdate({
        target: rateLimits.key,
        set: {
          attempts: sql`case when ${fresh} then 1 else ${rateLimits.attempts} + 1 end`,
          windowStartedAt: sql`case when ${fresh} then now() else ${rateLimits.windowStartedAt} end`,
        },
      })
      .returning({ attempts: rateLimits.attempts }),
  )
  return (row?.attempts ?? 0) <= most
}

/** Takes a counted try back, where it turned out to be a right one. */
export async function giveBackTry(database: Database, key: string): Promise<void> {
  await asDoor(database, (tx) =>
    tx
      .update(rateLimits)
      .set({ attempts: sql`greatest(0, ${rateLimits.attempts} - 1)` })
      .where(eq(rateLimits.key, hashOf(key))),
  )
}
