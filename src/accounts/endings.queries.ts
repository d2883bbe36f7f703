import { and, eq, isNull, sql } from 'drizzle-orm'
import { constraintOf } from '../db/constraint.ts'
import type { Database, Tx } from '../db/database.ts'
import { rowsRead } from '../db/rows-read.ts'
import { groupEndings, members, people } from './accounts.table.ts'

/** Days in which a group that is to be deleted can be called back. */
export const daysToCallBack = 7

interface Ending {
  readonly endsAt: Date
  readonly askedBy: string
  readonly reason: string
}

/** That the group is to be deleted, by whom and why; null where it is not. */
export async function endingOf(tx: Tx, groupId: string): Promise<Ending | null> {
  const [found] = await tx
    .select({ endsAt: groupEndings.endsAt, askedBy: people.name, reason: groupEndings.reason })
    .from(groupEndings)
    .innerJoin(people, eq(people.id, groupEndings.askedBy))
    .where(and(eq(groupEndings.groupId, groupId), isNull(groupEndings.calledBackAt)))
  return found ?? null
}

export async function askEnding(tx: Tx, groupId: string, given: { askedBy: string; reason: string }): Promise<void> {
  const asked = {
    ...given,
    askedAt: sql`now()`,
    endsAt: sql`now() + make_interval(days => ${daysToCallBack})`,
    calledBackAt: null,
  }
  await tx
    .insert(groupEndings)
    .values({ groupId, ...asked })
    .onConflictDoUpdate({ target: groupEndings.groupId, set: asked })
}

export async function callBack(tx: Tx, groupId: string): Promise<boolean> {
  const back = await tx
    .update(groupEndings)
    .set({ calledBackAt: sql`now()` })
    .where(and(eq(groupEndings.groupId, groupId), isNull(groupEndings.calledBackAt)))
    .returning({ groupId: groupEndings.groupId })
  return back.length > 0
}

/** Whom it touches where something is done to the whole group. */
export const membersTouched = (tx: Tx, groupId: string) =>
  tx.select({ id: members.personId }).from(members).where(eq(members.groupId, groupId))

/** Deletes the groups whose day has come, each in a transaction of its own; how many. Another may have done it. */
export async function endDueGroups(database: Database): Promise<number> {
  const due = sql`select group_id from group_endings
    where called_back_at is null and ends_at <= now() order by group_id`
  const ids = await database.transaction((tx) => rowsRead(tx, due, (row) => String(row.group_id)), {
    accessMode: 'read only',
  })
  let ended = 0
  for (const id of ids) {
    try {
      await database.transaction((tx) => tx.execute(sql`select end_group(${id}::uuid)`))
      ended += 1
    } catch (error) {
      if (constraintOf(error) !== 'group_does_not_end') throw error
    }
  }
  return ended
}
