import { and, eq, sql } from 'drizzle-orm'
import { people } from '../accounts/accounts.table.ts'
import { peopleOf } from '../accounts/members.queries.ts'
import type { Tx } from '../db/database.ts'
import { newId } from '../db/new-id.ts'
import type { Author } from '../gardens/gardens.queries.ts'
import { nameAgreements } from './reports.table.ts'

/** The members of the group, each with whether a keeper wrote down that they agreed to be named. */
export async function namingsOf(tx: Tx, groupId: string) {
  const agreed = await tx
    .select({ personId: nameAgreements.personId })
    .from(nameAgreements)
    .where(and(eq(nameAgreements.groupId, groupId), eq(nameAgreements.agreed, 1)))
  const ids = new Set(agreed.map((one) => one.personId))
  return (await peopleOf(tx, groupId)).map(({ id, name }) => ({ id, name, agreed: ids.has(id) }))
}

export async function saveNamings(tx: Tx, author: Author, agreedIds: readonly string[]): Promise<void> {
  for (const { id, agreed } of await namingsOf(tx, author.groupId)) {
    const wanted = agreedIds.includes(id)
    if (wanted === agreed) continue
    await tx
      .insert(nameAgreements)
      .values({ ...author, id: newId(), personId: id, agreed: wanted ? 1 : 0 })
      .onConflictDoUpdate({
        target: [nameAgreements.groupId, nameAgreements.personId],
        set: { agreed: wanted ? 1 : 0, version: sql`${nameAgreements.version} + 1` },
      })
  }
}

/** Only these names stand on a report; taking an agreement back takes the name off the reports that are out already. */
export async function namesAgreed(tx: Tx, groupId: string): Promise<string[]> {
  const rows = await tx
    .select({ name: people.name })
    .from(nameAgreements)
    .innerJoin(people, eq(people.id, nameAgreements.personId))
    .where(and(eq(nameAgreements.groupId, groupId), eq(nameAgreements.agreed, 1)))
  return rows.map((one) => one.name).sort()
}
