import { createHmac } from 'node:crypto'
import { hash, verify } from '@node-rs/argon2'
import { eq } from 'drizzle-orm'
import type { Database } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { halfSignIns, passwordResets, people, sessions } from './accounts.table.ts'
import { argon } from './members.queries.ts'
import { giveBackTry, mayTry, newToken } from './sessions.queries.ts'

/** By account and place, in an hour, so that a stranger closes an account to their own place alone. */
const mostTries = 10
/** By account, from everywhere: above it only a browser that was signed in before may try. */
const mostOfAll = 100

interface PasswordTried {
  readonly email: string
  readonly password: string
  /** Whose tries are counted together: a place, or what marks a browser that was signed in before, or is now. */
  readonly by: string
  readonly known: boolean
}

/** Checks a password under the limits that hold wherever one is asked for. A right one is not counted. */
export async function passwordTried(
  database: Database,
  { email, password, by, known }: PasswordTried,
): Promise<{ kind: 'right'; personId: string } | { kind: 'wrong' } | { kind: 'too-often' }> {
  const tries = [
    [`sign-in ${email} ${by}`, mostTries, 60],
    [`sign-in at ${by}`, 60, 15],
    [`sign-in ${email}`, known ? Number.POSITIVE_INFINITY : mostOfAll, 60],
  ] as const
  for (const [key, most, minutes] of tries) {
    if (!(await mayTry(database, key, most, minutes))) return { kind: 'too-often' }
  }
  const personId = await personWithPassword(database, email, password)
  if (!personId) return { kind: 'wrong' }
  for (const [key] of tries) await giveBackTry(database, key)
  return { kind: 'right', personId }
}

/** A hash is checked for an unknown address too, so that the time taken does not tell who has an account. */
async function personWithPassword(database: Database, email: string, password: string): Promise<string | null> {
  const [found] = await asDoor(database, (tx) => tx.select().from(people).where(eq(people.email, email)))
  // Whoever comes in by passkeys alone has none.
  const right = await verify(found?.passwordHash || (await decoy), password)
  return found && right ? found.id : null
}

const decoy = hash(newToken(), argon)

/**
 * What marks a browser that this person has signed in with: it holds until the password is changed. Null where there is
 * none to be tried.
 */
export async function markOf(database: Database, email: string): Promise<string | null> {
  const [found] = await asDoor(database, (tx) => tx.select().from(people).where(eq(people.email, email)))
  return found?.passwordHash
    ? createHmac('sha256', found.passwordHash).update(`known to ${found.id}`).digest('base64url')
    : null
}

/** Sets another password and ends every session, the one that asks too, and a link that was made to choose it anew. */
export async function changePassword(database: Database, personId: string, password: string): Promise<void> {
  const passwordHash = await hash(password, argon)
  await asDoor(database, async (tx) => {
    await tx.update(people).set({ passwordHash }).where(eq(people.id, personId))
    await tx.delete(sessions).where(eq(sessions.personId, personId))
    await tx.delete(passwordResets).where(eq(passwordResets.personId, personId))
    await tx.delete(halfSignIns).where(eq(halfSignIns.personId, personId))
  })
}
