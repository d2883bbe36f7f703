import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { addReset, useReset } from '../../src/accounts/resets.queries.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const old = 'long enough to keep'
const newPassword = 'seven herons over the weir'
const linkFor = async ({ email }: Client) => `/reset/${await addReset(place.database, email)}`
const signedIn = async (email: string, password: string) =>
  (await place.guest().post('/sign-in', { email, password })).status === 303

it('a link lets its person choose another password once, and ends all sessions', async () => {
  const person = await place.person()
  const link = await linkFor(person)
  const guest = place.guest()
  const page = await guest.get(link)
  expect(plain(page.text)).toContain(`For the account ${person.email}`)
  expect(page.headers['cache-control']).toBe('no-store')
  expect((await guest.post(link, { newPassword })).location).toBe('/sign-in')
  expect(plain((await guest.get('/sign-in')).text)).toContain('The password is saved. Sign in with it.')
  expect((await person.get('/account')).status).toBe(303)
  expect([await signedIn(person.email, old), await signedIn(person.email, newPassword)]).toEqual([false, true])
  expect([(await guest.get(link)).status, (await guest.post(link, { newPassword: `${old} now` })).status]).toEqual([
    404, 404,
  ])
  expect(await signedIn(person.email, newPassword)).toBe(true)
})

it('a password that is refused elsewhere is refused here, and the link holds on', async () => {
  const person = await place.person('Cleo Dunn')
  const [link, guest] = [await linkFor(person), place.guest()]
  const common = await guest.post(link, { newPassword: 'password1234' })
  expect([common.status, plain(common.text).includes('tried first')]).toEqual([422, true])
  expect((await guest.post(link, { newPassword: 'cleodunn2026' })).status).toBe(422)
  expect((await guest.post(link, { newPassword })).status).toBe(303)
})

it('used twice at the same moment it works once', async () => {
  const person = await place.person()
  const token = (await addReset(place.database, person.email)) ?? ''
  const used = await Promise.all([useReset(place.database, token, newPassword), useReset(place.database, token, old)])
  expect(used.filter(Boolean)).toHaveLength(1)
})

it('a link holds for an hour, and ends with the next one, another password and another address', async () => {
  const person = await place.person()
  const guest = place.guest()
  const open = async (link: string) => (await guest.get(link)).status === 200
  const [first, second] = [await linkFor(person), await linkFor(person)]
  expect([await open(first), await open(second)]).toEqual([false, true])
  await person.post('/account/password', { presentPassword: old, newPassword })
  expect(await open(second)).toBe(false)
  const third = await linkFor(person)
  await person.post('/account/address', { email: `moved-${person.email}`, addressPassword: newPassword })
  expect(await open(third)).toBe(false)
  const fourth = await linkFor({ ...person, email: `moved-${person.email}` } as Client)
  await place.database.drizzle.execute(sql`update password_resets set expires_at = created_at + interval '1 hour'`)
  expect(await open(fourth)).toBe(true)
  await place.database.drizzle.execute(sql`update password_resets set expires_at = now()`)
  expect(await open(fourth)).toBe(false)
})

it('what is stored of a link is of no use, and an address without an account has none', async () => {
  const person = await place.person()
  const token = await addReset(place.database, person.email)
  const stored = await place.database.drizzle.execute(sql`select * from password_resets`)
  expect(JSON.stringify((stored as unknown as { rows: object[] }).rows)).not.toContain(token)
  expect(await addReset(place.database, 'nobody@example.org')).toBeNull()
  await person.post('/account/deletion', { deletionPassword: old })
  expect(await addReset(place.database, person.email)).toBeNull()
})

it('links that lead nowhere are counted by place', async () => {
  const statuses: number[] = []
  for (let i = 0; i < 61; i++) {
    const guest = place.guest()
    guest.forwardedFor = '203.0.113.9'
    statuses.push((await guest.get('/reset/made-up')).status)
  }
  expect([statuses[0], statuses.at(-1)]).toEqual([404, 429])
})
