import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { openTestDatabase } from '../support/database.ts'
import { notDistributable, tablesOfGroups } from './distributable.ts'

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
afterAll(() => database.close())

const run = (statement: string) => database.drizzle.execute(sql.raw(statement))
const unplanned = async () =>
  (await notDistributable(database)).flatMap(({ what, planned }) => (planned === null ? [what] : []))

describe('every table of a group is keyed and joined by its group', () => {
  it('and what is not has its plan', async () => {
    expect(await tablesOfGroups(database)).toBeGreaterThan(45)
    expect(await unplanned()).toEqual([])
    const plans = new Map((await notDistributable(database)).map(({ what, planned }) => [what, planned?.plan]))
    // In partitions that key stands on each of them, and on the table none does (partitioned.ts).
    const whole = process.env.PARTITIONED ? undefined : 'directory'
    expect(plans.get('key without the group share_links_token_is_unique')).toBe(whole)
    expect(plans.get('points outside members_person_id_people_id_fk')).toBe('reference table')
    expect(plans.get('table of no group sessions')).toBe('local table')
  })

  it.each([
    ['a table that nobody planned', 'create table stray (id uuid primary key)', 'table of no group stray'],
    [
      'a key without the group',
      'create table stray (group_id uuid not null, id uuid primary key)',
      'key without the group stray_pkey',
    ],
    ['a table without a key', 'create table stray (group_id uuid not null, id uuid)', 'no primary key stray'],
    [
      'a join by the id alone',
      `create table other (group_id uuid not null, id uuid not null, primary key (group_id, id), unique (id, group_id));
       create table stray (group_id uuid not null, id uuid not null, other_group uuid, other_id uuid,
         primary key (group_id, id),
         constraint stray_other foreign key (other_group, other_id) references other (group_id, id))`,
      'joined without the group stray_other',
    ],
    [
      'an exclusion across groups',
      `create table stray (group_id uuid not null, id uuid not null, days daterange, primary key (group_id, id),
         constraint stray_days exclude using gist (days with &&))`,
      'excludes across groups stray_days',
    ],
    [
      'a table of a person that points into a group',
      `create table stray (id uuid primary key, group_id_of uuid, bed uuid,
         constraint stray_bed foreign key (group_id_of, bed) references beds (group_id, id))`,
      'points inside stray_bed',
    ],
  ])('%s is found', async (_what, statement, found) => {
    try {
      for (const one of statement.split(';')) await run(one)
      expect(await unplanned()).toContain(found)
    } finally {
      await run('drop table if exists stray')
      await run('drop table if exists other')
    }
  })
})
