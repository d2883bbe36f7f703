import { hash } from '@node-rs/argon2'
import { and, eq, gt, isNull, sql } from 'drizzle-orm'
import type { Database } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { halfSignIns, passwordResets, people, sessions } from './accounts.table.ts'
import { argon, type Person } from './members.queries.ts'
import { forgetPasskeys } from './passkeys.queries.ts'
import { forgetSecondStep } from './second-step.queries.ts'
import { hashOf, newToken } from './sessions.queries.ts'

interface Reset {
  /** Whether no code is asked for any more either: for whoever has lost those too. */
  readonly withoutCodes?: boolean
  /** Whether every passkey goes too: for whoever has lost the devices, and is asked for one. */
  readonly withoutPasskeys?: boolean
}

/**
 * A token by which the person of an address chooses another password once, within an hour; null where no account has
 * it. One made before for the same person ends.
 */
export async function addReset(
  database: Database,
  email: string,
  { withoutCodes, withoutPasskeys }: Reset = {},
): Promise<string | null> {
  const token = newToken()
  return asDoor(database, async (tx) => {
    const [person] = await tx
      .select({ id: people.id })
      .from(people)
      .where(and(eq(people.email, email), isNull(people.goneAt)))
    if (!person) return null
    if (withoutCodes) await forgetSecondStep(tx, person.id)
    if (withoutPasskeys) await forgetPasskeys(tx, person.id)
    const made = { tokenHash: hashOf(token), createdAt: sql`now()`, expiresAt: sql`now() + interval '1 hour'` }
    await tx
      .insert(passwordResets)
      .values({ personId: person.id, ...made })
      .onConflictDoUpdate({ target: passwordResets.personId, set: made })
    return token
  })
}

const openFor = (token: string) =>
  and(eq(passwordResets.tokenHash, hashOf(token)), gt(passwordResets.expiresAt, sql`now()`))

/** Whom a link is for; null where it is unknown, used or over: all look alike. */
export async function personOfReset(database: Database, token: string): Promise<Person | null> {
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ id: people.id, name: people.name, email: people.email })
      .from(passwordResets)
      .innerJoin(people, eq(people.id, passwordResets.personId))
      .where(openFor(token)),
  )
  return found ?? null
}

/** The person of an address; null where none has it. */
export async function personOfAddress(database: Database, email: string): Promise<string | null> {
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ id: people.id })
      .from(people)
      .where(and(eq(people.email, email), isNull(people.goneAt))),
  )
  return found?.id ?? null
}

/** Sets the password, uses the link up, ends every session; gives whose it was, null where another has used it. */
export async function useReset(database: Database, token: string, password: string): Promise<string | null> {
  const passwordHash = await hash(password, argon)
  return asDoor(database, async (tx) => {
    const [used] = await tx
      .delete(passwordResets)
      .where(openFor(token))
      .returning({ personId: passwordResets.personId })
    if (!used) return null
    await tx.update(people).set({ passwordHash }).where(eq(people.id, used.personId))
    await tx.delete(sessions).where(eq(sessions.personId, used.personId))
    await tx.delete(halfSignIns).where(eq(halfSignIns.personId, used.personId))
    return used.personId
  })
}
