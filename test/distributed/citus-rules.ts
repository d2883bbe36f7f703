// What the stored documentation of Citus, and its source where that says more, ask of tables and statements, rule by rule,
// each beside the query that reads it from our catalogue or our code. There is no Citus here: it was read, not run.
import { readdirSync, readFileSync } from 'node:fs'
import { sql } from 'drizzle-orm'
import type { Database } from '../../src/db/database.ts'

type Source = { readonly at: string } | 'from memory'

export interface Rule {
  readonly says: string
  readonly source: Source
  /** What breaks it, by name, and what becomes of that; held where nothing does. */
  readonly breaches: (database: Database) => Promise<string[]>
  readonly becomes: (breach: string) => string | null
  readonly how: string
}

const docs = 'https://docs.citusdata.com/en'
const code = 'https://github.com/citusdata/citus'
const written = 'https://github.com/citusdata/citus_docs/blob'
const ddl = { at: `${written}/059d4ba287cf7b8cb46d26f091efb891068956e9/develop/reference_ddl.rst` }
const settings = { at: `${written}/015bc446410726770c10ed57ecc3caf1c73de5c0/develop/api_guc.rst` }
const workarounds = { at: `${docs}/stable/develop/reference_workarounds.html` }
const foreign = {
  at: `${code}/blob/00a7bc3044a3396b9166e1939ddc881aa2245da6/src/backend/distributed/commands/foreign_constraint.c`,
}

const keyed = sql`keyed as (
  select c.oid, c.relname::text as name, a.attnum, a.atttypid, a.attnotnull from pg_class c
  join pg_attribute a on a.attrelid = c.oid and a.attname = 'group_id' and not a.attisdropped
  where c.relkind in ('r', 'p') and not c.relispartition and c.relnamespace = 'public'::regnamespace)`
const copied = sql`('groups', 'people')`
const nothing = () => null

const catalogue = (asked: ReturnType<typeof sql>) => async (database: Database) => {
  const { rows } = (await database.drizzle.execute(sql`with ${keyed} ${asked}`)) as unknown as {
    rows: { name: string }[]
  }
  return rows.map(({ name }) => name)
}

/** Lines of the service that match, by their file. */
export function linesWith(pattern: RegExp, files: ReadonlyMap<string, string>): string[] {
  return [...files].flatMap(([path, text]) => (pattern.test(text) ? [path] : []))
}

function service(): ReadonlyMap<string, string> {
  const paths = readdirSync('src', { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.ts'))
  return new Map(paths.map((path) => [`src/${path}`, readFileSync(`src/${path}`, 'utf8')]))
}

const inCode = (pattern: RegExp) => async () => linesWith(pattern, service())

const directory = 'directory: the group goes into the token; until then hashes and groups in a local table'
/** Measured on PostgreSQL 15 beside other work: 30, 1,000, 10,000 and 50,000 rows took 2, 2.5, 4.5 and 13 times as long. */
const rowByRow =
  'replaced: a trigger of each row with the same function; tried in plain PostgreSQL (npm run test:by-row). A sheet takes twice as long, a file of 50,000 rows 13 times, since each row moves the count again'

export const setsByFunction = /set_config\('evenground\./
export const volatileCalls = /\b(random|gen_random_uuid|clock_timestamp|nextval|timeofday)\(\)/
export const movesGroup = /\.set\(\{[^}]*\bgroupId\b/

export const rules: readonly Rule[] = [
  {
    says: 'A primary key or a unique one holds the distribution column.',
    source: ddl,
    breaches:
      catalogue(sql`select i.indexrelid::regclass::text as name from keyed k join pg_index i on i.indrelid = k.oid
      and i.indisunique where not k.attnum = any(i.indkey)`),
    becomes: (name) =>
      ['share_links_token_is_unique', 'invitations_token_is_unique'].includes(name) ? directory : null,
    how: 'pg_index of every table with group_id',
  },
  {
    says: 'An exclusion holds the distribution column with an equality operator.',
    source: { at: 'https://learn.microsoft.com/en-us/azure/cosmos-db/postgresql/tutorial-shard' },
    breaches: catalogue(sql`select con.conname::text as name from keyed k join pg_constraint con on con.conrelid = k.oid
      and con.contype = 'x' where not exists (select from unnest(con.conkey, con.conexclop) as pair (own, operator)
        join pg_operator o on o.oid = pair.operator where pair.own = k.attnum and o.oprname = '=')`),
    becomes: nothing,
    how: 'pg_constraint, its operators',
  },
  {
    says: 'A foreign key leads to a table that lies together, by the distribution column in the same place, or to a reference table.',
    source: foreign,
    breaches: catalogue(sql`select con.conname::text as name from keyed k join pg_constraint con on con.conrelid = k.oid
      and con.contype = 'f' and con.conparentid = 0 join pg_class r on r.oid = con.confrelid
      where r.relname not in ${copied} and not exists (select from keyed other, unnest(con.conkey, con.confkey) as pair
        (own, theirs) where other.oid = r.oid and pair.own = k.attnum and pair.theirs = other.attnum)`),
    becomes: nothing,
    how: 'pg_constraint; groups and people are the reference tables',
  },
  {
    says: 'With the distribution column in it a foreign key neither sets null or a default nor cascades an update.',
    source: foreign,
    breaches: catalogue(sql`select con.conname::text as name from keyed k join pg_constraint con on con.conrelid = k.oid
      and con.contype = 'f' and k.attnum = any(con.conkey)
      where con.confdeltype in ('n', 'd') or con.confupdtype in ('n', 'd', 'c')`),
    becomes: nothing,
    how: 'pg_constraint, its actions',
  },
  {
    says: 'No reference or local table has a foreign key to a distributed one.',
    source: ddl,
    breaches:
      catalogue(sql`select con.conname::text as name from keyed k join pg_constraint con on con.confrelid = k.oid
      and con.contype = 'f' and con.conparentid = 0 where not exists (select from keyed own where own.oid = con.conrelid)`),
    becomes: nothing,
    how: 'pg_constraint, from the other side',
  },
  {
    says: 'Tables that lie together have distribution columns of one type, and none of them is null.',
    source: ddl,
    breaches: catalogue(sql`select name from keyed where atttypid <> 'uuid'::regtype or not attnotnull`),
    becomes: nothing,
    how: 'pg_attribute',
  },
  {
    says: 'A trigger of a statement is refused on a distributed table, with whatever setting.',
    source: { at: `${code}/pull/5705` },
    breaches: catalogue(sql`select distinct p.proname::text as name from keyed k join pg_trigger g on g.tgrelid = k.oid
      and not g.tgisinternal and g.tgtype & 1 = 0 join pg_proc p on p.oid = g.tgfoid`),
    becomes: (name) =>
      name.startsWith('forget_') || ['write_history', 'beds_fit', 'bed_areas_fit', 'plantings_fit'].includes(name)
        ? rowByRow
        : null,
    how: 'pg_trigger; the history is one of them',
  },
  {
    says: 'A trigger of each row wants citus.enable_unsafe_triggers, off at first, and may touch rows of its own shard alone.',
    source: { at: `${code}/pull/5705` },
    breaches: catalogue(sql`select distinct p.proname::text as name from keyed k join pg_trigger g on g.tgrelid = k.oid
      and not g.tgisinternal and g.tgtype & 1 = 1 join pg_proc p on p.oid = g.tgfoid`),
    becomes: (name) =>
      withinGroup.has(name) ? 'kept, with the setting: it reads and writes rows of the same group; not tried' : null,
    how: 'pg_trigger, each function by its name',
  },
  {
    says: 'A reference table has no trigger.',
    source: { at: `${code}/issues/4425` },
    breaches: catalogue(sql`select c.relname || ': ' || p.proname as name from pg_trigger g join pg_class c
      on c.oid = g.tgrelid and c.relname in ${copied} join pg_proc p on p.oid = g.tgfoid where not g.tgisinternal
      group by 1`),
    becomes: (name) =>
      ['groups: write_history', 'groups: guard_asking'].includes(name)
        ? 'replaced: the settings of a group go into a table with group_id, the directory keeps slug and id; not tried'
        : null,
    how: 'pg_trigger of groups and people',
  },
  {
    says: 'A policy holds no subquery.',
    source: {
      at: `${code}/blob/07ffb51e55a0dacf38c3f598020c8d4242aea0c0/src/backend/distributed/commands/policy.c`,
    },
    breaches: catalogue(sql`select distinct p.policyname::text as name from pg_policies p where p.schemaname = 'public'
      and p.qual || coalesce(p.with_check, '') ~* '\\mselect\\M' and (p.tablename in ${copied}
      or p.tablename in (select name from keyed))`),
    becomes: (name) =>
      name === 'group_wall'
        ? 'replaced: the stable function by itself; tried in plain PostgreSQL (npm run test:by-row)'
        : name === 'people_of_the_group'
          ? 'replaced: a function; tried in plain PostgreSQL, not whether a worker may ask it'
          : null,
    how: 'pg_policies',
  },
  {
    says: 'Of settings only SET LOCAL reaches the workers, where citus.propagate_set_commands is local; it is none at first.',
    source: settings,
    breaches: inCode(setsByFunction),
    becomes: (path) =>
      path === 'src/db/transaction.ts'
        ? 'replaced: SET LOCAL in place of set_config, and the setting; without them a wall shows nothing; not tried'
        : null,
    how: 'set_config in the code of the service',
  },
  {
    says: 'What is asked of several shards has no FOR UPDATE, recursion, sets of groupings or TABLESAMPLE, and few correlated subqueries.',
    source: workarounds,
    breaches: catalogue(sql`select distinct k.name from keyed k join pg_policies p on p.schemaname = 'public'
      and p.tablename = k.name and 'evenground_door' = any(p.roles)`),
    becomes: (name) =>
      ['members', 'invitations', 'share_links', 'group_counters'].includes(name)
        ? `${directory}; who belongs to what is asked of all shards until a directory of members stands beside it`
        : null,
    how: 'policies of the door, which alone reads over groups; all else is of one group, on one shard, where all SQL is allowed',
  },
  {
    says: 'Functions in an update of a distributed table are not volatile.',
    source: workarounds,
    breaches: inCode(volatileCalls),
    becomes: nothing,
    how: 'calls in the code of the service; now() is stable',
  },
  {
    says: 'A sequence that a distributed table takes from is of bigint.',
    source: workarounds,
    breaches: catalogue(sql`select distinct c.relname::text as name from keyed k join pg_depend d on d.refobjid = k.oid
      and d.refclassid = 'pg_class'::regclass join pg_sequence s on s.seqrelid = d.objid and s.seqtypid <> 'int8'::regtype
      join pg_class c on c.oid = s.seqrelid`),
    becomes: nothing,
    how: 'pg_sequence',
  },
  {
    says: 'There are no rules, and no views that are written through.',
    source: workarounds,
    breaches: catalogue(sql`select c.relname::text as name from pg_rewrite r join pg_class c on c.oid = r.ev_class
      where c.relnamespace = 'public'::regnamespace`),
    becomes: nothing,
    how: 'pg_rewrite',
  },
  {
    says: 'A partitioned table has one level.',
    source: workarounds,
    breaches: catalogue(sql`select c.relname::text as name from pg_class c where c.relkind = 'p' and c.relispartition`),
    becomes: nothing,
    how: 'pg_class',
  },
  {
    says: 'Rows are moved between machines, while they are written to, by logical replication, so a table has a primary key.',
    source: { at: 'https://www.citusdata.com/updates/v11-0/' },
    breaches: catalogue(sql`select k.name from keyed k
      where not exists (select from pg_index i where i.indrelid = k.oid and i.indisprimary)`),
    becomes: nothing,
    how: 'pg_index; that the key is what it wants is of PostgreSQL’s manual, logical replication',
  },
  {
    says: 'The extensions are among those that work beside it.',
    source: { at: 'https://pgxn.org/dist/citus/14.0.0/EXTENSION_COMPATIBILITY.html' },
    breaches: catalogue(
      sql`select extname::text as name from pg_extension where extname not in ('plpgsql', 'btree_gist')`,
    ),
    becomes: nothing,
    how: 'pg_extension: btree_gist is said to work',
  },
  {
    says: 'The distribution column of a row never changes.',
    source: 'from memory',
    breaches: inCode(movesGroup),
    becomes: nothing,
    how: 'updates in the code of the service',
  },
]

/** Trigger functions that were read: each names group_id in all that it reads and writes. */
const withinGroup = new Set([
  'beds_hold',
  'guard_endings',
  'guard_invitations',
  'guard_members',
  'keep_a_keeper',
  'refuse_late_guess',
  'refuse_locked',
  'refuse_while_used',
])

/** Read and found to be no matter here, or of another kind than a catalogue can show. */
export const noMatter: readonly { readonly says: string; readonly source: Source; readonly why: string }[] = [
  {
    says: 'What is read of several machines is not of one moment.',
    source: { at: `${code}/pull/6489` },
    why: 'A page that reads of one moment reads one group, on one shard. A backup of all needs their own restore point.',
  },
  {
    says: 'Roles and grants reach the workers by themselves since 11.0.',
    source: { at: 'https://www.citusdata.com/updates/v11-0/' },
    why: 'The two roles and their grants are made by migrations, as everything else is.',
  },
  {
    says: 'Release 14 works with PostgreSQL 16 and later.',
    source: { at: 'https://raw.githubusercontent.com/citusdata/citus/main/CHANGELOG.md' },
    why: 'The service asks for 15 or later; its tests ran on 15 and, built in, on 18.',
  },
  {
    says: 'A local table may be joined with distributed ones; rows are sent to where they are joined.',
    source: settings,
    why: 'Sessions are joined with members at each page: it works, and is a reason for the directory of members.',
  },
  {
    says: 'A function that a trigger calls on a worker is there with its owner, SECURITY DEFINER included.',
    source: 'from memory',
    why: 'Could not be found in what is stored, and is to be tried first on a real one.',
  },
  {
    says: 'An advisory lock is of the machine that was asked.',
    source: 'from memory',
    why: 'All ask one coordinator; with several of them the locks of upkeep and of closing a week want a row to lock.',
  },
]

export const sourceTold = (source: Source): string => (source === 'from memory' ? source : source.at)

export interface RuleFound {
  readonly rule: Rule
  readonly found: readonly { readonly name: string; readonly becomes: string | null }[]
}

export async function rulesFound(database: Database): Promise<RuleFound[]> {
  const all: RuleFound[] = []
  for (const rule of rules) {
    const names = await rule.breaches(database)
    all.push({ rule, found: names.map((name) => ({ name, becomes: rule.becomes(name) })) })
  }
  return all
}
