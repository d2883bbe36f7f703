import { and, asc, eq, gt, isNull, lt, type SQL, sql } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asDoor } from '../db/transaction.ts'
import { asShown } from '../lookups/unsaid.ts'
import { groups, invitations, members, people } from './accounts.table.ts'
import type { Role } from './role.ts'
import { hashOf, newToken } from './sessions.queries.ts'

const isOpen = and(
  isNull(invitations.endedAt),
  lt(invitations.taken, invitations.places),
  gt(invitations.expiresAt, sql`now()`),
) as SQL

interface NewInvitation {
  readonly groupId: string
  readonly personId: string | null
  readonly role: Role
  readonly places: number
  /** In the zone of the group. */
  readonly lastDay: string
  readonly timeZone: string
}

/** The token is given back once and only its hash is stored. */
export async function invite(tx: Tx, { groupId, personId, role, places, lastDay, timeZone }: NewInvitation) {
  const token = newToken()
  const expiresAt = sql`(${lastDay}::date + 1)::timestamp at time zone ${timeZone}`
  await tx
    .insert(invitations)
    .values({ groupId, id: newId(), tokenHash: hashOf(token), role, places, createdBy: personId, expiresAt })
  return token
}

/** Those that let someone in still, the one that ends first first. Who is no member any more has no name here. */
export function openInvitationsOf(tx: Tx, groupId: string) {
  const { id, role, places, taken, expiresAt } = invitations
  return tx
    .select({ id, role, places, taken, expiresAt, by: people.name })
    .from(invitations)
    .leftJoin(people, eq(people.id, invitations.createdBy))
    .where(and(eq(invitations.groupId, groupId), isOpen))
    .orderBy(asc(expiresAt), asc(id))
}

const end = { endedAt: sql`now()` }

/** Nothing where it is not open. */
export async function endInvitation(tx: Tx, groupId: string, id: string): Promise<void> {
  await tx
    .update(invitations)
    .set(end)
    .where(and(eq(invitations.groupId, groupId), eq(invitations.id, id), isOpen))
}

export async function endOpenInvitations(tx: Tx, groupId: string): Promise<void> {
  await tx
    .update(invitations)
    .set(end)
    .where(and(eq(invitations.groupId, groupId), isOpen))
}

export async function endInvitationsBy(tx: Tx, groupId: string, personId: string): Promise<void> {
  await tx
    .update(invitations)
    .set(end)
    .where(and(eq(invitations.groupId, groupId), eq(invitations.createdBy, personId), isOpen))
}

const openFor = (token: string) => and(eq(invitations.tokenHash, hashOf(token)), isOpen)

export async function invitationFor(database: Database, token: string) {
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ role: invitations.role, groupName: groups.name, locale: groups.locale })
      .from(invitations)
      .innerJoin(groups, eq(groups.id, invitations.groupId))
      .where(openFor(token)),
  )
  return found ?? null
}

/**
 * Takes one of the places of a link and adds the member; null where none is left. Those who press at the same moment go
 * one after the other, since each holds the invitation; whoever is in the group already takes no place.
 */
export function acceptInvitation(database: Database, token: string, personId: string) {
  return asDoor(
    database,
    async (tx) => {
      const [found] = await tx.select().from(invitations).where(openFor(token)).for('update')
      if (!found) return null
      const { groupId, role } = found
      const [group] = await tx.select({ slug: groups.slug }).from(groups).where(eq(groups.id, groupId))
      const [already] = await tx
        .select()
        .from(members)
        .where(and(eq(members.groupId, groupId), eq(members.personId, personId)))
      if (already) return { slug: asShown(group?.slug), joined: false }
      await tx
        .update(invitations)
        .set({ taken: found.taken + 1, usedAt: sql`now()`, usedBy: personId })
        .where(and(eq(invitations.groupId, groupId), eq(invitations.id, found.id)))
      await tx.insert(members).values({ groupId, personId, role })
      return { slug: asShown(group?.slug), joined: true }
    },
    personId,
  )
}
