// Every table of a group made PARTITION BY HASH (group_id), from what the catalogue says of it and nothing else: what a
// distributed PostgreSQL asks of keys, foreign keys, triggers and functions, asked by PostgreSQL itself.
import { sql } from 'drizzle-orm'
import type { Database, Tx } from '../../src/db/database.ts'

/** Where the partitions lie: apart and under the name of their table, so that what a refusal names stays the same. */
export const schemaOfPart = (part: number) => `partition_${part}`

/** The tables must be empty, as they are after the migrations. */
export async function partition(database: Database, parts: number): Promise<void> {
  await database.transaction(async (tx) => {
    await tx.execute(sql`set local search_path = ''`)
    const tables = await textsOf(tx, ofGroups)
    for (const table of tables) await mustBeEmpty(tx, table)
    // Read before anything is moved.
    const [before, after, last] = [await standing(tx), await foreignKeys(tx), await policiesAndRest(tx)]
    const run = async (statement: string) => void (await tx.execute(sql.raw(statement)))
    await run('create schema as_before')
    for (const policy of await textsOf(tx, policiesThatRead)) await run(policy)
    for (const table of tables) await run(`alter table public.${table} set schema as_before`)
    for (let part = 0; part < parts; part++) await run(`create schema ${schemaOfPart(part)}`)
    for (const table of tables) {
      await run(`create table public.${table} (like as_before.${table} including all excluding indexes)
        partition by hash (group_id)`)
      for (let part = 0; part < parts; part++)
        await run(`create table ${schemaOfPart(part)}.${table} partition of public.${table}
          for values with (modulus ${parts}, remainder ${part})`)
    }
    for (const { statement, whole, table } of before) {
      if (whole) await run(statement)
      else
        for (let part = 0; part < parts; part++)
          await run(statement.replace(` public.${table} `, ` ${schemaOfPart(part)}.${table} `))
      await run(namedAsTheirWhole)
    }
    for (const statement of [...after, ...last]) await run(statement)
    // Not with what hangs on them: whatever was not said anew shows itself here.
    await run(`drop table ${tables.map((table) => `as_before.${table}`).join(', ')}`)
    await run('drop schema as_before')
  })
}

const ofGroups = sql`select format('%I', c.relname) as says from pg_class c
  join pg_attribute a on a.attrelid = c.oid and a.attname = 'group_id' and not a.attisdropped
  where c.relkind = 'r' and c.relnamespace = 'public'::regnamespace order by 1`

async function textsOf(tx: Tx, asked: ReturnType<typeof sql>): Promise<string[]> {
  const { rows } = (await tx.execute(asked)) as unknown as { rows: { says: string }[] }
  return rows.map(({ says }) => says)
}

async function mustBeEmpty(tx: Tx, table: string): Promise<void> {
  const rows = await textsOf(tx, sql.raw(`select 'row' as says from public.${table} limit 1`))
  if (rows.length > 0) throw new Error(`Only what is empty is made anew: ${table} is not.`)
}

interface Standing {
  readonly table: string
  readonly statement: string
  /** On the table itself. What does not hold its group, or excludes (PostgreSQL 15), stands on each partition instead. */
  readonly whole: boolean
}

const within = sql`(select c.oid, format('%I', c.relname) as table, a.attnum from pg_class c
  join pg_attribute a on a.attrelid = c.oid and a.attname = 'group_id' and not a.attisdropped
  where c.relkind = 'r' and c.relnamespace = 'public'::regnamespace) t`

/** Not in the order of the migrations: which of two keys that a row breaks is named first is nobody's promise. */
async function standing(tx: Tx): Promise<Standing[]> {
  const { rows } = (await tx.execute(sql`
    select t.table, format('alter table public.%s add constraint %I %s', t.table, k.conname, pg_get_constraintdef(k.oid))
        as statement, k.contype <> 'x' and t.attnum = any(k.conkey) as whole
      from ${within} join pg_constraint k on k.conrelid = t.oid and k.contype in ('p', 'u', 'x')
    union all
    select t.table, pg_get_indexdef(x.indexrelid), not x.indisunique or t.attnum = any(x.indkey)
      from ${within} join pg_index x on x.indrelid = t.oid
      where not exists (select from pg_constraint k where k.conindid = x.indexrelid and k.contype in ('p', 'u', 'x'))
    order by 1, 2`)) as unknown as { rows: Standing[] }
  return rows
}

const foreignKeys = (tx: Tx) =>
  textsOf(
    tx,
    sql`select format('alter table public.%s add constraint %I %s', t.table, k.conname, pg_get_constraintdef(k.oid)) as says
      from ${within} join pg_constraint k on k.conrelid = t.oid and k.contype = 'f' order by 1`,
  )

/** Triggers, walls, grants and what is said of a table; policies of other tables too, where they read one of a group. */
const policiesAndRest = (tx: Tx) =>
  textsOf(
    tx,
    sql`select says from (
      select 1 as place, pg_get_triggerdef(g.oid) as says from ${within}
        join pg_trigger g on g.tgrelid = t.oid and not g.tgisinternal
      union all
      select 2, format('alter table public.%s %s trigger %I', t.table,
          case g.tgenabled when 'D' then 'disable' when 'R' then 'enable replica' else 'enable always' end, g.tgname)
        from ${within} join pg_trigger g on g.tgrelid = t.oid and not g.tgisinternal and g.tgenabled <> 'O'
      union all
      select 3, format('alter table public.%s enable row level security', t.table)
        from ${within} join pg_class c on c.oid = t.oid and c.relrowsecurity
      union all
      select 4, format('alter table public.%s force row level security', t.table)
        from ${within} join pg_class c on c.oid = t.oid and c.relforcerowsecurity
      union all
      select 5, format('create policy %I on %I.%I as %s for %s to %s', p.policyname, p.schemaname, p.tablename,
          p.permissive, p.cmd, array_to_string(p.roles, ', ')) || coalesce(' using (' || p.qual || ')', '')
          || coalesce(' with check (' || p.with_check || ')', '')
        from pg_policies p where p.schemaname = 'public' and (p.tablename, p.policyname) in (${reading})
      union all
      select 6, format('grant %s on public.%s to %I', g.privilege_type, t.table, g.grantee::regrole)
          || case when g.is_grantable then ' with grant option' else '' end
        from ${within} join pg_class c on c.oid = t.oid, aclexplode(c.relacl) g where g.grantee <> c.relowner
      union all
      select 7, format('grant %s (%I) on public.%s to %I', g.privilege_type, a.attname, t.table, g.grantee::regrole)
          || case when g.is_grantable then ' with grant option' else '' end
        from ${within} join pg_attribute a on a.attrelid = t.oid, aclexplode(a.attacl) g
      union all
      select 8, format('comment on table public.%s is %L', t.table, d.description) from ${within}
        join pg_description d on d.classoid = 'pg_class'::regclass and d.objoid = t.oid and d.objsubid = 0
    ) as all_of_it order by place, says`,
  )

const reading = sql`select c.relname, p.polname from pg_policy p join pg_class c on c.oid = p.polrelid
  where exists (select from pg_depend d join ${within} on d.refclassid = 'pg_class'::regclass and d.refobjid = t.oid
    where d.classid = 'pg_policy'::regclass and d.objid = p.oid)`

/** Said anew with the others; of the tables themselves they go with them. */
const policiesThatRead = sql`select format('drop policy %I on public.%I', policyname, tablename) as says from pg_policies
  where schemaname = 'public' and (tablename, policyname) in (${reading})
    and tablename not in (select trim('"' from t.table) from ${within})`

/** What a refusal names is the key of the partition: it bears the name that the code knows. */
const namedAsTheirWhole = `do $$ declare one record; begin
  for one in select n.nspname, c.relname, w.relname as whole from pg_inherits h
    join pg_class c on c.oid = h.inhrelid and c.relkind in ('i', 'I') join pg_class w on w.oid = h.inhparent
    join pg_namespace n on n.oid = c.relnamespace where c.relname <> w.relname
  loop execute format('alter index %I.%I rename to %I', one.nspname, one.relname, one.whole); end loop;
end $$`
