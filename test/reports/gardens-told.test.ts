import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { addPerson } from '../../src/accounts/members.queries.ts'
import type { Database } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { asMember } from '../../src/db/transaction.ts'
import { gardensTold } from '../../src/reports/gardens-told.queries.ts'
import { largeGroup } from '../benchmark/large-group.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
afterAll(() => database.close())

it('tells who wrote of each garden and how many worked at once, by garden, bed and planting and in divided work', async () => {
  const { groupId, personId } = await largeGroup(database, { seasons: 1, harvests: 0, labour: 0 }, 1)
  const other = await addPerson(database, { name: 'Bo Fen', email: 'bo@example.org', password: 'long enough to keep' })
  const ids = async (query: ReturnType<typeof sql>) =>
    database.transaction((tx) => rowsRead(tx, query, ({ id }) => String(id)))
  const gardens = await ids(sql`select id from gardens order by position`)
  const beds = await ids(sql`select id from beds where garden_id = ${gardens[1]}::uuid`)
  const plantings = await ids(sql`select p.id from plantings p join beds b on b.id = p.bed_id
    where b.garden_id = ${gardens[2]}::uuid`)
  const [seasonId = ''] = await ids(sql`select id from seasons`)
  interface Work {
    readonly by: string
    readonly people: number
    readonly garden?: string | undefined
    readonly bed?: string | undefined
    readonly planting?: string | undefined
    readonly over?: readonly (string | undefined)[]
  }
  const worked = async ({ by, people, garden, bed, planting, over }: Work) => {
    const id = newId()
    await database.drizzle.execute(sql`insert into labour_entries (group_id, id, created_by, season_id, iso_week, task,
        phase, person_minutes, people, garden_id, bed_id, planting_id, share_rule)
      values (${groupId}, ${id}, ${by}, ${seasonId}, '2025-W30', 'weeding', 'established', 60, ${people},
        ${garden ?? null}, ${bed ?? null}, ${planting ?? null}, ${over ? 'equal' : null})`)
    for (const gardenId of over ?? [])
      await database.drizzle.execute(sql`insert into labour_shares (group_id, id, labour_entry_id, garden_id)
        values (${groupId}, ${newId()}, ${id}, ${gardenId})`)
  }
  await worked({ by: personId, people: 1, garden: gardens[0] })
  await worked({ by: personId, people: 3, garden: gardens[0] })
  await worked({ by: other, people: 2, garden: gardens[0] })
  await worked({ by: personId, people: 2, bed: beds[0] })
  await worked({ by: other, people: 1, planting: plantings[0] })
  await worked({ by: other, people: 5, over: [gardens[1], gardens[3]] })
  await worked({ by: personId, people: 4, over: [gardens[3], gardens[4]] })
  const told = await asMember(database, { personId, groupId, readOnly: true }, (tx) =>
    gardensTold(tx, groupId, [seasonId]),
  )
  expect(told.gardens.map(({ garden, writers, mostAtOnce }) => [garden, writers, mostAtOnce])).toEqual([
    ['Garden 0', 2, 3],
    ['Garden 1', 2, 5],
    ['Garden 2', 1, 1],
    ['Garden 3', 2, 5],
    ['Garden 4', 1, 4],
    ['Garden 5', 0, 0],
  ])
})
