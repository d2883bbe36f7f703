import { and, eq } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { members, people } from './accounts.table.ts'
import { endInvitationsBy, endOpenInvitations } from './invitations.queries.ts'
import type { Role } from './role.ts'

const ofGroup = (groupId: string, personId: string) => and(eq(members.groupId, groupId), eq(members.personId, personId))

export async function memberNamed(tx: Tx, groupId: string, personId: string) {
  const [found] = await tx
    .select({ id: people.id, name: people.name, role: members.role })
    .from(members)
    .innerJoin(people, eq(people.id, members.personId))
    .where(ofGroup(groupId, personId))
  return found
}

/** Whoever is no keeper any more leaves no open invitation of theirs behind. */
export async function saveRole(tx: Tx, groupId: string, personId: string, role: Role): Promise<void> {
  if (role !== 'keeper') await endInvitationsBy(tx, groupId, personId)
  await tx.update(members).set({ role }).where(ofGroup(groupId, personId))
}

/** With all open invitations: whoever is taken out may know one. */
export async function takeOut(tx: Tx, groupId: string, personId: string): Promise<void> {
  await endOpenInvitations(tx, groupId)
  await tx.delete(members).where(ofGroup(groupId, personId))
}

export async function leave(tx: Tx, groupId: string, personId: string): Promise<void> {
  await endInvitationsBy(tx, groupId, personId)
  await tx.delete(members).where(ofGroup(groupId, personId))
}
