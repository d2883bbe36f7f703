// What Citus refuses of the tables of a group and what can stand in its place, said anew from the catalogue alone and tried
// in plain PostgreSQL: triggers of a statement become triggers of each row, with the same functions, and no policy asks a
// subquery. npm run test:by-row.
import { sql } from 'drizzle-orm'
import type { Database, Tx } from '../../src/db/database.ts'

/** After the migrations, and after the tables were made in partitions where they were. */
export async function byRow(database: Database): Promise<void> {
  await database.transaction(async (tx) => {
    const [functions, triggers, policies] = [
      await textsOf(tx, functionsOfStatements),
      await textsOf(tx, triggersOfStatements),
      await textsOf(tx, policiesAsking),
    ]
    const run = async (statement: string) => void (await tx.execute(sql.raw(statement)))
    for (const one of functions) await run(ofOneRow(one))
    for (const one of triggers) {
      const [drop = '', create = ''] = one.split(' ;; ')
      await run(drop)
      await run(create.replace(/ REFERENCING .*? FOR EACH STATEMENT/s, ' FOR EACH ROW'))
    }
    for (const one of policies) await run(one)
    for (const one of peopleWithoutAsking) await run(one)
  })
}

/** The rows of a statement are one: what is new is NEW, what is old is OLD. */
const ofOneRow = (definition: string) =>
  definition.replaceAll(/\bnew_rows n\b/g, '(SELECT NEW.*) n').replaceAll(/\bold_rows o\b/g, '(SELECT OLD.*) o')

async function textsOf(tx: Tx, asked: ReturnType<typeof sql>): Promise<string[]> {
  const { rows } = (await tx.execute(asked)) as unknown as { rows: { says: string }[] }
  return rows.map(({ says }) => says)
}

/** Of a table in partitions the trigger stands on the whole, and its twins on the parts follow. */
const ofStatements = sql`pg_trigger g join pg_class c on c.oid = g.tgrelid
  where not g.tgisinternal and g.tgtype & 1 = 0 and g.tgparentid = 0 and c.relnamespace = 'public'::regnamespace`

const functionsOfStatements = sql`select distinct pg_get_functiondef(g.tgfoid) as says from ${ofStatements}`

const triggersOfStatements = sql`select format('drop trigger %I on public.%I', g.tgname, c.relname) || ' ;; '
  || pg_get_triggerdef(g.oid) as says from ${ofStatements}`

/** A stable function is asked in the place of the subquery that asked it once. */
const policiesAsking = sql`select format('alter policy %I on public.%I using (%s)', policyname, tablename,
    replace(qual, '( SELECT current_group() AS current_group)', 'public.current_group()')) as says
  from pg_policies where schemaname = 'public' and policyname = 'group_wall'`

const peopleWithoutAsking = [
  `create function public.is_of_the_group(person uuid) returns boolean language sql stable security definer
    set search_path = public, pg_temp as
    $$ select exists (select from members m where m.person_id = person and m.group_id = current_group()) $$`,
  'alter policy people_of_the_group on public.people using (public.is_of_the_group(id))',
]
