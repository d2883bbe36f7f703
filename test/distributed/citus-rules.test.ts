import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Database } from '../../src/db/database.ts'
import { openBareDatabase } from '../support/database.ts'
import { byRow } from './by-row.ts'
import { linesWith, movesGroup, noMatter, rules, rulesFound, setsByFunction, volatileCalls } from './citus-rules.ts'
import { definitions } from './definitions.ts'

let database: Database
beforeAll(async () => {
  database = await openBareDatabase()
  await database.migrate('migrations')
})
afterAll(() => database.close())

const run = async (statements: string) => {
  for (const one of statements.split(';;')) await database.drizzle.execute(sql.raw(one))
}
const unplanned = async () =>
  (await rulesFound(database)).flatMap(({ rule, found }) =>
    found.flatMap(({ name, becomes }) =>
      becomes === null ? [`${rule.says.split(' ').slice(0, 5).join(' ')}: ${name}`] : [],
    ),
  )
const brokenOf = async (beginning: string) =>
  (await rulesFound(database)).find(({ rule }) => rule.says.startsWith(beginning))?.found.map(({ name }) => name)

describe('the rules of Citus, each read from the catalogue or the code', () => {
  it('are held, or what breaks them has its replacement', async () => {
    expect(await unplanned()).toEqual([])
    expect(rules.length + noMatter.length).toBeGreaterThan(20)
    const sources = [...rules, ...noMatter].map(({ source }) => source)
    expect(sources.filter((one) => one !== 'from memory' && !one.at.startsWith('https://'))).toEqual([])
  })

  it.each([
    [
      'a key without the group',
      'create table stray (group_id uuid not null, id uuid primary key)',
      'A primary key or a: stray_pkey',
    ],
    [
      'an exclusion that holds the group by another operator',
      `create table stray (group_id uuid not null, id uuid, primary key (group_id, id),
        constraint stray_group exclude using gist (group_id with <>))`,
      'An exclusion holds the distribution: stray_group',
    ],
    [
      'a foreign key whose group stands elsewhere',
      `create table stray (group_id uuid not null, id uuid, other uuid, primary key (group_id, id),
        constraint stray_bed foreign key (other, id) references beds (group_id, id))`,
      'A foreign key leads to: stray_bed',
    ],
    [
      'a foreign key that sets null',
      `create table stray (group_id uuid not null, id uuid, bed uuid, primary key (group_id, id),
        constraint stray_bed foreign key (group_id, bed) references beds (group_id, id) on delete set null)`,
      'With the distribution column in: stray_bed',
    ],
    [
      'a table of a person that points into a group',
      `create table stray (id uuid primary key, of_group uuid, bed uuid,
        constraint stray_bed foreign key (of_group, bed) references beds (group_id, id))`,
      'No reference or local table: stray_bed',
    ],
    [
      'a group of another type',
      'create table stray (group_id text not null, id uuid, primary key (group_id, id))',
      'Tables that lie together have: stray',
    ],
    [
      'a trigger of a statement',
      `create table stray (group_id uuid not null, id uuid, primary key (group_id, id));;
       create function stray_told() returns trigger language plpgsql as 'begin return null; end';;
       create trigger stray_told after insert on stray for each statement execute function stray_told()`,
      'A trigger of a statement: stray_told',
    ],
    [
      'a trigger of a row that nobody read',
      `create table stray (group_id uuid not null, id uuid, primary key (group_id, id));;
       create function stray_told() returns trigger language plpgsql as 'begin return null; end';;
       create trigger stray_told after insert on stray for each row execute function stray_told()`,
      'A trigger of each row: stray_told',
    ],
    [
      'a trigger of people',
      `create function stray_told() returns trigger language plpgsql as 'begin return null; end';;
       create trigger stray_told after insert on people for each row execute function stray_told()`,
      'A reference table has no: people: stray_told',
    ],
    [
      'a policy with a subquery',
      `create table stray (group_id uuid not null, id uuid, primary key (group_id, id));;
       create policy stray_wall on stray using (exists (select from groups g where g.id = group_id))`,
      'A policy holds no subquery.: stray_wall',
    ],
    [
      'a table of a group that the door reads',
      `create table stray (group_id uuid not null, id uuid, primary key (group_id, id));;
       create policy door on stray to evenground_door using (true)`,
      'What is asked of several: stray',
    ],
    [
      'a short sequence',
      'create table stray (group_id uuid not null, id uuid, n serial, primary key (group_id, id))',
      'A sequence that a distributed: stray_n_seq',
    ],
    ['a view', 'create view stray as select id from groups', 'There are no rules, and: stray'],
    [
      'partitions of partitions',
      `create table stray (group_id uuid not null, id uuid, primary key (group_id, id)) partition by hash (group_id);;
       create table stray_0 partition of stray for values with (modulus 1, remainder 0) partition by hash (id)`,
      'A partitioned table has one: stray_0',
    ],
    [
      'a table without a key',
      'create table stray (group_id uuid not null, id uuid)',
      'Rows are moved between machines,: stray',
    ],
  ])('%s is found', async (_what, statements, found) => {
    try {
      await run(statements)
      expect(await unplanned()).toContain(found)
    } finally {
      await run('drop view if exists stray').catch(() => undefined)
      await run('drop table if exists stray').catch(() => undefined)
      await run('drop function if exists stray_told cascade')
    }
    expect(await unplanned()).toEqual([])
  })

  it('what stands in the code is found by its line', () => {
    const files = new Map([
      ['a.ts', "sql`select set_config('evenground.group', 'x', true)`"],
      ['b.ts', 'sql`update beds set name = random()`'],
      ['c.ts', 'tx.update(beds).set({ name, groupId: other })'],
      ['d.ts', 'tx.update(beds).set({ name }).where(eq(beds.groupId, groupId))'],
    ])
    expect([setsByFunction, volatileCalls, movesGroup].map((one) => linesWith(one, files))).toEqual([
      ['a.ts'],
      ['b.ts'],
      ['c.ts'],
    ])
  })

  it('an extension that nobody looked up is found', async () => {
    const rule = rules.find(({ says }) => says.startsWith('The extensions'))
    expect(await rule?.breaches(database)).toEqual([])
    expect(rule?.becomes('stray')).toBeNull()
  })

  it('what is to stand in place of triggers of a statement and of subqueries breaks these rules no more', async () => {
    const before = await definitions(database)
    expect(await brokenOf('A trigger of a statement')).toContain('write_history')
    await byRow(database)
    expect(await brokenOf('A trigger of a statement')).toEqual([])
    expect(await brokenOf('A policy holds no subquery')).toEqual([])
    const after = await definitions(database)
    const named = (all: typeof before) => all.map(({ table, what, name }) => `${table} ${what} ${name}`).sort()
    expect(named(after)).toEqual(named(before))
  })
})
