import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest'
import { endDueGroups } from '../../src/accounts/endings.queries.ts'
import { rowsRead } from '../../src/db/rows-read.ts'
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
const dayComes = (group: string) =>
  place.database.drizzle.execute(sql`update group_endings set ends_at = now() where group_id = ${group}`)

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
  expect(await endDueGroups(place.database)).toBe(0)
  await dayComes(id)
  expect(await endDueGroups(place.database)).toBe(1)
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
  await dayComes(id)
  expect(await endDueGroups(place.database)).toBe(0)
  expect((await keeper.get(`/g/${keeper.slug}`)).status).toBe(200)
  expect(plain((await keeper.get(`/g/${keeper.slug}/history`)).text)).toContain('Too few of us.')
  expect(letters.filter(({ subject }) => subject.endsWith('stays'))).toHaveLength(2)
  const again = await ask(keeper, await exported(keeper))
  expect(again.status).toBe(303)
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
  for (const role of ['evenground_member', 'evenground_door']) {
    const attempt = place.database.transaction(async (tx) => {
      await tx.execute(sql.raw(`set local role ${role}`))
      await tx.execute(sql`select end_group(${id}::uuid)`)
    })
    await expect(attempt).rejects.toMatchObject({ cause: { code: '42501' } })
  }
  const early = place.database.transaction((tx) => tx.execute(sql`select end_group(${id}::uuid)`))
  await expect(early).rejects.toMatchObject({ cause: { constraint: 'group_does_not_end' } })
})
