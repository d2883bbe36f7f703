// What a distributed PostgreSQL asks of the tables of a group, read from the catalogue of a migrated database: that each
// carries the group, that its keys begin with it and that nothing of it is joined by anything else. What does not, and
// what is of no group, is listed with what becomes of it. npm run check:distributable; ends with 1 where something is
// neither keyed by its group nor on the list. With DATABASE_URL that database, else an empty one made for it.
import { sql } from 'drizzle-orm'
import type { Database } from '../../src/db/database.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { openServer } from '../../src/db/server.ts'
import { noMatter, rulesFound, sourceTold } from './citus-rules.ts'

/** A copy on every machine; on the one that holds the directory; with the directory, and then at its group. */
export type Plan = 'reference table' | 'local table' | 'directory' | 'leaves out its key'

interface Planned {
  readonly plan: Plan
  readonly why: string
}

/** Tables that are of no group. */
const tables: Readonly<Record<string, Planned>> = {
  groups: {
    plan: 'reference table',
    why: 'Every table of a group points to it, and an address is found in it by its slug; a row a group, rarely written.',
  },
  people: {
    plan: 'reference table',
    why: 'Who belongs to a group is joined to it, and one person may belong to several; rarely written.',
  },
  ...ofPerson('passkeys', 'second_steps', 'recovery_codes', 'confirmed_keys'),
  ...ofMoment('sessions', 'half_sign_ins', 'password_resets', 'passkey_challenges', 'waiting_letters', 'rate_limits'),
  installation_keys: {
    plan: 'local table',
    why: 'A row an installation; read by whoever signs an export, on the machine that answers.',
  },
  bringings_in: {
    plan: 'leaves out its key',
    why: 'Marks a transaction by its number, which each machine counts for itself: the mark is to be keyed by its group.',
  },
}

function ofPerson(...names: readonly string[]): Record<string, Planned> {
  const plan = { plan: 'local table', why: 'How a person comes in; joined to people alone, and to no group.' } as const
  return Object.fromEntries(names.map((name) => [name, plan]))
}

function ofMoment(...names: readonly string[]): Record<string, Planned> {
  const plan = {
    plan: 'local table',
    why: 'Of one sign-in, one letter or one place; joined to people alone, or to nothing.',
  } as const
  return Object.fromEntries(names.map((name) => [name, plan]))
}

/** Keys of a group's tables that do not hold the group. */
const keys: Readonly<Record<string, Planned>> = {
  invitations_token_is_unique: {
    plan: 'directory',
    why: 'A link is looked up before its group is known. The group goes into the token, before its secret part; until then a directory of hashes and groups, local.',
  },
  share_links_token_is_unique: {
    plan: 'directory',
    why: 'As of invitations: the group inside the token, a directory for the links that are out already.',
  },
}

/** Foreign keys from a group's table to one that is of no group: allowed to a reference table, and to no other. */
const reaches = new Set(['groups', 'people'])

export interface Finding {
  readonly what: string
  readonly says: string
  readonly planned: Planned | null
}

interface Row {
  readonly what: string
  readonly name: string
  readonly says: string
}

/** What the catalogue shows that is not keyed and joined by the group. */
export async function notDistributable(database: Database): Promise<Finding[]> {
  const { rows } = (await database.drizzle.execute(asked)) as unknown as { rows: Row[] }
  return rows.map(({ what, name, says }) => ({
    what: `${what} ${name}`,
    says,
    planned:
      (what === 'table of no group' ? tables[name] : what === 'key without the group' ? keys[name] : undefined) ??
      (what === 'points outside' && reaches.has(says.split(' ').at(-1) ?? '') ? toReference : null),
  }))
}

const toReference: Planned = { plan: 'reference table', why: 'A foreign key to a reference table is allowed.' }

/** How many tables carry the group. */
export async function tablesOfGroups(database: Database): Promise<number> {
  const { rows } = (await database.drizzle.execute(
    sql`${ofGroups} select count(*)::int as count from keyed`,
  )) as unknown as {
    rows: { count: number }[]
  }
  return rows[0]?.count ?? 0
}

const ofGroups = sql`with keyed as (
  select c.oid, c.relname::text as name, a.attnum, a.attnotnull from pg_class c
  join pg_attribute a on a.attrelid = c.oid and a.attname = 'group_id' and not a.attisdropped
  where c.relkind in ('r', 'p') and not c.relispartition and c.relnamespace = 'public'::regnamespace)`

const asked = sql`${ofGroups}
  select 'table of no group' as what, c.relname::text as name, '' as says from pg_class c
    where c.relkind in ('r', 'p') and not c.relispartition and c.relnamespace = 'public'::regnamespace
      and not exists (select from keyed k where k.oid = c.oid)
  union all
  select 'may lack its group', k.name, 'group_id may be null' from keyed k where not k.attnotnull
  union all
  select 'no primary key', k.name, '' from keyed k
    where not exists (select from pg_index i where i.indrelid = k.oid and i.indisprimary)
  union all
  select 'key without the group', i.indexrelid::regclass::text, pg_get_indexdef(i.indexrelid) from keyed k
    join pg_index i on i.indrelid = k.oid and (i.indisunique or i.indisprimary)
    where not k.attnum = any(i.indkey)
  union all
  select 'excludes across groups', con.conname::text, pg_get_constraintdef(con.oid) from keyed k
    join pg_constraint con on con.conrelid = k.oid and con.contype = 'x' where not k.attnum = any(con.conkey)
  union all
  select 'joined without the group', con.conname::text, pg_get_constraintdef(con.oid) from keyed k
    join pg_constraint con on con.conrelid = k.oid and con.contype = 'f' and con.conparentid = 0
    join keyed other on other.oid = con.confrelid
    where not exists (select from unnest(con.conkey, con.confkey) as pair (own, theirs)
      where pair.own = k.attnum and pair.theirs = other.attnum)
  union all
  select 'points outside', con.conname::text, k.name || ' to ' || r.relname from keyed k
    join pg_constraint con on con.conrelid = k.oid and con.contype = 'f' and con.conparentid = 0
    join pg_class r on r.oid = con.confrelid
    where not exists (select from keyed other where other.oid = r.oid) and pg_get_constraintdef(con.oid)
      not like 'FOREIGN KEY (group_id) REFERENCES groups(id)%'
  union all
  select 'points inside', con.conname::text, c.relname || ' to ' || k.name from keyed k
    join pg_constraint con on con.confrelid = k.oid and con.contype = 'f' and con.conparentid = 0
    join pg_class c on c.oid = con.conrelid
    where not exists (select from keyed other where other.oid = c.oid)
  order by 1, 2`

/** Each rule of Citus with its source, what was read here and what becomes of what breaks it; false where nothing does. */
async function rulesTold(database: Database): Promise<boolean> {
  const all = await rulesFound(database)
  process.stdout.write('\nThe rules of Citus, read and not run:\n\n')
  for (const { rule, found } of all) {
    const became = found.length === 0 ? 'held' : found.every((one) => one.becomes !== null) ? 'not held' : 'BROKEN'
    process.stdout.write(`- ${became}: ${rule.says}\n    by ${rule.how}; ${sourceTold(rule.source)}\n`)
    for (const { name, becomes } of found) process.stdout.write(`    ${name}: ${becomes ?? 'NOT PLANNED'}\n`)
  }
  for (const { says, source, why } of noMatter)
    process.stdout.write(`- not a matter here: ${says}\n    ${why} ${sourceTold(source)}\n`)
  return all.every(({ found }) => found.every((one) => one.becomes !== null))
}

async function main(): Promise<void> {
  const database = process.env.DATABASE_URL ? await openServer(process.env.DATABASE_URL) : await openEmbedded(null)
  try {
    await database.migrate('migrations')
    const found = await notDistributable(database)
    process.stdout.write(
      `${await tablesOfGroups(database)} tables carry their group. What is not keyed and joined by it:\n\n`,
    )
    for (const { what, says, planned } of found) {
      const plan = planned ? `${planned.plan}: ${planned.why}` : 'NOT PLANNED'
      process.stdout.write(`- ${what}${says ? ` (${says})` : ''}\n    ${plan}\n`)
    }
    const isHeld = await rulesTold(database)
    if (!isHeld || found.some((one) => one.planned === null)) process.exitCode = 1
  } finally {
    await database.close()
  }
}

if (import.meta.filename === process.argv[1]) await main()
