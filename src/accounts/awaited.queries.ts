import { and, asc, eq, isNull, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { members, people } from './accounts.table.ts'
import { awaitedPeople } from './awaited.table.ts'
import type { Role } from './role.ts'

export interface PersonMoved {
  readonly name: string
  readonly role: Role
  readonly email: string | null
}

/** All members as they go along with their group, by name; with addresses where whoever moves it says so. */
export async function peopleToMove(tx: Tx, groupId: string, withAddresses: boolean): Promise<PersonMoved[]> {
  const rows = await tx
    .select({ name: people.name, role: members.role, email: people.email })
    .from(members)
    .innerJoin(people, eq(people.id, members.personId))
    .where(eq(members.groupId, groupId))
    .orderBy(asc(people.name), asc(people.id))
  return rows.map(({ name, role, email }) => ({ name, role, email: withAddresses ? email : null }))
}

export async function awaitPeople(tx: Tx, groupId: string, createdBy: string, moved: readonly PersonMoved[]) {
  if (moved.length === 0) return
  await tx.insert(awaitedPeople).values(moved.map((one) => ({ groupId, id: newId(), createdBy, ...one })))
}

const awaitedIn = (groupId: string) => and(eq(awaitedPeople.groupId, groupId), isNull(awaitedPeople.removedAt))

export function awaitedOf(tx: Tx, groupId: string) {
  const { id, name, role, email } = awaitedPeople
  return tx.select({ id, name, role, email }).from(awaitedPeople).where(awaitedIn(groupId)).orderBy(asc(name), asc(id))
}

/** Takes one off the list, since they were invited or will not come; null where they are not on it. */
export async function awaitNoMore(tx: Tx, groupId: string, id: string): Promise<PersonMoved | null> {
  const { name, role, email } = awaitedPeople
  const [gone] = await tx
    .update(awaitedPeople)
    .set({ removedAt: sql`now()` })
    .where(and(awaitedIn(groupId), eq(awaitedPeople.id, id)))
    .returning({ name, role, email })
  return gone ?? null
}
