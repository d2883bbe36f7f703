import { and, asc, eq, gt, lt, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { people, sessions } from './accounts.table.ts'
import { forgetFactorsShown } from './factors.queries.ts'
import { type ChallengePurpose, passkeyChallenges, passkeys } from './passkeys.table.ts'
import { hashOf } from './sessions.queries.ts'

/** So many a person: each is a way in. */
const mostPasskeys = 20

const minutesToAnswer = 10
/** For so long a passkey that was shown stands for the present password, in the session it was shown in. */
const minutesShown = 10

interface Asked {
  readonly challenge: string
  readonly purpose: ChallengePurpose
  readonly personId: string | null
}

/** Keeps what a device was asked to sign; what nobody answered in time is swept away. */
export async function keepChallenge(database: Database, { challenge, purpose, personId }: Asked): Promise<void> {
  await asDoor(database, async (tx) => {
    await tx.delete(passkeyChallenges).where(lt(passkeyChallenges.expiresAt, sql`now()`))
    await tx.insert(passkeyChallenges).values({
      challengeHash: hashOf(challenge),
      purpose,
      personId,
      expiresAt: sql`now() + make_interval(mins => ${minutesToAnswer})`,
    })
  })
}

/** Whether this was asked, for this and of this person, and not answered yet; it is used up with that. */
export async function takeChallenge(database: Database, { challenge, purpose, personId }: Asked): Promise<boolean> {
  const taken = await asDoor(database, (tx) =>
    tx
      .delete(passkeyChallenges)
      .where(
        and(
          eq(passkeyChallenges.challengeHash, hashOf(challenge)),
          eq(passkeyChallenges.purpose, purpose),
          sql`${passkeyChallenges.personId} is not distinct from ${personId}::uuid`,
          gt(passkeyChallenges.expiresAt, sql`now()`),
        ),
      )
      .returning({ purpose: passkeyChallenges.purpose }),
  )
  return taken.length === 1
}

const ofPerson = (personId: string) => eq(passkeys.personId, personId)

/** The first one first. */
export function passkeysOf(database: Database, personId: string) {
  return asDoor(database, (tx) =>
    tx.select().from(passkeys).where(ofPerson(personId)).orderBy(asc(passkeys.createdAt), asc(passkeys.credentialId)),
  )
}

/** A passkey with whose it is; null where nobody here has it. */
export async function passkeyNamed(database: Database, credentialId: string) {
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ passkey: passkeys, email: people.email })
      .from(passkeys)
      .innerJoin(people, eq(people.id, passkeys.personId))
      .where(eq(passkeys.credentialId, credentialId)),
  )
  return found ?? null
}

type NewPasskey = Omit<typeof passkeys.$inferInsert, 'id' | 'createdAt' | 'lastUsedAt'>

/** Whether it was added: not where somebody has it already, nor above the most that a person may have. */
export async function addPasskey(database: Database, passkey: NewPasskey): Promise<boolean> {
  return asDoor(database, async (tx) => {
    const { passkeys: had } = await waysIn(tx, passkey.personId)
    if (had >= mostPasskeys) return false
    const added = await tx
      .insert(passkeys)
      .values(passkey)
      .onConflictDoNothing()
      .returning({ id: passkeys.credentialId })
    return added.length === 1
  })
}

/** Notes that it was used, and how often the device has signed: of two that count alike only the first is let in. */
export async function useUp(database: Database, credentialId: string, counter: number): Promise<boolean> {
  const later = sql`(${passkeys.counter} < ${counter} or (${passkeys.counter} = 0 and ${counter} = 0))`
  const used = await asDoor(database, (tx) =>
    tx
      .update(passkeys)
      .set({ counter, lastUsedAt: sql`now()` })
      .where(and(eq(passkeys.credentialId, credentialId), later))
      .returning({ id: passkeys.credentialId }),
  )
  return used.length === 1
}

export async function renamePasskey(database: Database, personId: string, id: string, name: string): Promise<void> {
  await asDoor(database, (tx) =>
    tx
      .update(passkeys)
      .set({ name })
      .where(and(ofPerson(personId), eq(passkeys.id, id))),
  )
}

/** Takes one away and gives its name; null where it is not theirs, 'last' where they would have no way in left. */
export async function removePasskey(
  database: Database,
  personId: string,
  id: string,
): Promise<{ name: string } | 'last' | null> {
  return asDoor(database, async (tx) => {
    const ways = await waysIn(tx, personId)
    if (!ways.withPassword && ways.passkeys < 2) return 'last'
    const gone = and(ofPerson(personId), eq(passkeys.id, id))
    const [removed] = await tx.delete(passkeys).where(gone).returning({ name: passkeys.name })
    if (removed) await forgetFactorsShown(tx, personId)
    return removed ?? null
  })
}

/** Leaves the passkeys as the only way in; false where there is none. */
export async function giveUpPassword(database: Database, personId: string): Promise<boolean> {
  return asDoor(database, async (tx) => {
    if ((await waysIn(tx, personId)).passkeys === 0) return false
    await tx.update(people).set({ passwordHash: '' }).where(eq(people.id, personId))
    return true
  })
}

/** How this person can come in, held until the end of the transaction: two who take one away wait for each other. */
async function waysIn(tx: Tx, personId: string): Promise<{ withPassword: boolean; passkeys: number }> {
  const [person] = await tx
    .select({ withPassword: sql<boolean>`${people.passwordHash} <> ''` })
    .from(people)
    .where(eq(people.id, personId))
    .for('update')
  const had = await tx.select({ id: passkeys.credentialId }).from(passkeys).where(ofPerson(personId))
  return { withPassword: person?.withPassword ?? false, passkeys: had.length }
}

/** All of a person's, with what was asked of them. */
export async function forgetPasskeys(tx: Tx, personId: string): Promise<void> {
  await tx.delete(passkeyChallenges).where(eq(passkeyChallenges.personId, personId))
  await tx.delete(passkeys).where(ofPerson(personId))
  await forgetFactorsShown(tx, personId)
}

/** From now on, for some minutes, this session is that of somebody who has just shown a passkey of theirs. */
export async function markShown(database: Database, token: string): Promise<void> {
  await asDoor(database, (tx) =>
    tx
      .update(sessions)
      .set({ shownUntil: sql`now() + make_interval(mins => ${minutesShown})` })
      .where(eq(sessions.tokenHash, hashOf(token))),
  )
}

/** What a person can show that they are there: whether they have just done so, a password, a passkey. */
export async function presenceOf(database: Database, personId: string, token: string) {
  const here = and(eq(sessions.personId, people.id), eq(sessions.tokenHash, hashOf(token)))
  return asDoor(database, async (tx) => {
    const [found] = await tx
      .select({
        isShown: sql<boolean>`coalesce(${sessions.shownUntil} > now(), false)`,
        withPassword: sql<boolean>`${people.passwordHash} <> ''`,
      })
      .from(people)
      .leftJoin(sessions, here)
      .where(eq(people.id, personId))
    const [one] = await tx.select({ id: passkeys.id }).from(passkeys).where(ofPerson(personId)).limit(1)
    const withPasskeys = one !== undefined
    return { isShown: found?.isShown ?? false, withPassword: found?.withPassword ?? false, withPasskeys }
  })
}
