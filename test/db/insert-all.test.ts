import { sql } from 'drizzle-orm'
import { integer, pgTable, text, timestamp, uuid } from 'drizzle-orm/pg-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { insertAll, newIdsIn, newOf } from '../../src/db/insert-all.ts'
import { newId } from '../../src/db/new-id.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { openPlace, type Place } from '../support/app.ts'

const crates = pgTable('crates_tried', {
  groupId: uuid('group_id').notNull(),
  id: uuid().notNull(),
  label: text().notNull().default('none'),
  grams: integer(),
  weighedAt: timestamp('weighed_at', { withTimezone: true }),
})

/** Of sacks that lie in crates. */
const sacks = pgTable('sacks_tried', {
  groupId: uuid('group_id').notNull(),
  id: uuid().notNull(),
  crateId: uuid('crate_id').notNull(),
})

let place: Place
beforeAll(async () => {
  place = await openPlace()
  await place.database.drizzle.execute(sql`create table crates_tried (group_id uuid not null, id uuid not null,
    label text not null default 'none', grams integer, weighed_at timestamptz, primary key (group_id, id))`)
  await place.database.drizzle.execute(sql`create table sacks_tried (group_id uuid not null, id uuid not null,
    crate_id uuid not null, primary key (group_id, id),
    foreign key (group_id, crate_id) references crates_tried (group_id, id))`)
})
afterAll(async () => {
  await place.database.drizzle.execute(sql`drop table crates_tried, sacks_tried`)
  await place.close()
})

const standing = () =>
  place.database.transaction((tx) =>
    rowsRead(
      tx,
      sql`select label, grams, weighed_at at time zone 'UTC' = '2026-05-01 12:00' as then from crates_tried
      order by grams nulls last`,
      ({ label, grams, then }) => [label, grams, then],
    ),
  )

it('rows that name different fields are inserted, and what one leaves out is as the table has it', async () => {
  const [groupId, once] = [newId(), newId()]
  const weighedAt = new Date('2026-05-01T12:00:00Z')
  await place.database.transaction((tx) =>
    insertAll(tx, crates, [
      { groupId, id: newId(), label: 'A "quoted" one', grams: 1, weighedAt },
      { groupId, id: newId(), label: undefined, grams: 2 },
      { groupId, id: once, label: 'b', grams: null },
    ]),
  )
  const stored = [
    ['A "quoted" one', 1, true],
    ['none', 2, null],
    ['b', null, null],
  ]
  expect(await standing()).toEqual(stored)
  const [fresh, sack] = [newId(), newId()]
  const sets = [
    { table: sacks, rows: [{ groupId, id: sack, crateId: fresh }] },
    {
      table: crates,
      rows: [
        { groupId, id: once, label: 'another', grams: 9 },
        { groupId, id: fresh, grams: 3 },
      ],
    },
  ]
  const made = newIdsIn(await place.database.transaction((tx) => tx.execute(newOf(sets))), 2)
  expect(made).toEqual([new Set([sack]), new Set([fresh])])
  expect(await standing()).toEqual([...stored.slice(0, 2), ['none', 3, null], ...stored.slice(2)])
})
