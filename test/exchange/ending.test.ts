import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest'
import { endDueGroups } from '../../src/accounts/endings.queries.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
import { dayIn } from '../../src/quantities/dates.ts'
import { formatDay } from '../../src/quantities/formatting.ts'
import type { Letter } from '../../src/web/mail.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

const letters: Letter[] = []
let place: Place
beforeAll(async () => {
  const post = { send: (letter: Letter) => void letters.push(letter) }
  place = await openPlace({ mailing: { post, origin: 'https://gardens.example' } })
})
afterAll(() => place.close())
beforeEach(() => void letters.splice(0))

/** A keeper with a copy of the example, which has rows in nearly every table. */
async function withExample(): Promise<Client> {
  const keeper = await place.person()
  keeper.slug = (await keeper.post('/demo/copy')).location.split('/')[2] ?? ''
  return keeper
}

const exported = async (of: Client) => ({
  name: 'export.zip',
  bytes: await of.download(`/g/${of.slug}/exchange/export.zip`),
})
const ask = (keeper: Client, file: { name: string; bytes: Buffer }, reason = 'We stop.') =>
  keeper.upload(`/g/${keeper.slug}/ending`, { reason }, file)
const idOf = async (of: Client) =>
  (
    await rowsRead(place.database.drizzle, sql`select id from groups where slug = ${of.slug}`, (row) => String(row.id))
  )[0] ?? ''
/** As if the clock had gone on (or back) by so many days. */
const clockBy = (days: number, group: string) =>
  place.database.drizzle.execute(sql`update group_endings set asked_at = asked_at - make_interval(days => ${days}),
    ends_at = ends_at - make_interval(days => ${days}), days_seen = array(select d - ${days}::int from unnest(days_seen) d)
    where group_id = ${group}`)
/** Looks at the end of each of these days, twice, and what that ended. */
async function looksOnDays(days: number, group: string): Promise<number[]> {
  const ended: number[] = []
  for (let day = 0; day < days; day++) {
    await clockBy(1, group)
    ended.push((await endDueGroups(place.database)) + (await endDueGroups(place.database)))
  }
  return ended
}
const dayHence = (days: number) =>
  formatDay(dayIn('Pacific/Auckland', new Date(Date.now() + days * 86_400_000)), 'en-NZ')
const none = (days: number): number[] => Array.from({ length: days }, () => 0)
const stands = async (of: Client) => (await of.get(`/g/${of.slug}`)).status === 200

const changesOf = async (group: string) =>
  rowsRead(place.database.drizzle, sql`select changes from group_counters where group_id = ${group}`, (row) =>
    Number(row.changes),
  )

/** The tables that still hold a row of a group. */
async function holding(group: string): Promise<string[]> {
  const named = sql`select c.relname::text as name from pg_class c join pg_attribute a on a.attrelid = c.oid
    and a.attname = 'group_id' where c.relnamespace = 'public'::regnamespace and c.relkind in ('r', 'p') order by 1`
  const held: string[] = []
  for (const name of await rowsRead(place.database.drizzle, named, (row) => String(row.name))) {
    const one = sql`select 1 from ${sql.identifier(name)} where group_id = ${group} limit 1`
    if ((await rowsRead(place.database.drizzle, one, () => true)).length > 0) held.push(name)
  }
  return held
}

it('a group goes with all its rows seven days after its keeper gave its export and a reason, and no other does', async () => {
  const [keeper, other] = [await withExample(), await withExample()]
  const ben = await place.joined(keeper, 'recorder')
  const [id, otherId] = [await idOf(keeper), await idOf(other)]
  await place.database.drizzle.execute(sql`insert into season_questions (group_id, id, season_id, question, primary_measure,
      terms, seasons_to_look_at, sentence_if_seen, sentence_if_not_seen, locked_at)
    select group_id, gen_random_uuid(), id, 'More?', 'marketablePerBed', '{}', 3, 'Yes.', 'Not told.', now()
    from seasons where group_id = ${id} order by starts_on limit 1`)
  const before = await holding(id)
  expect(before.length).toBeGreaterThan(25)
  expect(before).toEqual(expect.arrayContaining(['season_questions', 'changes', 'members', 'harvests']))
  const done = await ask(keeper, await exported(keeper))
  expect([done.status, done.location]).toEqual([303, `/g/${keeper.slug}/ending`])
  expect(plain((await keeper.get(done.location)).text)).toContain('Ada Rook asked for it: We stop.')
  expect(plain((await ben.get(`/g/${keeper.slug}`)).text)).toMatch(
    /This group is deleted on .*, with everything in it\./,
  )
  expect(letters.map(({ to, subject }) => [to, subject])).toEqual(
    expect.arrayContaining([keeper.email, ben.email].map((to) => [to, 'Quern Hill Growers is to be deleted'])),
  )
  const written = await changesOf(id)
  expect([await endDueGroups(place.database), await changesOf(id)]).toEqual([0, written])
  expect(await looksOnDays(6, id)).toEqual(none(6))
  expect(await stands(keeper)).toBe(true)
  expect(await looksOnDays(1, id)).toEqual([1])
  expect(await holding(id)).toEqual([])
  expect((await keeper.get(`/g/${keeper.slug}`)).status).toBe(404)
  expect((await holding(otherId)).length).toBeGreaterThan(25)
  expect((await other.get(`/g/${other.slug}`)).status).toBe(200)
})

it('any keeper calls it back, its history says so, and then it does not go', async () => {
  const keeper = await place.keeper()
  const cleo = await place.joined(keeper, 'keeper')
  await ask(keeper, await exported(keeper), 'Too few of us.')
  expect((await cleo.post(`/g/${keeper.slug}/ending/called-back`)).location).toBe(`/g/${keeper.slug}`)
  expect(plain((await keeper.get(`/g/${keeper.slug}`)).text)).not.toContain('This group is deleted')
  const id = await idOf(keeper)
  expect(await looksOnDays(8, id)).toEqual(none(8))
  expect(await stands(keeper)).toBe(true)
  expect(plain((await keeper.get(`/g/${keeper.slug}/history`)).text)).toContain('Too few of us.')
  expect(letters.filter(({ subject }) => subject.endsWith('stays'))).toHaveLength(2)
  const again = await ask(keeper, await exported(keeper))
  expect(again.status).toBe(303)
})

it('a clock that jumps ahead makes one day: it goes after seven that were seen, and says on which it can', async () => {
  const keeper = await place.keeper()
  await ask(keeper, await exported(keeper))
  const id = await idOf(keeper)
  const said = async () => plain((await keeper.get(`/g/${keeper.slug}/ending`)).text)
  expect(await endDueGroups(place.database)).toBe(0)
  await clockBy(70, id)
  expect([await endDueGroups(place.database), await endDueGroups(place.database)]).toEqual([0, 0])
  expect(await said()).toContain(`This group is deleted on ${dayHence(5)}`)
  expect(await looksOnDays(4, id)).toEqual(none(4))
  expect(await said()).toContain(`This group is deleted on ${dayHence(1)}`)
  expect(await looksOnDays(1, id)).toEqual([1])
})

it('days of a clock that was ahead count no more once it is right, and keep no group longer', async () => {
  const keeper = await place.keeper()
  await ask(keeper, await exported(keeper))
  const id = await idOf(keeper)
  expect(await endDueGroups(place.database)).toBe(0)
  for (const days of [70, -70, 71, -71, 72, -72, 73, -73, 74, -74, 75, -75]) {
    await clockBy(days, id)
    expect(await endDueGroups(place.database)).toBe(0)
  }
  await clockBy(70, id)
  expect(await endDueGroups(place.database)).toBe(0)
  await clockBy(-70, id)
  expect(await looksOnDays(7, id)).toEqual([...none(6), 1])
})

it('called back and asked for anew, its days are counted from the start', async () => {
  const keeper = await place.keeper()
  const id = await idOf(keeper)
  await ask(keeper, await exported(keeper))
  expect(await looksOnDays(6, id)).toEqual(none(6))
  await keeper.post(`/g/${keeper.slug}/ending/called-back`)
  await ask(keeper, await exported(keeper))
  await clockBy(70, id)
  expect(await looksOnDays(6, id)).toEqual(none(6))
  expect(await looksOnDays(1, id)).toEqual([1])
})

it('is refused without an export of this very group as it stands, and without a reason', async () => {
  const [keeper, other] = [await place.keeper(), await place.keeper()]
  const own = await exported(keeper)
  const cases: [{ name: string; bytes: Buffer }, string, string][] = [
    [await exported(other), 'We stop.', 'This is an export of another group.'],
    [{ name: 'x.zip', bytes: Buffer.from('no zip') }, 'We stop.', 'zip'],
    [{ name: 'x.zip', bytes: own.bytes.subarray(0, own.bytes.length - 400) }, 'We stop.', 'zip'],
    [own, '', 'missing'],
  ]
  for (const [file, reason, said] of cases) {
    const answer = await ask(keeper, file, reason)
    expect([answer.status, said]).toEqual([422, said])
    if (said !== 'missing') expect(plain(answer.text)).toContain(said)
  }
  await keeper.post(`/g/${keeper.slug}/people/invitations`, { role: 'reader' })
  expect(plain((await ask(keeper, own)).text)).toContain('Something was written since this export')
  const ben = await place.joined(keeper, 'recorder')
  expect((await ask(ben, own)).status).toBe(403)
  expect(await holding(await idOf(keeper))).not.toContain('group_endings')
})

it('the database lets neither role end a group, nor a recorder ask for it', async () => {
  const keeper = await place.keeper()
  const id = await idOf(keeper)
  const calls = ['end_group', 'see_group_ending']
  const roles = ['evenground_member', 'evenground_door']
  for (const [role, call] of roles.flatMap((one) => calls.map((each) => [one, each] as const))) {
    const attempt = place.database.transaction(async (tx) => {
      await tx.execute(sql.raw(`set local role ${role}`))
      await tx.execute(sql`select ${sql.raw(call)}(${id}::uuid)`)
    })
    await expect(attempt).rejects.toMatchObject({ cause: { code: '42501' } })
  }
  const early = place.database.transaction((tx) => tx.execute(sql`select end_group(${id}::uuid)`))
  await expect(early).rejects.toMatchObject({ cause: { constraint: 'group_does_not_end' } })
})
