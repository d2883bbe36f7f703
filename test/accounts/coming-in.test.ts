import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { rateLimits } from '../../src/accounts/accounts.table.ts'
import { openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

it('a grower makes an account and a group, and is its keeper', async () => {
  const keeper = await place.keeper()
  const people = await keeper.get(`/g/${keeper.slug}/people`)
  expect(rowOf(people.text, 'Ada Rook')[1]).toBe('keeper')
})

it('a group is not there for a person outside it, and asks a guest to sign in', async () => {
  const [keeper, stranger] = [await place.keeper(), await place.keeper()]
  expect((await stranger.get(`/g/${keeper.slug}/people`)).status).toBe(404)
  expect((await stranger.get('/g/nowhere/people')).status).toBe(404)
  expect((await place.guest().get(`/g/${keeper.slug}/people`)).location).toContain('/sign-in?next=')
})

it('whoever comes in, tries of long ago are forgotten', async () => {
  const begun = (key: string, minutes: number) =>
    ({ key, attempts: 3, windowStartedAt: sql`now() - make_interval(mins => ${minutes})` }) as const
  await place.database.drizzle.insert(rateLimits).values([begun('long ago', 61), begun('just now', 59)])
  await place.person()
  const kept = await place.database.drizzle.select({ key: rateLimits.key }).from(rateLimits)
  expect(kept.map((one) => one.key)).toContain('just now')
  expect(kept.map((one) => one.key)).not.toContain('long ago')
})

it('an invitation works once and gives its role', async () => {
  const keeper = await place.keeper()
  const page = await keeper.post(`/g/${keeper.slug}/people/invitations`, { role: 'recorder' })
  const link = /\/invitations\/[\w-]+/.exec(page.text)?.[0] ?? ''
  const [first, second] = [await place.person('Ben Marsh'), await place.person('Cleo Dunn')]
  expect((await first.post(link)).location).toBe(`/g/${keeper.slug}`)
  expect((await second.post(link)).status).toBe(404)
  expect(rowOf((await keeper.get(`/g/${keeper.slug}/people`)).text, 'Ben Marsh')[1]).toBe('recorder')
})

it('a role that may not is told who may', async () => {
  const keeper = await place.keeper()
  const recorder = await place.joined(keeper, 'recorder')
  const answer = await recorder.post(`/g/${keeper.slug}/people/invitations`, { role: 'keeper' })
  expect(answer.status).toBe(403)
  expect(plain(answer.text)).toContain('Only keepers may do this')
})

it('a wrong entry keeps all that was typed but the password, and stores nothing', async () => {
  const guest = place.guest()
  const answer = await guest.post('/sign-up', {
    name: 'Cleo "C" Dunn',
    email: 'not an address',
    password: 'a secret too short',
  })
  expect(answer.status).toBe(422)
  expect(answer.text).toContain('value="Cleo &quot;C&quot; Dunn"')
  expect(answer.text).toContain('This is no e-mail address')
  expect(answer.text).not.toContain('a secret too short')
})

it('a form from elsewhere, or without its token, changes nothing', async () => {
  const keeper = await place.keeper()
  const address = `/g/${keeper.slug}/people/invitations`
  expect((await keeper.post(address, { role: 'reader' }, 'https://elsewhere.example')).status).toBe(403)
  expect((await keeper.post(address, { role: 'reader', _csrf: 'made up' })).status).toBe(403)
})

it('guessing a password is stopped', async () => {
  const guest = place.guest()
  const tries = []
  for (let i = 0; i < 12; i++)
    tries.push((await guest.post('/sign-in', { email: 'a@example.org', password: `${i}` })).status)
  expect(tries.filter((status) => status === 422)).toHaveLength(10)
  expect(tries.at(-1)).toBe(429)
})

it.each(['//elsewhere.example', '/\\elsewhere.example', 'https://elsewhere.example'])(
  'signing in never leads to %s',
  async (next) => {
    const guest = place.guest()
    guest.forwardedFor = '10.8.8.8'
    const email = `next-${encodeURIComponent(next).length}-${Date.now()}@example.org`
    expect((await guest.post('/sign-up', { name: 'N', email, password: 'long enough to keep', next })).location).toBe(
      '/',
    )
  },
)
