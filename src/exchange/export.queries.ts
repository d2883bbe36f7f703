import { eq, type SQL, sql } from 'drizzle-orm'
import { groupCounters } from '../accounts/accounts.table.ts'
import type { Tx } from '../db/database.ts'
import { keyOf, type PackageColumn, type PackageTable } from './package-table.ts'
import { rowsOf } from './package-tables.queries.ts'

/** Fewer where a row may hold a whole report. */
const rowsOfPage = { withJson: 200, plain: 1000 }

export type StoredRow = Readonly<Record<string, string | null>>

/** The rows of a table in the order of their key, read in pages, every value as text that reads back to the same. */
export async function* pagesOf(tx: Tx, groupId: string, table: PackageTable): AsyncGenerator<StoredRow[]> {
  // Named with its table: by itself it would be the text of the same name that is selected, and 10 would stand before 9.
  const key = sql`t.${sql.identifier(keyOf(table))}`
  const ofGroup = table.name === 'groups' ? sql`id = ${groupId}` : sql`group_id = ${groupId}`
  const columns = sql.join(table.columns.map(asText), sql`, `)
  const most = table.columns.some(({ type }) => type === 'jsonb') ? rowsOfPage.withJson : rowsOfPage.plain
  let after: SQL = sql`true`
  for (;;) {
    const page = await rowsOf<StoredRow>(
      tx.execute(sql`select ${columns} from public.${sql.identifier(table.name)} t
        where ${ofGroup} and ${after} order by ${key} limit ${most}`),
    )
    if (page.length > 0) yield page
    if (page.length < most) return
    const last = page.at(-1)?.[keyOf(table)] ?? ''
    after = keyOf(table) === 'number' ? sql`${key} > ${last}::bigint` : sql`${key} > ${last}::uuid`
  }
}

/** Days and instants in ISO 8601, instants in UTC to the microsecond; all else as the database writes it. */
function asText({ name, type }: PackageColumn): SQL {
  const column = sql.identifier(name)
  if (type === 'timestamp with time zone') {
    return sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as ${column}`
  }
  if (type === 'date') return sql`to_char(${column}, 'YYYY-MM-DD') as ${column}`
  return sql`${column}::text as ${column}`
}

/** How many changes the group has counted: its history continues from there. */
export async function changesCounted(tx: Tx, groupId: string): Promise<number> {
  const [counter] = await tx.select().from(groupCounters).where(eq(groupCounters.groupId, groupId))
  return counter?.changes ?? 0
}
