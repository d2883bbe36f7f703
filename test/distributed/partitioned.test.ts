import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { openBareDatabase } from '../support/database.ts'
import { type Defined, definitions } from './definitions.ts'
import { notDistributable } from './distributable.ts'
import { partition, schemaOfPart } from './partitioned.ts'

const parts = 3
let database: Database
let before: readonly Defined[]
beforeAll(async () => {
  database = await openBareDatabase()
  await database.migrate('migrations')
  before = await definitions(database)
  await partition(database, parts)
})
afterAll(() => database.close())

const run = (statement: string) => database.drizzle.execute(sql.raw(statement))

/**
 * A condition that is read and said again has fewer brackets, and a check that was not held against the rows before it
 * is held against those of an empty table.
 */
const line = ({ table, what, name, says }: Defined) =>
  [table, what, name, says.replace(/[()]/g, '').replace(' NOT VALID unchecked', '')].join(' | ')
const missing = (from: readonly Defined[], there: readonly Defined[]) => {
  const lines = new Set(there.map(line))
  return from.filter((one) => !lines.has(line(one)))
}

/** What holds its group or a row alone can stand on the table; these stand on each partition. */
const onEachPart = ['invitations_token_is_unique', 'seasons_do_not_overlap', 'share_links_token_is_unique']

describe('every table of a group in partitions by its group', () => {
  it('says in the catalogue what it said before, but for keys without the group and what excludes', async () => {
    const after = await definitions(database)
    expect(before.length).toBeGreaterThan(1500)
    expect(new Set(before.map(({ what }) => what)).size).toBeGreaterThan(6)
    expect([...new Set(missing(before, after).map(({ name }) => name))].sort()).toEqual(onEachPart)
    expect(missing(after, before)).toEqual([])
  })

  it('and each partition says the same of its rows, and is open to no role', async () => {
    const kinds = new Set<Defined['what']>(['column', 'constraint', 'index'])
    const { rows } = (await run(`select relname::text as name from pg_class
      where relkind = 'p' and relnamespace = 'public'::regnamespace`)) as unknown as { rows: { name: string }[] }
    const tables = new Set(rows.map(({ name }) => name))
    expect(tables.size).toBeGreaterThan(45)
    const ofRows = before.filter(({ table, what }) => tables.has(table) && kinds.has(what))
    for (let part = 0; part < parts; part++) {
      const there = await definitions(database, schemaOfPart(part))
      const moved = there.map((one) => ({ ...one, says: one.says.replaceAll(`${schemaOfPart(part)}.`, 'public.') }))
      expect(missing(ofRows, moved)).toEqual([])
      expect(
        missing(
          moved.filter(({ what }) => kinds.has(what)),
          ofRows,
        ),
      ).toEqual([])
      expect(there.filter(({ what }) => what === 'grant')).toEqual([])
    }
  })

  it('shows what was left out', async () => {
    const after = await definitions(database)
    await run('drop policy group_wall on beds')
    await run('drop trigger history_of_updates on beds')
    await run('alter table harvests drop constraint harvests_group')
    await run('revoke update on harvests from evenground_member')
    const without = missing(after, await definitions(database)).map(({ table, name }) => `${table} ${name}`)
    expect(without.sort()).toEqual([
      'beds group_wall',
      'beds history_of_updates',
      'harvests evenground_member UPDATE',
      'harvests harvests_group',
    ])
  })

  it('is told by the list of what is not distributable as before', async () => {
    const unplanned = (await notDistributable(database)).filter(({ planned }) => planned === null)
    expect(unplanned).toEqual([])
  })

  it('is refused where there is something in a table', async () => {
    const other = await openBareDatabase()
    try {
      await other.migrate('migrations')
      await other.drizzle.execute(sql`insert into changes (group_id, number, table_name, row_id)
        values (gen_random_uuid(), 1, 'beds', '')`)
      await expect(partition(other, parts)).rejects.toThrow(/changes is not/)
    } finally {
      await other.close()
    }
  })
})
