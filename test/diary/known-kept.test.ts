import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { members } from '../../src/accounts/accounts.table.ts'
import { addPerson } from '../../src/accounts/members.queries.ts'
import type { Database, Tx } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { asMember } from '../../src/db/transaction.ts'
import { copyDemo } from '../../src/demo/making.routes.ts'
import { knownIn } from '../../src/diary/known.queries.ts'
import { KnownKept } from '../../src/diary/known-kept.queries.ts'
import { tablesOfKnown } from '../../src/diary/known-of-group.queries.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import type { IsoWeek } from '../../src/quantities/iso-week.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
let who: { personId: string; groupId: string }
beforeAll(async () => {
  database = await openTestDatabase()
  const email = 'bo@example.org'
  const personId = await addPerson(database, { name: 'Bo Fen', email, password: 'long enough to keep' })
  await copyDemo(database, personId, '2026-09-01')
  const [own] = await database.drizzle.select({ groupId: members.groupId }).from(members)
  who = { personId, groupId: String(own?.groupId) }
})
afterAll(() => database.close())

const knownTo = (tx: Tx, kept?: KnownKept, week: IsoWeek = '2026-W30', today: IsoDate = '2026-08-01') =>
  knownIn(tx, who.groupId, { weeks: [week], today }, kept)
const known = (kept?: KnownKept, week?: IsoWeek, today?: IsoDate) =>
  asMember(database, who, (tx) => knownTo(tx, kept, week, today))
const write = (statement: string) => asMember(database, who, (tx) => tx.execute(sql.raw(statement)))
const heldIn = (kept: KnownKept) => kept.of(who.groupId)
/** Of a process that has read it once. */
async function keptOnce(): Promise<KnownKept> {
  const kept = new KnownKept(1e8)
  await known(kept)
  expect(heldIn(kept)).toBeDefined()
  return kept
}

/** Every table of a group whose rows can be marked as removed. */
const removable = () =>
  rowsRead(
    database.drizzle,
    sql`select table_name as name from information_schema.columns where table_schema = 'public'
      and column_name in ('group_id', 'id', 'removed_at', 'removed_reason') group by 1 having count(*) = 4 order by 1`,
    ({ name }) => String(name),
  )

describe('what the rows of a week are held against, whatever the week, is kept', () => {
  it('and read anew where one of its tables was written, and no other', async () => {
    const kept = await keptOnce()
    const first = (table: string) => `where id = (select id from ${table} order by removed_at nulls first, id limit 1)`
    const removal = (table: string) => `set removed_at = now(), removed_reason = 'tried' ${first(table)}`
    const changes = [
      ...(await removable()).map((table) => [table, removal(table)] as const),
      ['crops', `set name = name || ' tried' ${first('crops')}`] as const,
      ['cultivars', 'set crop_id = (select id from crops order by id limit 1)'] as const,
      ['seasons', `set closed_at = now() ${first('seasons')}`] as const,
      ['gardens', `set name = name || ' tried' ${first('gardens')}`] as const,
      ['beds', `set position = position + 1 ${first('beds')}`] as const,
      ['deliveries', `set version = version + 1 ${first('deliveries')}`] as const,
    ]
    const written = new Set<string>()
    for (const [table, change] of changes) {
      const before = heldIn(kept)?.value
      // What the database does not take leaves all as it is.
      const rows = await write(`update ${table} ${change} returning id`).then(
        () => 1,
        () => 0,
      )
      if (rows > 0) written.add(table)
      expect([table, await known(kept)]).toEqual([table, await known()])
      if (!tablesOfKnown.has(table)) expect([table, heldIn(kept)?.value === before]).toEqual([table, true])
    }
    expect([...tablesOfKnown].filter((table) => !written.has(table))).toEqual([])
    expect(written.has('harvests')).toBe(true)
  })

  it('with plantings that were cleared long ago where an earlier week is asked for', async () => {
    const kept = await keptOnce()
    const late = (await known(kept)).plantings.size
    const early = await known(kept, '2024-W30', '2024-08-01')
    expect(early).toEqual(await known(undefined, '2024-W30', '2024-08-01'))
    expect(early.plantings.size).toBeGreaterThan(late)
    expect((await known(kept)).plantings.size).toBe(late)
  })

  it('but not what is taken back', async () => {
    const kept = await keptOnce()
    const container = newId()
    const trying = asMember(database, who, async (tx) => {
      await tx.execute(sql`insert into containers (group_id, id, created_by, name, tare_g)
        values (${who.groupId}, ${container}, ${who.personId}, 'Tried', 900)`)
      expect((await knownTo(tx, kept)).containers.get(container)).toBe(900)
      throw new Error('taken back')
    })
    await expect(trying).rejects.toThrow('taken back')
    await write(`update containers set name = name || '.'`)
    expect((await known(kept)).containers.has(container)).toBe(false)
  })

  it('nor what another history had under the same number, or a longer one than is looked through', async () => {
    const kept = await keptOnce()
    const held = heldIn(kept)
    if (!held) throw new Error('Nothing is kept.')
    const readAnew = async () => {
      await known(kept)
      return heldIn(kept)?.value !== held.value
    }
    expect(await readAnew()).toBe(false)
    kept.keep(who.groupId, { value: held.value, at: { ...held.at, moment: '2020-01-01 00:00:00+00' } })
    expect(await readAnew()).toBe(true)
    kept.keep(who.groupId, { value: held.value, at: { ...held.at, number: held.at.number + 1 } })
    expect(await readAnew()).toBe(true)
    kept.keep(who.groupId, held)
    const many = (days: number) =>
      write(`insert into weather_days (group_id, id, created_by, station, day)
        select '${who.groupId}', gen_random_uuid(), '${who.personId}', gen_random_uuid(), '2026-05-01'
        from generate_series(1, ${days})`)
    await many(1000)
    expect(await readAnew()).toBe(false)
    kept.keep(who.groupId, held)
    await many(1)
    expect(await readAnew()).toBe(true)
  })

  it('for the groups that were asked for last, as far as the memory goes', async () => {
    const kept = await keptOnce()
    const held = heldIn(kept)
    if (!held) throw new Error('Nothing is kept.')
    const few = new KnownKept(1)
    few.keep('quern', held)
    expect(few.of('quern')).toBeUndefined()
    const { beds, plantings } = held.value.known
    const some = new KnownKept(600 * (plantings.length + 10 * beds.length))
    for (const group of ['quern', 'mill', 'dyke', 'mill']) some.keep(group, held)
    expect(['quern', 'mill', 'dyke'].map((group) => some.of(group) !== undefined)).toEqual([false, true, false])
  })
})
