import { createHash } from 'node:crypto'
import { sql } from 'drizzle-orm'
import type { Database } from '../../src/db/database.ts'

/** What every id of the group ends with that is copied, and its address as well. */
export const ending = 'cafe0000'

/** What stands in place of it in the copy of a number. */
export const endingOf = (number: number): string => number.toString(16).padStart(8, '0')

/** The token of a link that leads to the report of a copy; of a session of whoever keeps it. */
export const tokenOf = (what: 'frozen' | 'live' | 'session', number: number): string => `${what}-${endingOf(number)}`

const hashOf = (token: string) => createHash('sha256').update(token).digest('hex')

/**
 * Copies a group whose ids end alike, with its history, as often as asked: each row as it is with another ending in it,
 * set by set and with the triggers off, since what they would write is copied too. Each copy has a session of its keeper
 * and a link to each of the two reports.
 */
export async function copyGroup(database: Database, groupId: string, copies: number): Promise<void> {
  const found = (await database.drizzle.execute(sql`select c.relname as name from pg_class c
    where c.relkind = 'r' and c.relnamespace = 'public'::regnamespace and exists (select from pg_attribute a
      where a.attrelid = c.oid and a.attname = 'group_id' and not a.attisdropped)`)) as unknown as {
    rows: { name: string }[]
  }
  const own = found.rows.map(({ name }) => ({ name, where: sql`m.group_id = ${groupId}::uuid` }))
  const tables = [
    { name: 'people', where: sql`m.id in (select person_id from members where group_id = ${groupId}::uuid)` },
    { name: 'groups', where: sql`m.id = ${groupId}::uuid` },
    ...own,
  ]
  await database.drizzle.transaction(async (tx) => {
    await tx.execute(sql`set local session_replication_role = replica`)
    await tx.execute(sql`set local synchronous_commit = off`)
    for (const { name, where } of tables) {
      if (name === 'share_links') continue
      const table = sql.raw(`"${name}"`)
      await tx.execute(sql`insert into ${table} select r.* from ${table} m, generate_series(1, ${copies}::int) k,
        lateral jsonb_populate_record(null::${table}, replace(to_jsonb(m)::text, ${ending},
          lpad(to_hex(k), 8, '0'))::jsonb) r where ${where}`)
    }
    for (let first = 1; first <= copies; first += 500) {
      const made = Array.from({ length: Math.min(500, copies - first + 1) }, (_, i) => first + i).map((number) => ({
        end: endingOf(number),
        session: hashOf(tokenOf('session', number)),
        frozen: hashOf(tokenOf('frozen', number)),
        live: hashOf(tokenOf('live', number)),
      }))
      const of = sql`jsonb_to_recordset(${JSON.stringify(made)}::jsonb) as n ("end" text, session text, frozen text, live text)`
      await tx.execute(sql`insert into sessions (token_hash, person_id, expires_at)
        select n.session, p.id, now() + interval '30 days' from ${of} join people p on p.email like '%' || n."end" || '@%'`)
      await tx.execute(sql`insert into share_links (group_id, id, report_id, token_hash)
        select r.group_id, gen_random_uuid(), r.id, case r.state when 'live' then n.live else n.frozen end
        from ${of} join reports r on right(r.group_id::text, 8) = n."end"`)
    }
  })
  await database.drizzle.execute(sql`vacuum analyze`)
}
