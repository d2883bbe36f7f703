import { and, eq, isNull, sql } from 'drizzle-orm'
import { constraintOf } from '../db/constraint.ts'
import type { Database, Tx } from '../db/database.ts'
import { rowsRead } from '../db/rows-read.ts'
import { groupEndings, members, people } from './accounts.table.ts'

/** Days in which a group that is to be deleted can be called back, by the clock and as seen (`end_group`). */
export const daysToCallBack = 7

interface Ending {
  /** The first day on which it can end: later than was said at first where the service rested. */
  readonly endsAt: Date
  readonly askedBy: string
  readonly reason: string
}

const seenBefore = sql`(select count(*) from unnest(${groupEndings.daysSeen}) d
  where d < (now() at time zone 'UTC')::date)`
/** Today is one of the days, seen already or not. */
const firstDayToEnd = sql`greatest(${groupEndings.endsAt},
  now() + make_interval(days => (${daysToCallBack - 1} - ${seenBefore})::int))`.mapWith(groupEndings.endsAt)

/** That the group is to be deleted, by whom and why; null where it is not. */
export async function endingOf(tx: Tx, groupId: string): Promise<Ending | null> {
  const [found] = await tx
    .select({ endsAt: firstDayToEnd, askedBy: people.name, reason: groupEndings.reason })
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
    daysSeen: [],
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

/**
 * Notes that these groups were found ending today, and deletes those whose day has come, each in a transaction of its
 * own; how many. Another may have done it.
 */
export async function endDueGroups(database: Database): Promise<number> {
  const ending = sql`select group_id, ends_at <= now() as due from group_endings
    where called_back_at is null order by group_id`
  const found = await database.transaction(
    (tx) => rowsRead(tx, ending, (row) => ({ id: String(row.group_id), due: row.due === true })),
    { accessMode: 'read only' },
  )
  let ended = 0
  for (const { id, due } of found) {
    await database.transaction((tx) => tx.execute(sql`select see_group_ending(${id}::uuid)`))
    if (due && (await endedNow(database, id))) ended += 1
  }
  return ended
}

async function endedNow(database: Database, id: string): Promise<boolean> {
  try {
    await database.transaction((tx) => tx.execute(sql`select end_group(${id}::uuid)`))
    return true
  } catch (error) {
    if (constraintOf(error) !== 'group_does_not_end') throw error
    return false
  }
}
