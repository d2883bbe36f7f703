import { getTableColumns, sql } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import type { Tx } from './database.ts'

/**
 * Inserts rows of one table by one value, a list in JSON: a statement with a value for each field of many rows takes as
 * long to be put together as to be run. All rows name the same fields; what they leave out is as the table has it.
 */
export async function insertAll(tx: Tx, table: PgTable, rows: readonly object[]) {
  const [first] = rows
  if (first === undefined) return
  const fields = Object.entries(getTableColumns(table)).filter(([field]) => field in first)
  const columns = sql.join(
    fields.map(([, column]) => sql.identifier(column.name)),
    sql`, `,
  )
  const given = rows.map((row) =>
    Object.fromEntries(fields.map(([field, column]) => [column.name, Reflect.get(row, field)])),
  )
  await tx.execute(sql`insert into ${table} (${columns})
    select ${columns} from jsonb_populate_recordset(null::${table}, ${JSON.stringify(given)}::jsonb)`)
}
