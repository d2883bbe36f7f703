import { createHash } from 'node:crypto'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import type { Database } from '../../src/db/database.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { asMember } from '../../src/db/transaction.ts'
import { oddGroup } from '../benchmark/odd-group.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
let groupId: string
let personId: string
let seasons: readonly string[]
beforeAll(async () => {
  database = await openTestDatabase()
  const made = await oddGroup(database, { seasons: 4, harvests: 700, labour: 400 }, 6)
  groupId = made.groupId
  personId = made.personId
  seasons = await texts(sql`select id from seasons where group_id = ${groupId} order by starts_on`)
})
afterAll(() => database.close())

const texts = (query: ReturnType<typeof sql>) =>
  rowsRead(database.drizzle, query, (row) => String(Object.values(row)[0]))
const written = (statement: ReturnType<typeof sql>) =>
  asMember(database, { personId, groupId }, (tx) => tx.execute(statement))
const record = () => asMember(database, { personId, groupId, readOnly: true }, (tx) => trialRecord(tx, groupId, 'sums'))
const keptSeasons = async () => {
  const ids = await texts(sql`select season_id from season_sums where group_id = ${groupId}`)
  return seasons.flatMap((id, i) => (ids.includes(id) ? [i] : []))
}
/** A sum of all that a record holds, whatever the order of its rows. */
function sumOf(read: TrialRecord): string {
  const sorted = (_key: string, value: unknown): unknown =>
    Array.isArray(value) && value.every((one) => typeof one === 'object')
      ? value.map((one) => JSON.stringify(one, sorted)).sort()
      : value
  return createHash('sha256').update(JSON.stringify(read, sorted)).digest('hex')
}
const recordSummed = async () => sumOf(await record())
const madeAnew = async () => {
  await database.drizzle.execute(sql`delete from season_sums`)
  return recordSummed()
}
const nth = (i: number) => seasons[i] ?? ''

beforeEach(async () => {
  await madeAnew()
  expect(await keptSeasons()).toEqual([0, 1, 2])
})

describe('the sums of closed seasons', () => {
  it('are kept by whoever reads the record, and give the same record', async () => {
    const kept = await recordSummed()
    expect(await keptSeasons()).toEqual([0, 1, 2])
    expect(kept).toBe(await madeAnew())
  })

  it('are what is read: a closed season is not summed again', async () => {
    const before = await record()
    await database.drizzle.execute(
      sql`update season_sums set sums = '{"weighed":[],"hours":[]}' where season_id = ${nth(0)}`,
    )
    const after = await record()
    const singleHours = (one: typeof after, i: number) =>
      one.labour.filter(({ seasonId, id }) => seasonId === nth(i) && id === undefined).length
    expect(singleHours(after, 0)).toBe(0)
    expect(singleHours(before, 0)).toBeGreaterThan(0)
    expect(singleHours(after, 1)).toBe(singleHours(before, 1))
  })

  it.each([
    [
      'a weight that is corrected',
      () => sql`update harvests set marketable_g = marketable_g + 7
        where id = (select id from harvests where season_id = ${nth(1)} and planting_id is not null limit 1)`,
      [0, 2],
    ],
    [
      'a weight that is removed',
      () => sql`update harvests set removed_at = now()
        where id = (select id from harvests where season_id = ${nth(2)} and planting_id is not null
          and removed_at is null limit 1)`,
      [0, 1],
    ],
    [
      'hours that go to another season',
      () => sql`update labour_entries set season_id = ${nth(0)}
        where id = (select id from labour_entries where season_id = ${nth(1)} and share_rule is null limit 1)`,
      [2],
    ],
    [
      'hours that are written down later',
      () => sql`insert into labour_entries (group_id, id, created_by, season_id, iso_week, garden_id, task, person_minutes)
        select group_id, gen_random_uuid(), created_by, season_id, iso_week, garden_id, task, 35 from labour_entries
        where season_id = ${nth(0)} and garden_id is not null limit 1`,
      [1, 2],
    ],
    [
      'weights of the open season',
      () => sql`update harvests set marketable_g = 1 where season_id = ${nth(3)}`,
      [0, 1, 2],
    ],
    ['a name of a bed', () => sql`update beds set name = name || ' x'`, [0, 1, 2]],
  ])('%s takes away those of its season alone', async (_what, statement, left) => {
    const before = await recordSummed()
    await written(statement())
    expect(await keptSeasons()).toEqual(left)
    const after = await recordSummed()
    expect(after).not.toBe(before)
    expect(await keptSeasons()).toEqual([0, 1, 2])
    expect(after).toBe(await madeAnew())
  })

  it('go with a label that hides a crate of theirs', async () => {
    await written(sql`insert into crate_labels (group_id, id, created_by, planting_id, iso_week, label, seed)
      select group_id, gen_random_uuid(), created_by, planting_id, iso_week, 'QX7', 'seed' from harvests
      where season_id = ${nth(1)} and planting_id is not null and removed_at is null limit 1`)
    expect(await keptSeasons()).toEqual([0, 2])
  })

  it('are kept of no season in which a label of another hides a crate, or may', async () => {
    const [id = ''] = await texts(sql`select h.planting_id from harvests h join plantings p on p.id = h.planting_id
      where h.season_id = ${nth(0)} and h.removed_at is null and h.counts = 1 and p.stands_over_seasons = 0
      order by h.id limit 1`)
    const weeks = sql`select iso_week from harvests where planting_id = ${id}`
    const closings = sql`what = 'weights' and iso_week in (${weeks})`
    await written(sql`update plantings set season_id = ${nth(3)}, matched_set_id = null where id = ${id}`)
    await written(sql`update week_closings set reopened_at = now(), reopened_reason = 'more' where ${closings}
      and reopened_at is null`)
    const open = await recordSummed()
    await written(sql`insert into crate_labels (group_id, id, created_by, planting_id, iso_week, label, seed)
      select distinct on (iso_week) group_id, gen_random_uuid(), created_by, planting_id, iso_week, 'QX8', 'seed'
      from harvests where planting_id = ${id} order by iso_week, id`)
    const sealed = await recordSummed()
    expect(sealed).not.toBe(open)
    expect(await keptSeasons()).toEqual([1, 2])
    await written(sql`update week_closings set reopened_at = null, reopened_reason = null where ${closings}`)
    const opened = await recordSummed()
    expect(opened).not.toBe(sealed)
    expect(opened).toBe(await madeAnew())
    await written(sql`update plantings set season_id = ${nth(0)} where id = ${id}`)
    await recordSummed()
    expect(await keptSeasons()).toEqual([0, 1, 2])
  })

  it('are kept of no season that is open, or that another before it is open', async () => {
    const closed = await texts(sql`select closed_at from seasons where id = ${nth(1)}`)
    await written(sql`update seasons set closed_at = null where id = ${nth(1)}`)
    expect(await keptSeasons()).toEqual([])
    const reopened = await recordSummed()
    expect(await keptSeasons()).toEqual([0])
    expect(reopened).toBe(await madeAnew())
    await written(sql`update seasons set closed_at = ${closed[0]}::timestamptz where id = ${nth(1)}`)
  })

  it('are made anew for other days, and by another release', async () => {
    await database.drizzle.execute(sql`update season_sums set sums = '{"weighed":[],"hours":[]}'`)
    await written(sql`update groups set time_zone = 'Pacific/Auckland' where id = ${groupId}`)
    expect(await recordSummed()).toBe(await madeAnew())
    const zones = texts(sql`select distinct time_zone from season_sums where group_id = ${groupId}`)
    expect(await zones).toEqual(['Pacific/Auckland'])
    await database.drizzle.execute(sql`update season_sums set shape = 0, sums = '{"weighed":[],"hours":[]}'`)
    expect(await recordSummed()).toBe(await madeAnew())
  })

  it('are not kept where something was written since they were read', async () => {
    const [counted = ''] = await texts(sql`select changes from group_counters where group_id = ${groupId}`)
    const one = JSON.stringify([{ seasonId: nth(0), sums: { weighed: [], hours: [] } }])
    const keep = (count: number) => written(sql`select public.keep_season_sums(${count}, 1, ${one}::json)`)
    await database.drizzle.execute(sql`delete from season_sums`)
    await keep(Number(counted) - 1)
    expect(await keptSeasons()).toEqual([])
    await keep(Number(counted))
    expect(await keptSeasons()).toEqual([0])
  })

  it('are written by no other way', async () => {
    for (const statement of [
      sql`insert into season_sums values (${groupId}, ${nth(0)}, 1, 'UTC', '{}')`,
      sql`update season_sums set shape = 1`,
      sql`delete from season_sums`,
    ])
      await expect(written(statement)).rejects.toMatchObject({ cause: { code: '42501' } })
  })

  // The built-in engine does one thing after another.
  it.skipIf(!process.env.TEST_DATABASE_URL)(
    'never outlast a write that was under way while they were read, and do not wait for it',
    async () => {
      await database.drizzle.execute(sql`delete from season_sums`)
      const before = await database.drizzle.transaction(async (tx) => {
        await tx.execute(sql`select set_config('evenground.group', ${groupId}, true)`)
        await tx.execute(sql`update harvests set marketable_g = marketable_g + 11
        where season_id = ${nth(0)} and planting_id is not null`)
        // It reads what was there before, while this one still holds the counter.
        return recordSummed()
      })
      expect(await keptSeasons()).toEqual([])
      const after = await recordSummed()
      expect(after).not.toBe(before)
      expect(await keptSeasons()).toEqual([0, 1, 2])
      expect(after).toBe(await madeAnew())
    },
  )
})
