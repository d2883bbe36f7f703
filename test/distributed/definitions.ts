// How the tables of a database are defined, a line for each thing that the catalogue says of them. Read with an empty
// search path, so that each line can be said again anywhere.
import { sql } from 'drizzle-orm'
import type { Database } from '../../src/db/database.ts'

export interface Defined {
  readonly table: string
  readonly what: 'column' | 'constraint' | 'index' | 'trigger' | 'policy' | 'wall' | 'grant' | 'comment'
  readonly name: string
  readonly says: string
}

/** All tables of one schema; what stands on a part of a table because it stands on the whole is told of both. */
export async function definitions(database: Database, schema = 'public'): Promise<Defined[]> {
  const { rows } = (await database.transaction(async (tx) => {
    await tx.execute(sql`set local search_path = ''`)
    return tx.execute(asked(schema))
  })) as unknown as { rows: Defined[] }
  return rows
}

/** A key of a whole table is made by a word that a key of a simple one lacks; nothing else is left out. */
const alike = (written: string) => sql.raw(`replace(${written}, ' ON ONLY ', ' ON ')`)

const asked = (schema: string) => sql`with of as (
    select c.oid, c.relname::text as table, c.relacl, c.relowner, c.relrowsecurity, c.relforcerowsecurity from pg_class c
    where c.relkind in ('r', 'p') and c.relnamespace = ${schema}::text::regnamespace)
  select t.table, 'column' as what, a.attname::text as name, concat_ws(' ',
    row_number() over (partition by t.oid order by a.attnum), format_type(a.atttypid, a.atttypmod),
    case when a.attnotnull then 'not null' end, nullif(a.attgenerated, ''), nullif(a.attidentity, ''), a.attstorage,
    nullif(a.attcompression, ''), nullif(a.attcollation, 0)::regcollation, pg_get_expr(d.adbin, d.adrelid)) as says
    from of t join pg_attribute a on a.attrelid = t.oid and a.attnum > 0 and not a.attisdropped
    left join pg_attrdef d on d.adrelid = t.oid and d.adnum = a.attnum
  union all
  select t.table, 'constraint', k.conname::text, concat_ws(' ', pg_get_constraintdef(k.oid),
    case when not k.convalidated then 'unchecked' end) from of t join pg_constraint k on k.conrelid = t.oid
    left join pg_class o on o.oid = k.confrelid where k.contype <> 't' and coalesce(not o.relispartition, true)
  union all
  select t.table, 'index', i.relname::text, concat_ws(' ', ${alike('pg_get_indexdef(i.oid)')},
    array_to_string(i.reloptions, ' '), case when not x.indisvalid then 'not valid' end)
    from of t join pg_index x on x.indrelid = t.oid join pg_class i on i.oid = x.indexrelid
  union all
  select t.table, 'trigger', g.tgname::text, concat_ws(' ', g.tgenabled, pg_get_triggerdef(g.oid))
    from of t join pg_trigger g on g.tgrelid = t.oid where not g.tgisinternal
  union all
  select t.table, 'policy', p.policyname::text, concat_ws(' ', 'as', p.permissive, 'for', p.cmd, 'to',
    array_to_string(p.roles, ', '), 'using (' || p.qual || ')', 'with check (' || p.with_check || ')')
    from of t join pg_policies p on p.schemaname = ${schema} and p.tablename = t.table
  union all
  select t.table, 'wall', '', concat_ws(' ', case when t.relrowsecurity then 'row level security' end,
    case when t.relforcerowsecurity then 'forced' end, 'owner', t.relowner::regrole) from of t
  union all
  select t.table, 'grant', concat_ws(' ', g.grantee::regrole, g.privilege_type), concat_ws(' ',
    case when g.is_grantable then 'with grant option' end)
    from of t, aclexplode(t.relacl) g where g.grantee <> t.relowner
  union all
  select t.table, 'grant', concat_ws(' ', g.grantee::regrole, g.privilege_type, a.attname), concat_ws(' ',
    case when g.is_grantable then 'with grant option' end)
    from of t join pg_attribute a on a.attrelid = t.oid, aclexplode(a.attacl) g
  union all
  select t.table, 'comment', coalesce(a.attname::text, ''), d.description from of t
    join pg_description d on d.classoid = 'pg_class'::regclass and d.objoid = t.oid
    left join pg_attribute a on a.attrelid = t.oid and a.attnum = d.objsubid and d.objsubid > 0
  order by 1, 2, 3`
