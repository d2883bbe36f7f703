import { and, asc, eq, gt, ne, notExists, sql } from 'drizzle-orm'
import { alias } from 'drizzle-orm/pg-core'
import type { Database } from '../db/database.ts'
import { asDoor } from '../db/transaction.ts'
import { groups, invitations, members, passwordResets, people, sessions } from './accounts.table.ts'
import { forgetLetters } from './letters.queries.ts'
import { forgetPasskeys } from './passkeys.queries.ts'
import { forgetSecondStep } from './second-step.queries.ts'

export async function renamePerson(database: Database, personId: string, name: string): Promise<void> {
  await asDoor(database, (tx) => tx.update(people).set({ name }).where(eq(people.id, personId)))
}

/** A link that was sent to the old address for a forgotten password ends with it. */
export async function changeAddress(database: Database, personId: string, email: string): Promise<void> {
  await asDoor(database, async (tx) => {
    await tx.update(people).set({ email }).where(eq(people.id, personId))
    await tx.delete(passwordResets).where(eq(passwordResets.personId, personId))
  })
}

/** The groups that would have no keeper without this person, by name. */
export async function groupsKeptAlone(database: Database, personId: string): Promise<string[]> {
  const others = alias(members, 'others')
  const rows = await asDoor(database, (tx) =>
    tx
      .select({ name: groups.name })
      .from(members)
      .innerJoin(groups, eq(groups.id, members.groupId))
      .where(
        and(
          eq(members.personId, personId),
          eq(members.role, 'keeper'),
          notExists(
            tx
              .select({ one: sql`1` })
              .from(others)
              .where(
                and(
                  eq(others.groupId, members.groupId),
                  ne(others.personId, members.personId),
                  eq(others.role, 'keeper'),
                ),
              ),
          ),
        ),
      )
      .orderBy(asc(groups.name), asc(groups.id)),
  )
  return rows.map((row) => row.name)
}

/**
 * Takes the person out of all groups, ends what they opened, and leaves a row without name and address, since the
 * record says by it who wrote what. All at once or not at all: a group that would lose its last keeper refuses it.
 */
export async function deleteAccount(database: Database, personId: string): Promise<void> {
  await asDoor(
    database,
    async (tx) => {
      await tx
        .update(invitations)
        .set({ endedAt: sql`now()` })
        .where(and(eq(invitations.createdBy, personId), gt(invitations.expiresAt, sql`now()`)))
      await tx.delete(members).where(eq(members.personId, personId))
      await tx.delete(sessions).where(eq(sessions.personId, personId))
      await tx.delete(passwordResets).where(eq(passwordResets.personId, personId))
      await forgetSecondStep(tx, personId)
      await forgetPasskeys(tx, personId)
      await forgetLetters(tx, personId)
      const nobody = { name: '', email: `gone-${personId}`, passwordHash: '', goneAt: sql`now()` }
      await tx.update(people).set(nobody).where(eq(people.id, personId))
    },
    personId,
  )
}
