import { sql } from 'drizzle-orm'
import type { Tx } from '../db/database.ts'
import { linkOf } from '../lookups/unsaid.ts'
import type { ForeignKey, PackageTable } from './package-table.ts'

/**
 * What an export leaves where it is, in the history as in the table: who is a member and was invited, that the group is
 * to be deleted here, where it came from and whom it waits for, what single members guessed and whether they agreed to
 * be named, since a person agrees here, to these keepers, and a guess is one person's: neither can stand without the
 * account it is of; and the links of reports, whose hashes would let whoever holds the file try passphrases at leisure.
 * Files that wait to be confirmed are no record yet, and sums that are kept can be made anew.
 * A table that refers to the accounts is left by that reference too (invitations). The counter is carried in the
 * descriptor. Names and addresses of people stand in tables that no group has.
 */
export const staysHere = [
  'members',
  'invitations',
  'group_endings',
  'package_origins',
  'awaited_people',
  'guesses',
  'name_agreements',
  'share_links',
  'link_openings',
  'waiting_files',
  'season_sums',
]
const left = ['group_counters', ...staysHere]
/** Whether a group asks for more than a password is said in each place anew: who brings it in may have no more. */
const leftColumns = ['groups.is_demo', 'groups.asks_factor']

/** All tables of a group, read from the database itself, so that a new one cannot be forgotten; by name. */
export async function packageTables(tx: Tx): Promise<PackageTable[]> {
  const columns = await rowsAnswered<Column>(tx.execute(columnsOfGroups))
  const keys = await rowsAnswered<Key>(tx.execute(keysOfGroups))
  const withAccounts = keys.filter((key) => key.to === 'people').map((key) => key.table)
  const leaving = new Set([...left, ...withAccounts])
  const names = [...new Set(columns.map((column) => column.table))].filter((name) => !leaving.has(name)).sort()
  return names.map((name) => ({
    name,
    columns: columns
      .filter((one) => one.table === name && !leftColumns.includes(`${name}.${one.name}`))
      .map((one) => ({ name: one.name, type: one.type, required: one.required && one.fallback !== "''::text" })),
    primaryKey: keys.find((key) => key.table === name && key.kind === 'p')?.columns ?? [],
    foreignKeys: keys.filter((key) => key.table === name && names.includes(linkOf(key.to))).map(asForeignKey),
  }))
}

interface Column {
  readonly table: string
  readonly name: string
  readonly type: string
  readonly required: boolean
  readonly fallback: string | null
}

interface Key {
  readonly table: string
  readonly kind: 'p' | 'f'
  readonly columns: string[]
  readonly to: string | null
  readonly toColumns: string[] | null
}

const asForeignKey = (key: Key): ForeignKey => ({
  columns: key.columns,
  table: linkOf(key.to),
  foreignColumns: key.toColumns ?? [],
})

export async function rowsAnswered<T>(answer: PromiseLike<unknown>): Promise<T[]> {
  return ((await answer) as { rows: T[] }).rows
}

const ofGroups = sql`n.nspname = 'public' and c.relkind in ('r', 'p') and not c.relispartition and (c.relname = 'groups'
  or exists (select from pg_attribute g where g.attrelid = c.oid and g.attname = 'group_id' and not g.attisdropped))`

const columnsOfGroups = sql`
  select c.relname::text as "table", a.attname::text as name, format_type(a.atttypid, a.atttypmod) as type,
    a.attnotnull as required, pg_get_expr(d.adbin, d.adrelid) as fallback
  from pg_class c join pg_namespace n on n.oid = c.relnamespace
    join pg_attribute a on a.attrelid = c.oid and a.attnum > 0 and not a.attisdropped
    left join pg_attrdef d on d.adrelid = c.oid and d.adnum = a.attnum
  where ${ofGroups} order by c.relname, a.attnum`

const namesOf = (relation: string, numbers: string) =>
  sql.raw(`(select array_agg(a.attname::text order by u.place) from unnest(${numbers}) with ordinality u (number, place)
    join pg_attribute a on a.attrelid = ${relation} and a.attnum = u.number)`)

const keysOfGroups = sql`
  select c.relname::text as "table", k.contype::text as kind, f.relname::text as "to",
    ${namesOf('k.conrelid', 'k.conkey')} as columns, ${namesOf('k.confrelid', 'k.confkey')} as "toColumns"
  from pg_class c join pg_namespace n on n.oid = c.relnamespace
    join pg_constraint k on k.conrelid = c.oid and k.contype in ('p', 'f')
    left join pg_class f on f.oid = k.confrelid
  where ${ofGroups} order by c.relname, k.conname`
