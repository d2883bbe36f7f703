import { getTableColumns, type SQL, sql } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import type { Tx } from './database.ts'
import { rowsRead } from './rows-read.ts'

/**
 * Inserts rows of one table by one value, a list in JSON, for each set of fields that they name: a statement with a
 * value for each field of many rows takes as long to be put together as to be run. What a row leaves out is as the
 * table has it.
 */
export async function insertAll(tx: Tx, table: PgTable, rows: readonly object[]): Promise<void> {
  for (const alike of alikeIn(rows)) await tx.execute(insertion(table, alike))
}

/** The same for rows of a group under ids of their own, but for those whose id is taken: the ids of the new ones. */
export async function insertNew(tx: Tx, table: PgTable, rows: readonly object[]): Promise<string[]> {
  const made: string[] = []
  for (const alike of alikeIn(rows)) {
    const once = sql`${insertion(table, alike)} on conflict (group_id, id) do nothing returning id`
    made.push(...(await rowsRead(tx, once, ({ id }) => String(id))))
  }
  return made
}

interface Alike {
  readonly fields: readonly string[]
  readonly rows: object[]
}

/** Rows that name the same fields together, in their order otherwise. */
function alikeIn(rows: readonly object[]): Alike[] {
  const found = new Map<string, Alike>()
  for (const row of rows) {
    const fields = Object.entries(row)
      .flatMap(([field, value]) => (value === undefined ? [] : [field]))
      .sort()
    const alike = found.get(fields.join()) ?? { fields, rows: [] }
    alike.rows.push(row)
    found.set(fields.join(), alike)
  }
  return [...found.values()]
}

function insertion(table: PgTable, { fields, rows }: Alike): SQL {
  const named = Object.entries(getTableColumns(table)).filter(([field]) => fields.includes(field))
  const columns = sql.join(
    named.map(([, column]) => sql.identifier(column.name)),
    sql`, `,
  )
  const given = rows.map((row) =>
    Object.fromEntries(named.map(([field, column]) => [column.name, Reflect.get(row, field)])),
  )
  return sql`insert into ${table} (${columns})
    select ${columns} from jsonb_populate_recordset(null::${table}, ${JSON.stringify(given)}::jsonb)`
}
