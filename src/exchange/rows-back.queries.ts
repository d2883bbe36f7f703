import { and, desc, eq, inArray, min, type SQL, sql } from 'drizzle-orm'
import { changes } from '../accounts/accounts.table.ts'
import type { Tx } from '../db/database.ts'
import { rowsRead } from '../db/rows-read.ts'
import { catalogue } from '../words/catalogue.ts'

const words = catalogue.rows
const filesListed = 10

/** What stands before the reason of each row that was taken back with its file: the same file can put those back. */
export const takenBackMark = `${words.takenBack}: `

/** The first number in the history of what this transaction wrote into a table. */
export async function firstWritten(tx: Tx, groupId: string, tableName: string): Promise<number | null> {
  const [found] = await tx
    .select({ first: min(changes.number) })
    .from(changes)
    .where(and(eq(changes.groupId, groupId), eq(changes.tableName, tableName), sql`${changes.changedAt} = now()`))
  return found?.first == null ? null : Number(found.first)
}

/** The files that were stored last, each known by the first number that its rows have in the history. */
export function filesStored(tx: Tx, groupId: string, tableNames: readonly string[]) {
  return tx
    .select({
      first: sql<number>`min(${changes.number})`.mapWith(Number),
      rows: sql<number>`count(*)`.mapWith(Number),
      tableName: changes.tableName,
      storedAt: changes.changedAt,
      personId: changes.personId,
    })
    .from(changes)
    .where(
      and(
        eq(changes.groupId, groupId),
        eq(changes.reason, words.reasonKept),
        inArray(changes.tableName, [...tableNames]),
      ),
    )
    .groupBy(changes.tableName, changes.changedAt, changes.personId)
    .orderBy(desc(changes.changedAt))
    .limit(filesListed)
}

interface StoredFile {
  readonly tableName: string
  readonly storedAt: Date
  readonly personId: string | null
  readonly rows: number
  /** How many stand as the file brought them; those can be taken back. */
  readonly untouched: number
  /** Whether a week or a season of its rows was closed since. */
  readonly closed: boolean
}

/** A stored file by the first number of its rows; undefined where no file begins there. */
export async function storedFile(tx: Tx, groupId: string, first: number): Promise<StoredFile | undefined> {
  const [begin] = await tx
    .select()
    .from(changes)
    .where(and(eq(changes.groupId, groupId), eq(changes.number, first), eq(changes.reason, words.reasonKept)))
  if (!begin || (await firstOf(tx, groupId, first, begin.tableName)) !== first) return undefined
  const { tableName, changedAt: storedAt, personId } = begin
  const written = writtenBy(groupId, first, tableName)
  const counted = await rowsFrom(
    tx,
    sql`select count(*) as rows, count(*) filter (where ${untouched}) as untouched
      from (${written}) c left join ${sql.identifier(tableName)} t
        on t.group_id = ${groupId} and t.id = c.row_id::uuid`,
  )
  const closed = await rowsFrom(tx, closedSince(groupId, first, written))
  return {
    tableName,
    storedAt,
    personId,
    closed: closed[0]?.closed === true,
    rows: Number(counted[0]?.rows),
    untouched: Number(counted[0]?.untouched),
  }
}

/** Marks the rows of a file that nobody has touched since as removed: how many. */
export async function takeFileBack(
  tx: Tx,
  groupId: string,
  given: { first: number; tableName: string; reason: string },
) {
  const { first, tableName, reason } = given
  const taken = await rowsFrom(
    tx,
    sql`with taken as (
        update ${sql.identifier(tableName)} t
        set removed_at = now(), removed_reason = ${takenBackMark + reason}, version = t.version + 1
        from (${writtenBy(groupId, first, tableName)}) c
        where t.group_id = ${groupId} and t.id = c.row_id::uuid and ${untouched} returning 1
      ) select count(*) as rows from taken`,
  )
  return Number(taken[0]?.rows)
}

const untouched = sql`t.removed_at is null and t.version = (c.after ->> 'version')::int`

/** What one transaction wrote into a table has one moment and one writer. */
const writtenBy = (groupId: string, first: number, tableName: string): SQL =>
  sql`select own.row_id, own.after from changes own
    join changes begin on begin.group_id = own.group_id and begin.number = ${first}
    where own.group_id = ${groupId} and own.number >= ${first} and own.table_name = ${tableName}
      and own.changed_at = begin.changed_at and own.person_id is not distinct from begin.person_id`

const firstOf = async (tx: Tx, groupId: string, first: number, tableName: string) => {
  const found = await rowsFrom(
    tx,
    sql`select min(own.number) as first from changes own
      join changes begin on begin.group_id = own.group_id and begin.number = ${first}
      where own.group_id = ${groupId} and own.table_name = ${tableName} and own.changed_at = begin.changed_at`,
  )
  return Number(found[0]?.first)
}

const closedSince = (groupId: string, first: number, written: SQL): SQL =>
  sql`with begin as (select changed_at from changes where group_id = ${groupId} and number = ${first}),
      own as (${written})
    select exists (
        select 1 from week_closings w, begin where w.group_id = ${groupId} and w.reopened_at is null
          and w.closed_at >= begin.changed_at and w.iso_week in (select after ->> 'iso_week' from own)
      ) or exists (
        select 1 from seasons s, begin where s.group_id = ${groupId} and s.removed_at is null
          and s.closed_at >= begin.changed_at and s.id::text in (select after ->> 'season_id' from own)
      ) as closed`

const rowsFrom = (tx: Tx, query: SQL) => rowsRead(tx, query, (row) => row)
