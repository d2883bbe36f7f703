import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { placeOf } from '../../src/accounts/place.ts'
import { hashOf, mayTry } from '../../src/accounts/sessions.queries.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const password = 'long enough to keep'
let people = 0

async function newcomer(): Promise<{ client: Client; email: string }> {
  const [client, email] = [place.guest(), `guessed-${++people}@example.org`]
  client.forwardedFor = `10.77.0.${people}`
  await client.post('/sign-up', { name: 'Ada Rook', email, password })
  return { client, email }
}

function from(address: string): Client {
  const client = place.guest()
  client.forwardedFor = address
  return client
}

it('a stranger who guesses closes the account to their own place alone', async () => {
  const { email } = await newcomer()
  const stranger = from('192.0.2.1')
  const statuses: number[] = []
  for (let i = 0; i < 11; i++) statuses.push((await stranger.post('/sign-in', { email, password: 'guess' })).status)
  expect(statuses).toEqual([...Array.from({ length: 10 }, () => 422), 429])
  expect((await stranger.post('/sign-in', { email, password })).status).toBe(429)
  expect((await from('192.0.2.2').post('/sign-in', { email, password })).status).toBe(303)
})

it('right ones are not counted', async () => {
  const { email } = await newcomer()
  const owner = from('192.0.2.3')
  const statuses = new Set<number>()
  for (let i = 0; i < 12; i++) statuses.add((await owner.post('/sign-in', { email, password })).status)
  expect([...statuses]).toEqual([303])
})

it('above a hundred guesses from everywhere only a browser that was signed in before is let try', async () => {
  const { client, email } = await newcomer()
  for (let i = 0; i < 100; i++) await mayTry(place.database, `sign-in ${email}`, 100, 60)
  expect((await from('192.0.2.4').post('/sign-in', { email, password })).status).toBe(429)
  await client.post('/sign-out')
  expect((await client.post('/sign-in', { email, password })).status).toBe(303)
  const other = await newcomer()
  await other.client.post('/sign-out')
  expect((await other.client.post('/sign-in', { email, password })).status).toBe(429)
})

it('tries that a clock counted which was ahead hold nobody off once it is right', async () => {
  const key = 'sign-in by a clock ahead'
  for (let i = 0; i < 3; i++) await mayTry(place.database, key, 3)
  expect(await mayTry(place.database, key, 3)).toBe(false)
  const ahead = sql`update rate_limits set window_started_at = now() + interval '70 days' where key = ${hashOf(key)}`
  await place.database.drizzle.execute(ahead)
  expect(await mayTry(place.database, key, 3)).toBe(true)
})

it('signing up and links that lead nowhere are counted by place, not by address', async () => {
  const statuses = async (tries: number, path: string, send: (client: Client, i: number) => Promise<number>) => {
    const found: number[] = []
    for (let i = 0; i < tries; i++) found.push(await send(from(`2001:db8:5:${path}::${i + 1}`), i))
    return found
  }
  const signUps = await statuses(11, '1', async (client, i) => {
    const email = `crowd-${i}@example.org`
    return (await client.post('/sign-up', { name: 'Ada Rook', email, password })).status
  })
  expect(signUps.at(-1)).toBe(429)
  const links = await statuses(61, '2', async (client) => (await client.get('/r/made-up')).status)
  expect([links[0], links.at(-1)]).toEqual([404, 429])
})

it('a place is an address, or the half of one that a household has', () => {
  expect(placeOf('198.51.100.7')).toBe('198.51.100.7')
  expect(placeOf('::ffff:198.51.100.7')).toBe('198.51.100.7')
  expect(placeOf('2001:db8:0:1:aaaa::1')).toBe('2001:db8:0:1::/64')
  expect(placeOf('2001:db8:0:1::2')).toBe('2001:db8:0:1::/64')
  expect(placeOf('2001:db8::1')).toBe('2001:db8:0:0::/64')
})
