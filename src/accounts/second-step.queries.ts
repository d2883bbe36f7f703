import { and, count, eq, gt, isNotNull, isNull, lt, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { halfSignIns, people, recoveryCodes, secondSteps } from './accounts.table.ts'
import { forgetFactorsShown } from './factors.queries.ts'
import type { Person } from './members.queries.ts'
import { codeTyped, newRecoveryCode, newSecret, stepOf } from './one-time-codes.queries.ts'
import { hashOf, newToken } from './sessions.queries.ts'

const recoveryCodesMade = 10
const ofPerson = (personId: string) => eq(secondSteps.personId, personId)
const isOn = isNotNull(secondSteps.confirmedAt)

export async function secondStepOf(database: Database, personId: string) {
  return asDoor(database, async (tx) => {
    const [step] = await tx.select().from(secondSteps).where(ofPerson(personId))
    const [left] = await tx.select({ codes: count() }).from(recoveryCodes).where(eq(recoveryCodes.personId, personId))
    const isOn = step?.confirmedAt != null
    // No row counted is no code.
    return { isOn, waiting: step && !isOn ? step.secret : null, recoveryCodesLeft: left?.codes ?? 0 }
  })
}

/** A fresh secret that waits for its first code; nothing where one is asked for at sign-in already. */
export async function beginSecondStep(database: Database, personId: string): Promise<void> {
  const secret = newSecret()
  await asDoor(database, (tx) =>
    tx
      .insert(secondSteps)
      .values({ personId, secret })
      .onConflictDoUpdate({ target: secondSteps.personId, set: { secret }, setWhere: isNull(secondSteps.confirmedAt) }),
  )
}

/**
 * Turns it on with the first right code; gives the codes to come back by, which are kept as hashes. Null where it is
 * wrong.
 */
export async function confirmSecondStep(database: Database, personId: string, typed: string, now: Date) {
  return asDoor(database, async (tx) => {
    const [waiting] = await tx
      .select()
      .from(secondSteps)
      .where(and(ofPerson(personId), isNull(secondSteps.confirmedAt)))
      .for('update')
    const lastStep = waiting ? stepOf(waiting.secret, codeTyped(typed), now) : null
    if (lastStep === null) return null
    await tx.update(secondSteps).set({ lastStep, confirmedAt: sql`now()` }).where(ofPerson(personId))
    const codes = Array.from({ length: recoveryCodesMade }, newRecoveryCode)
    await tx.delete(recoveryCodes).where(eq(recoveryCodes.personId, personId))
    await tx.insert(recoveryCodes).values(codes.map((code) => ({ personId, codeHash: hashOf(codeTyped(code)) })))
    return codes
  })
}

export async function endSecondStep(database: Database, personId: string): Promise<void> {
  await asDoor(database, (tx) => forgetSecondStep(tx, personId))
}

export async function forgetSecondStep(tx: Tx, personId: string): Promise<void> {
  await tx.delete(halfSignIns).where(eq(halfSignIns.personId, personId))
  await tx.delete(recoveryCodes).where(eq(recoveryCodes.personId, personId))
  await tx.delete(secondSteps).where(ofPerson(personId))
  await forgetFactorsShown(tx, personId)
}

/** Whether a code is right; it is used up with that. */
export async function takeCode(database: Database, personId: string, typed: string, now: Date): Promise<boolean> {
  const code = codeTyped(typed)
  return asDoor(database, async (tx) => {
    const [on] = await tx
      .select()
      .from(secondSteps)
      .where(and(ofPerson(personId), isOn))
    const step = on ? stepOf(on.secret, code, now) : null
    if (step !== null) {
      const later = and(ofPerson(personId), lt(secondSteps.lastStep, step))
      const taken = await tx
        .update(secondSteps)
        .set({ lastStep: step })
        .where(later)
        .returning({ id: secondSteps.personId })
      return taken.length === 1
    }
    const kept = and(eq(recoveryCodes.personId, personId), eq(recoveryCodes.codeHash, hashOf(code)))
    return (await tx.delete(recoveryCodes).where(kept).returning({ id: recoveryCodes.personId })).length === 1
  })
}

/** A token for ten minutes, between the password and the code; null where no code is asked for. */
export async function beginHalfSignIn(database: Database, personId: string): Promise<string | null> {
  const token = newToken()
  return asDoor(database, async (tx) => {
    const [on] = await tx
      .select({ id: secondSteps.personId })
      .from(secondSteps)
      .where(and(ofPerson(personId), isOn))
    if (!on) return null
    await tx.delete(halfSignIns).where(lt(halfSignIns.expiresAt, sql`now()`))
    await tx
      .insert(halfSignIns)
      .values({ tokenHash: hashOf(token), personId, expiresAt: sql`now() + interval '10 minutes'` })
    return token
  })
}

export async function personHalfIn(database: Database, token: string): Promise<Person | null> {
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ id: people.id, name: people.name, email: people.email })
      .from(halfSignIns)
      .innerJoin(people, eq(people.id, halfSignIns.personId))
      .where(and(eq(halfSignIns.tokenHash, hashOf(token)), gt(halfSignIns.expiresAt, sql`now()`))),
  )
  return found ?? null
}

export async function endHalfSignIn(database: Database, token: string): Promise<void> {
  await asDoor(database, (tx) => tx.delete(halfSignIns).where(eq(halfSignIns.tokenHash, hashOf(token))))
}
