import { inArray, type SQL, sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { keyOf, type PackageColumn, type PackageTable } from './package-table.ts'
import { rowsAnswered, staysHere } from './package-tables.queries.ts'

/** Fewer where a row may hold a whole report, or a picture. */
function rowsAtOnce({ columns }: PackageTable): number {
  const types = new Set(columns.map(({ type }) => type))
  if (types.has('bytea')) return 20
  return types.has('jsonb') ? 200 : 1000
}

export type StoredRow = Readonly<Record<string, string | null>>

/** Reads a part of the record; all that is read so is of one moment, or one of the parts throws. */
export type ReadPart = <T>(work: (tx: Tx) => Promise<T>) => Promise<T>

/** The rows of a table in the order of their key, read in pages, every value as text that reads back to the same. */
export async function* pagesOf(read: ReadPart, groupId: string, table: PackageTable): AsyncGenerator<StoredRow[]> {
  // Named with its table: by itself it would be the text of the same name that is selected, and 10 would stand before
  // 9.
  const key = keyOf(table)
  const order = sql.join(
    key.map(({ name }) => sql`t.${sql.identifier(name)}`),
    sql`, `,
  )
  const ofGroup = table.name === 'groups' ? sql`id = ${groupId}` : sql`group_id = ${groupId}`
  const columns = sql.join(
    table.columns.map((column) => (saysOfWhatStays(table, column) ? toldOfNobody(column) : asText(column))),
    sql`, `,
  )
  const most = rowsAtOnce(table)
  let after: SQL = sql`true`
  for (;;) {
    const rows = sql`select ${columns} from public.${sql.identifier(table.name)} t
      where ${ofGroup} and ${after} order by ${order} limit ${most}`
    const page = await read((tx) => rowsAnswered<StoredRow>(tx.execute(rows)))
    if (page.length > 0) yield page
    if (page.length < most) return
    // A key has no null: only a page without rows has no last one, and then none follows.
    const last = key.map(({ name, type }) => sql`${page.at(-1)?.[name] ?? ''}::${sql.raw(type)}`)
    after = sql`(${order}) > (${sql.join(last, sql`, `)})`
  }
}

/**
 * What the history says of a row: left out where the row's table stays here. Its number goes along, so that none is
 * missing.
 */
const saysOfWhatStays = (table: PackageTable, { name }: PackageColumn) =>
  table.name === 'changes' && documents.includes(name)
const documents = ['before', 'after', 'reason']

const toldOfNobody = ({ name }: PackageColumn) =>
  sql`case when ${inArray(sql`t.table_name`, staysHere)} then null
    else t.${sql.identifier(name)}::text end as ${sql.identifier(name)}`

/**
 * Days and instants in ISO 8601, instants in UTC to the microsecond; bytes in base64; all else as the database writes
 * it.
 */
function asText({ name, type }: PackageColumn): SQL {
  const column = sql.identifier(name)
  if (type === 'timestamp with time zone') {
    return sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as ${column}`
  }
  if (type === 'bytea') return sql`translate(encode(${column}, 'base64'), E'\\n', '') as ${column}`
  if (type === 'date') return sql`to_char(${column}, 'YYYY-MM-DD') as ${column}`
  return sql`${column}::text as ${column}`
}
