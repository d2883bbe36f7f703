import { randomBytes } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { sql } from 'drizzle-orm'
import { inject } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { openServer } from '../../src/db/server.ts'
import { onServer } from './server.ts'

const server = process.env.TEST_DATABASE_URL

interface Resting {
  readonly database: Database
  /** What it is made of, as the migrations left it. */
  readonly made: readonly string[]
}

/** What this worker's files have closed and emptied: to open one takes nothing, to restore or drop one a second. */
const resting: Resting[] = []

/**
 * A migrated, empty database of its own: in memory, or on the server that TEST_DATABASE_URL names. The next file of
 * this worker is given it, so a file that leaves a table, a function, a grant or a trigger of its own behind fails.
 */
export async function openTestDatabase(): Promise<Database> {
  const { database, made } = resting.pop() ?? (await opened())
  return {
    ...database,
    close: async () => {
      await empty(database)
      const left = await madeOf(database)
      const changed = [...left.filter((one) => !made.includes(one)), ...made.filter((one) => !left.includes(one))]
      if (changed.length > 0) throw new Error(`not as it was opened: ${changed.join('; ')}`)
      resting.push({ database, made })
    },
  }
}

async function opened(): Promise<Resting> {
  const database = server ? await openCreated(server, inject('template')) : await restored()
  return { database, made: await madeOf(database) }
}

/** Each table, view, column's grants, policy, trigger and function of the schema, in a line. */
async function madeOf({ drizzle }: Database): Promise<readonly string[]> {
  const found = (await drizzle.execute(sql`with here as (select * from pg_class
      where relnamespace = 'public'::regnamespace and relkind in ('r', 'p', 'v', 'm', 'S', 'f'))
    select concat_ws(' ', 'table', relname, relkind, relrowsecurity, relforcerowsecurity, relacl::text, (select
      string_agg(attname || ' ' || attacl::text, ' ' order by attnum) from pg_attribute where attrelid = here.oid))
      as says from here
    union all select concat_ws(' ', 'trigger', tgname, 'of', relname, tgenabled) from pg_trigger
      join here on here.oid = tgrelid where not tgisinternal
    union all select concat_ws(' ', 'policy', polname, 'of', relname, pg_get_expr(polqual, polrelid)) from pg_policy
      join here on here.oid = polrelid
    union all select concat_ws(' ', 'function', proname, proacl::text, md5(prosrc)) from pg_proc
      where pronamespace = 'public'::regnamespace order by 1`)) as unknown as { rows: { says: string }[] }
  return found.rows.map(({ says }) => says)
}

/** An empty database in which no migration was run. */
export async function openBareDatabase(): Promise<Database> {
  return server ? openCreated(server, 'template1') : openEmbedded(null)
}

const restored = () => openEmbedded(null, { template: new Blob([readFileSync(inject('template'))]) })

/** Dropped with all others of this run, at its end. Nothing in it has to outlive the server. */
async function openCreated(server: string, from: string): Promise<Database> {
  const name = `${inject('template')}_${randomBytes(6).toString('hex')}`
  await onServer(server, `create database ${name} template ${from}`)
  await onServer(server, `alter database ${name} set synchronous_commit = off`)
  const url = new URL(server)
  url.pathname = `/${name}`
  return openServer(url.href)
}

/** As it was restored: no row but those of the migrations. */
async function empty({ drizzle }: Database): Promise<void> {
  const found = (await drizzle.execute(
    sql`select format('%I', relname) as name from pg_class
      where relkind in ('r', 'p') and not relispartition and relnamespace = 'public'::regnamespace`,
  )) as unknown as { rows: { name: string }[] }
  const all = found.rows.map(({ name }) => name)
  // Of those that hold nothing, nothing is deleted: most, after most files.
  const tables = await holdingRows(drizzle, all)
  if (tables.length === 0) return
  // To truncate writes each table and index anew; the walls and the history of what is deleted do not hold here.
  const deleted = tables.map((table) => `delete from ${table}`)
  await drizzle.transaction(async (tx) => {
    await tx.execute(sql`set local session_replication_role = replica`)
    for (const statement of deleted) await tx.execute(sql.raw(statement))
  })
  await drizzle.execute(sql.raw(`vacuum ${tables.join(', ')}`))
}

async function holdingRows(drizzle: Database['drizzle'], tables: readonly string[]): Promise<string[]> {
  const each = tables.map((table) => `select '${table}' as name where exists (select from ${table})`)
  const found = (await drizzle.execute(sql.raw(each.join(' union all ')))) as unknown as { rows: { name: string }[] }
  return found.rows.map(({ name }) => name)
}
