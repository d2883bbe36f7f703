import { hash } from '@node-rs/argon2'
import { and, asc, eq } from 'drizzle-orm'
import type { Database, Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import { asDoor, asMember } from '../db/transaction.ts'
import { groupCounters, groups, members, people } from './accounts.table.ts'
import type { Role } from './role.ts'
import { newToken } from './sessions.queries.ts'

export interface Person {
  readonly id: string
  readonly name: string
  readonly email: string
}

export interface Group {
  readonly id: string
  readonly slug: string
  readonly name: string
  readonly currency: string
  readonly timeZone: string
  readonly locale: string
  readonly weightUnit: 'kg' | 'lb'
  readonly areaUnit: 'm2' | 'ft2'
  /** What an hour is worth to the group, where it has said so. */
  readonly labourRateMinorPerHour?: number | null
}

export interface MemberOfGroup {
  readonly personId: string | null
  readonly role: Role
  readonly group: Group
  /** Set for a visitor of the demo group. */
  readonly visiting?: boolean
}

export interface CountedMember extends MemberOfGroup {
  /** How many changes the group's history holds. */
  readonly changes: number
}

/** argon2id, 19 MiB and two passes: the lesser of the settings that the OWASP password storage sheet advises. */
export const argon = { memoryCost: 19_456, timeCost: 2, parallelism: 1 }

export async function addPerson(
  database: Database,
  given: { name: string; email: string; password: string },
): Promise<string> {
  const id = newId()
  const passwordHash = await hash(given.password, argon)
  await asDoor(database, (tx) => tx.insert(people).values({ id, name: given.name, email: given.email, passwordHash }))
  return id
}

/** The demo group as a visitor sees it; null where the address is of another group. */
export async function demoVisitor(database: Database, slug: string): Promise<CountedMember | null> {
  const [found] = await asDoor(database, (tx) =>
    tx
      .select({ group: groups, changes: groupCounters.changes })
      .from(groups)
      .leftJoin(groupCounters, eq(groupCounters.groupId, groups.id))
      .where(and(eq(groups.slug, slug), eq(groups.isDemo, 1))),
  )
  if (!found) return null
  // A group without a counter has written nothing yet.
  return { personId: null, role: 'reader', group: found.group, visiting: true, changes: found.changes ?? 0 }
}

export function groupsOf(database: Database, personId: string) {
  return asDoor(database, (tx) =>
    tx
      .select({
        slug: groups.slug,
        name: groups.name,
        role: members.role,
        locale: groups.locale,
        timeZone: groups.timeZone,
        asksFactor: groups.asksFactor,
      })
      .from(members)
      .innerJoin(groups, eq(groups.id, members.groupId))
      .where(eq(members.personId, personId))
      .orderBy(asc(groups.id)),
  )
}

type NewGroup = Omit<Group, 'id' | 'slug'>

/** Makes the group with its first keeper; `furnish` adds what every group starts with, in the same transaction. */
export async function addGroup(
  database: Database,
  personId: string,
  given: NewGroup,
  furnish: (tx: Tx, groupId: string) => Promise<void>,
): Promise<Group> {
  const group = {
    ...given,
    id: newId(),
    slug: `${slugOf(given.name)}-${newToken()
      .slice(0, 4)
      .toLowerCase()
      .replace(/[^a-z0-9]/g, 'x')}`,
  }
  await asMember(database, { personId, groupId: group.id }, async (tx) => {
    await tx.insert(groups).values(group)
    await tx.insert(members).values({ groupId: group.id, personId, role: 'keeper' })
    await furnish(tx, group.id)
  })
  return group
}

function slugOf(name: string): string {
  const plain = name.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase()
  return (
    plain
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '')
      .slice(0, 40) || 'group'
  )
}

export async function groupAsItStands(tx: Tx, groupId: string) {
  const [group] = await tx.select().from(groups).where(eq(groups.id, groupId))
  return group
}

/** Writes over the version that was seen and no other; false where someone else has saved meanwhile. */
export async function saveGroup(tx: Tx, seen: { id: string; version: number }, given: NewGroup): Promise<boolean> {
  const written = await tx
    .update(groups)
    .set({ ...given, version: seen.version + 1 })
    .where(and(eq(groups.id, seen.id), eq(groups.version, seen.version)))
    .returning({ id: groups.id })
  return written.length === 1
}

export function peopleOf(tx: Tx, groupId: string) {
  return tx
    .select({ id: people.id, name: people.name, role: members.role })
    .from(members)
    .innerJoin(people, eq(people.id, members.personId))
    .where(eq(members.groupId, groupId))
    .orderBy(asc(people.name), asc(people.id))
}
