import { getTableColumns, type SQL, sql } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import type { Tx } from './database.ts'
import { rowsIn } from './rows-read.ts'

/**
 * Inserts rows of one table by one value, a list in JSON, for each set of fields that they name: a statement with a
 * value for each field of many rows takes as long to be put together as to be run. What a row leaves out is as the
 * table has it.
 */
export async function insertAll(tx: Tx, table: PgTable, rows: readonly object[]): Promise<void> {
  for (const alike of alikeIn(rows)) await tx.execute(insertion(table, alike))
}

interface RowsOf {
  readonly table: PgTable
  readonly rows: readonly object[]
}

/**
 * The same for rows of some tables under ids of their own, but for those whose id is taken, as one statement, whose
 * answer `newIdsIn` reads. A row may point to one of another table: keys are looked at when all of it is written.
 */
export function newOf(sets: readonly RowsOf[]): SQL {
  const made = sets.flatMap(({ table, rows }, at) =>
    alikeIn(rows).map((alike) => ({ at, once: insertion(table, alike) })),
  )
  const parts = made.map(
    ({ once }, i) => sql`${named(i)} as (${once} on conflict (group_id, id) do nothing returning id)`,
  )
  const answers = made.map(({ at }, i) => sql`select ${at}::int as at, id from ${named(i)}`)
  return sql`with ${sql.join(parts, sql`, `)} ${sql.join(answers, sql` union all `)}`
}

const named = (i: number) => sql.identifier(`made${i}`)

/** The ids of the new rows of each of so many tables. */
export function newIdsIn(answer: unknown, tables: number): readonly ReadonlySet<string>[] {
  const made = Array.from({ length: tables }, () => new Set<string>())
  for (const { at, id } of rowsIn(answer)) made[Number(at)]?.add(String(id))
  return made
}

interface Alike {
  readonly fields: readonly string[]
  readonly rows: object[]
}

/** Rows that name the same fields together, in their order otherwise. */
function alikeIn(rows: readonly object[]): Alike[] {
  const found = new Map<string, Alike>()
  const sorted = new Map<string, readonly string[]>()
  for (const row of rows) {
    const given = Object.keys(row).filter((field) => Reflect.get(row, field) !== undefined)
    // Rows that were made by the same line name their fields in the same order.
    const fields = sorted.get(given.join()) ?? given.toSorted()
    sorted.set(given.join(), fields)
    const alike = found.get(fields.join()) ?? { fields, rows: [] }
    alike.rows.push(row)
    found.set(fields.join(), alike)
  }
  return [...found.values()]
}

function insertion(table: PgTable, { fields, rows }: Alike): SQL {
  const written = Object.entries(getTableColumns(table)).filter(([field]) => fields.includes(field))
  const columns = sql.join(
    written.map(([, column]) => sql.identifier(column.name)),
    sql`, `,
  )
  const given = rows.map((row) =>
    Object.fromEntries(written.map(([field, column]) => [column.name, Reflect.get(row, field)])),
  )
  return sql`insert into ${table} (${columns})
    select ${columns} from jsonb_populate_recordset(null::${table}, ${JSON.stringify(given)}::jsonb)`
}
