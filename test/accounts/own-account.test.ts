import { eq, sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { people, sessions } from '../../src/accounts/accounts.table.ts'
import { browserOf } from '../../src/accounts/browser.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const password = 'long enough to keep'
const onPhone = 'Mozilla/5.0 (Android 15; Mobile; rv:140.0) Gecko/140.0 Firefox/140.0'

/** The same person in another browser. */
async function elsewhere(person: Client, secret = password): Promise<Client> {
  const other = place.guest()
  Object.assign(other, { email: person.email, forwardedFor: person.forwardedFor, userAgent: onPhone })
  expect((await other.post('/sign-in', { email: person.email, password: secret })).status).toBe(303)
  return other
}

const isIn = async (client: Client) => (await client.get('/account')).status === 200

describe('an account', () => {
  it('is for who is signed in', async () => {
    expect((await place.guest().get('/account')).location).toBe('/sign-in?next=%2Faccount')
  })

  it('takes another name, which the group sees', async () => {
    const keeper = await place.keeper()
    expect((await keeper.post('/account/name', { name: 'Ada Marsh' })).location).toBe('/account')
    expect(rowOf((await keeper.get(`/g/${keeper.slug}/people`)).text, 'Ada Marsh')[1]).toBe('keeper')
    expect((await keeper.post('/account/name', { name: ' ' })).status).toBe(422)
  })

  it('takes another address for the present password, and only a free one', async () => {
    const [person, other] = [await place.person(), await place.person()]
    const email = `moved-${person.email}`
    const wrong = await person.post('/account/address', { email, addressPassword: 'not this one at all' })
    expect([wrong.status, plain(wrong.text).includes('This is not the present password')]).toEqual([422, true])
    expect(wrong.text).toContain(`value="${email}"`)
    const taken = await person.post('/account/address', { email: other.email, addressPassword: password })
    expect([taken.status, plain(taken.text).includes('an account with this address already')]).toEqual([422, true])
    expect((await person.post('/account/address', { email, addressPassword: password })).status).toBe(303)
    const guest = place.guest()
    expect((await guest.post('/sign-in', { email: person.email, password })).status).toBe(422)
    expect((await guest.post('/sign-in', { email, password })).status).toBe(303)
  })

  it('takes another password, ends all other sessions and none of the one that asked', async () => {
    const person = await place.person()
    const phone = await elsewhere(person)
    const newPassword = 'seven herons over the weir'
    const change = { presentPassword: password, newPassword }
    expect((await person.post('/account/password', { ...change, presentPassword: 'x' })).status).toBe(422)
    expect([await isIn(person), await isIn(phone)]).toEqual([true, true])
    expect((await person.post('/account/password', change)).location).toBe('/account')
    expect([await isIn(person), await isIn(phone)]).toEqual([true, false])
    expect((await phone.post('/sign-in', { email: person.email, password })).status).toBe(422)
    expect(await isIn(await elsewhere(person, newPassword))).toBe(true)
  })

  it('counts tries of the present password by session, and leaves the way in open', async () => {
    const person = await place.person()
    const tried = async (presentPassword: string) =>
      (await person.post('/account/password', { presentPassword, newPassword: 'seven herons over the weir' })).status
    const statuses = []
    for (let i = 0; i < 11; i++) statuses.push(await tried('guess'))
    expect(statuses).toEqual([...Array.from({ length: 10 }, () => 422), 429])
    expect(await tried(password)).toBe(429)
    expect((await person.post('/account/deletion', { deletionPassword: password })).status).toBe(429)
    expect(await isIn(await elsewhere(person))).toBe(true)
  })

  it('shows its page in the language of the first group', async () => {
    const keeper = await place.keeper({ locale: 'de-AT', timeZone: 'Europe/Vienna', currency: 'EUR' })
    const page = await keeper.get('/account')
    expect(page.text).toContain('<html lang="de-AT"')
    expect(plain(page.text)).toContain('Wo du angemeldet bist')
    const short = await keeper.post('/account/password', { presentPassword: password, newPassword: 'kurz' })
    expect(plain(short.text)).toContain('Bitte mindestens zehn Zeichen.')
  })
})

describe('sessions', () => {
  it('are listed by browser and system, and ended one by one', async () => {
    const person = await place.person()
    const phone = await elsewhere(person)
    const page = await person.get('/account')
    expect(rowOf(page.text, 'Firefox on Android End it')).toHaveLength(3)
    expect(rowOf(page.text, 'A browser on a system that it does not name this one')).toHaveLength(3)
    const session = /name="session" value="([0-9a-f-]{36})"/.exec(page.text)?.[1]
    const stranger = await place.person()
    await stranger.post('/account/sessions', { session, endPassword: password })
    expect(await isIn(phone)).toBe(true)
    await person.post('/account/sessions', { session, endPassword: password })
    expect([await isIn(person), await isIn(phone)]).toEqual([true, false])
  })

  it('are ended all at once but for the one that asks', async () => {
    const person = await place.person()
    const others = [await elsewhere(person), await elsewhere(person)]
    await person.post('/account/sessions', { session: 'others', endPassword: password })
    expect([await isIn(person), await isIn(others[0] as Client), await isIn(others[1] as Client)]).toEqual([
      ...[true, false, false],
    ])
  })

  it('are ended for the present password alone: not by whoever finds a browser left open', async () => {
    const person = await place.person()
    const phone = await elsewhere(person)
    const session = /name="session" value="([0-9a-f-]{36})"/.exec((await person.get('/account')).text)?.[1]
    for (const which of [session, 'others']) {
      expect((await person.post('/account/sessions', { session: which })).status).toBe(422)
      const wrong = await person.post('/account/sessions', { session: which, endPassword: 'not this' })
      expect([wrong.status, plain(wrong.text).includes('This is not the present password')]).toEqual([422, true])
    }
    expect(await isIn(phone)).toBe(true)
  })

  it('end in the browser that signs in anew, and in no other', async () => {
    const person = await place.person()
    const phone = await elsewhere(person)
    await phone.post('/sign-in', { email: person.email, password })
    const [found] = await place.database.drizzle
      .select({ count: sql<number>`count(*)::int` })
      .from(sessions)
      .innerJoin(people, eq(people.id, sessions.personId))
      .where(eq(people.email, person.email))
    expect(found?.count).toBe(2)
    expect([await isIn(person), await isIn(phone)]).toEqual([true, true])
  })

  it('end after fourteen days without a page, and a page puts that off', async () => {
    const [person, other] = [await place.person(), await place.person()]
    const lastUsed = (client: Client, days: number) =>
      place.database.drizzle.execute(sql`update sessions set last_used_at = now() - make_interval(days => ${days})
        where person_id = (select id from people where email = ${client.email})`)
    await lastUsed(person, 13)
    await lastUsed(other, 15)
    expect([await isIn(person), await isIn(other)]).toEqual([true, false])
    const rows = (await place.database.drizzle.execute(sql`select last_used_at > now() - interval '1 minute' as now
      from sessions join people p on p.id = person_id where p.email = ${person.email}`)) as unknown as {
      rows: object[]
    }
    expect(rows.rows).toEqual([{ now: true }])
    await place.person()
    const kept = await place.database.drizzle.execute(
      sql`select 1 from sessions join people p on p.id = person_id where p.email = ${other.email}`,
    )
    expect((kept as unknown as { rows: object[] }).rows).toEqual([])
  })

  it('begun by a clock that was ahead last no longer than others', async () => {
    const person = await place.person()
    const its = sql`person_id = (select id from people where email = ${person.email})`
    await place.database.drizzle.execute(sql`update sessions set last_used_at = now() + interval '70 days',
      expires_at = now() + interval '130 days' where ${its}`)
    expect(await isIn(person)).toBe(true)
    const held = (await place.database.drizzle.execute(sql`select last_used_at <= now() as used,
      expires_at <= now() + interval '60 days' as ends from sessions where ${its}`)) as unknown as { rows: object[] }
    expect(held.rows).toEqual([{ used: true, ends: true }])
  })

  it('a browser is called by what it is, whatever else it names', () => {
    const chrome =
      'Mozilla/5.0 (Windows NT 10.0; Win64; x64) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/139.0 Safari/537.36'
    const safari =
      'Mozilla/5.0 (iPhone; CPU iPhone OS 18_5 like Mac OS X) AppleWebKit/605.1 Version/18.5 Mobile/15E148 Safari/604.1'
    expect(browserOf(chrome)).toEqual({ name: 'Chrome', system: 'Windows' })
    expect(browserOf(`${chrome} Edg/139.0`)).toEqual({ name: 'Edge', system: 'Windows' })
    expect(browserOf(safari)).toEqual({ name: 'Safari', system: 'iPhone' })
    expect(browserOf('curl/8')).toEqual({ name: null, system: null })
  })
})

describe('a form', () => {
  it('holds in the session it was made in, and in no other of the same browser', async () => {
    const person = await place.person()
    const _csrf = /name="_csrf" value="([^"]+)"/.exec((await person.get('/account')).text)?.[1]
    expect((await person.post('/account/name', { name: 'Ada', _csrf })).status).toBe(303)
    await person.post('/sign-in', { email: person.email, password })
    expect((await person.post('/account/name', { name: 'Eve', _csrf })).status).toBe(403)
    expect((await person.post('/account/name', { name: 'Ada' })).status).toBe(303)
  })

  it('of a guest is of no use to who is signed in', async () => {
    const person = await place.person()
    const guest = place.guest()
    const _csrf = /name="_csrf" value="([^"]+)"/.exec((await guest.get('/sign-in')).text)?.[1]
    expect((await person.post('/account/name', { name: 'Eve', _csrf })).status).toBe(403)
  })
})

it('no page that a person sees is kept by the browser', async () => {
  const keeper = await place.keeper()
  for (const address of ['/', '/account', `/g/${keeper.slug}`, `/g/${keeper.slug}/people`]) {
    expect((await keeper.get(address)).headers['cache-control']).toBe('no-store')
  }
  expect((await place.guest().get('/figures')).headers['cache-control']).toBeUndefined()
})

describe('deleting an account', () => {
  it('takes the name and leaves the record', async () => {
    const keeper = await place.keeper()
    const recorder = await place.joined(keeper, 'recorder')
    const phone = await elsewhere(recorder)
    expect((await recorder.post('/account/deletion', { deletionPassword: 'not this' })).status).toBe(422)
    expect((await recorder.post('/account/deletion', { deletionPassword: password })).location).toBe('/')
    expect([await isIn(recorder), await isIn(phone)]).toEqual([false, false])
    expect((await place.guest().post('/sign-in', { email: recorder.email, password })).status).toBe(422)
    expect(plain((await keeper.get(`/g/${keeper.slug}/people`)).text)).not.toContain('Ben Marsh')
    const stays =
      (await place.database.drizzle.execute(sql`select p.name, p.email like '%Ben%' or p.email like '%@%' as told
      from changes c join people p on p.id = c.person_id where c.table_name = 'members' and c.after is null`)) as unknown as {
        rows: object[]
      }
    expect(stays.rows).toEqual([{ name: '', told: false }])
    const again = place.guest()
    again.forwardedFor = '10.66.0.1'
    const anew = { name: 'Ben Marsh', email: recorder.email, password }
    expect((await again.post('/sign-up', anew)).status).toBe(303)
  })

  it('is refused to the last keeper of a group, which is named, and nothing of it is done', async () => {
    const keeper = await place.keeper({ name: 'Hollow Ground' })
    const others = await place.keeper({ name: 'Far Field' })
    const link = await others.post(`/g/${others.slug}/people/invitations`, { role: 'reader' })
    await keeper.post(/\/invitations\/[\w-]+/.exec(link.text)?.[0] ?? '')
    expect(plain((await keeper.get('/account')).text)).toContain('without you Hollow Ground would have no keeper')
    const answer = await keeper.post('/account/deletion', { deletionPassword: password })
    expect([answer.status, plain(answer.text).includes('Hollow Ground')]).toEqual([409, true])
    expect((await keeper.get(`/g/${others.slug}`)).status).toBe(200)
  })
})
