import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import {
  codeAt,
  newRecoveryCode,
  newSecret,
  stepAt,
  stepOf,
  toBase32,
} from '../../src/accounts/one-time-codes.queries.ts'
import { addReset } from '../../src/accounts/resets.queries.ts'
import { takeCode } from '../../src/accounts/second-step.queries.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { laterCodes, password, recoveryIn, secretIn, withCodes } from '../support/factors.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
const letters: { to: string; subject: string }[] = []
const post = { send: (letter: { to: string; subject: string }) => void letters.push(letter) }
beforeAll(async () => {
  place = await openPlace({ mailing: { post, origin: 'https://gardens.example' } })
})
afterAll(() => place.close())

const isIn = async (client: Client) => (await client.get('/account')).status === 200
async function halfIn(person: Client, next = ''): Promise<Client> {
  const guest = place.guest()
  guest.forwardedFor = person.forwardedFor
  const answer = await guest.post('/sign-in', { email: person.email, password, next })
  expect(answer.location).toBe(`/sign-in/code?next=${encodeURIComponent(next || '/')}`)
  return guest
}

describe('a code of the time', () => {
  // RFC 6238, appendix B, the rows of SHA-1; its eight digits end in the six that programs show.
  it.each([
    [59, '287082'],
    [1_111_111_109, '081804'],
    [1_111_111_111, '050471'],
    [1_234_567_890, '005924'],
    [2_000_000_000, '279037'],
    [20_000_000_000, '353130'],
  ])('at %i s is as published', (seconds, code) => {
    const secret = toBase32(Buffer.from('12345678901234567890'))
    expect(codeAt(secret, stepAt(new Date(seconds * 1000)))).toBe(code)
  })

  it('holds for the step before and after, and no longer', () => {
    const [secret, now] = [newSecret(), new Date(1_800_000_000_000)]
    const found = [-2, -1, 0, 1, 2].map((away) => stepOf(secret, codeAt(secret, stepAt(now) + away), now))
    expect(found.map((step) => step && step - stepAt(now))).toEqual([null, -1, 0, 1, null])
  })

  it('and what it rests on is drawn at random', () => {
    expect(new Set(Array.from({ length: 100 }, newSecret)).size).toBe(100)
    expect(newSecret()).toMatch(/^[A-Z2-7]{32}$/)
    expect(newRecoveryCode()).toMatch(/^[a-z2-7]{4}(-[a-z2-7]{4}){5}$/)
  })
})

describe('beside the password', () => {
  it('is set up with the password and a first right code, and asked for from then on', async () => {
    const person = await place.person()
    expect((await person.post('/account/codes', { codesPassword: 'not this' })).status).toBe(422)
    expect((await person.post('/account/codes/confirm', { code: '123456' })).location).toBe('/account/codes')
    await person.post('/account/codes', { codesPassword: password })
    const secret = secretIn((await person.get('/account/codes')).text)
    expect((await person.post('/account/codes/confirm', { code: 'abc' })).status).toBe(422)
    expect((await person.post('/account/codes', { codesPassword: 'not this' })).status).toBe(422)
    const guest = place.guest()
    expect((await guest.post('/sign-in', { email: person.email, password })).location).toBe('/')
    const done = await person.post('/account/codes/confirm', { code: codeAt(secret, stepAt(new Date())) })
    expect(recoveryIn(done.text)).toHaveLength(10)
    const page = await person.get('/account/codes')
    expect([recoveryIn(page.text), secretIn(page.text)]).toEqual([[], ''])
    expect(plain(page.text)).toContain('10 are left')
    expect(plain((await person.get('/account')).text)).toContain('A code beside the password: asked for')
    await laterCodes(place)
    const half = await halfIn(person, '/groups/new')
    expect([await isIn(half), (await half.get('/groups/new')).status]).toEqual([false, 303])
    const next = '/groups/new'
    expect((await half.post('/sign-in/code', { code: '000000', next })).status).toBe(422)
    expect((await half.post('/sign-in/code', { code: codeAt(secret, stepAt(new Date())), next })).location).toBe(next)
    expect(await isIn(half)).toBe(true)
    expect((await half.get('/sign-in/code')).location).toBe('/sign-in')
  })

  it('is told by letter when it begins and when it ends, since a thief of the password could do either', async () => {
    const person = await place.person()
    const told = () => letters.filter(({ to }) => to === person.email).map(({ subject }) => subject)
    await person.post('/account/codes', { codesPassword: password })
    await person.post('/account/codes/end', { codesPassword: password })
    expect(told()).toEqual([])
    await withCodes(person)
    expect(told()).toEqual(['Your account asks for a code beside the password'])
    await person.post('/account/codes/end', { codesPassword: 'not this' })
    await person.post('/account/codes/end', { codesPassword: password })
    expect(told().slice(1)).toEqual(['Your account asks for no code any more'])
  })

  it('a code is taken once, also by two at the same moment', async () => {
    const person = await place.person()
    const { secret } = await withCodes(person)
    const id = await idOf(person)
    const now = new Date()
    expect(await takeCode(place.database, id, codeAt(secret, stepAt(now)), now)).toBe(false)
    await laterCodes(place)
    const both = await Promise.all([1, 2].map(() => takeCode(place.database, id, codeAt(secret, stepAt(now)), now)))
    expect(both.sort()).toEqual([false, true])
  })

  it('a code to come back by opens once, written as it may be, and only for its person', async () => {
    const [person, other] = [await place.person(), await place.person()]
    const { recovery } = await withCodes(person)
    await withCodes(other)
    const foreign = await halfIn(other)
    expect((await foreign.post('/sign-in/code', { code: recovery[0] })).status).toBe(422)
    const half = await halfIn(person)
    const typed = recovery[0]?.toUpperCase().replaceAll('-', ' ')
    expect((await half.post('/sign-in/code', { code: typed })).status).toBe(303)
    expect(plain((await half.get('/account/codes')).text)).toContain('9 are left')
    expect((await (await halfIn(person)).post('/sign-in/code', { code: recovery[0] })).status).toBe(422)
  })

  it('guessing is stopped at its place', async () => {
    const person = await place.person()
    const { secret } = await withCodes(person)
    await laterCodes(place)
    const half = await halfIn(person)
    half.forwardedFor = '198.51.100.77'
    const statuses: number[] = []
    for (let i = 0; i < 11; i++) statuses.push((await half.post('/sign-in/code', { code: 'nothing' })).status)
    expect(statuses).toEqual([...Array.from({ length: 10 }, () => 422), 429])
    expect((await half.post('/sign-in/code', { code: codeAt(secret, stepAt(new Date())) })).status).toBe(429)
    const owner = await halfIn(person)
    expect((await owner.post('/sign-in/code', { code: codeAt(secret, stepAt(new Date())) })).status).toBe(303)
  })

  it('half a sign-in ends after ten minutes, and with another password', async () => {
    const person = await place.person()
    await withCodes(person)
    const [first, second] = [await halfIn(person), await halfIn(person)]
    expect((await first.get('/sign-in/code')).status).toBe(200)
    await place.database.drizzle.execute(sql`update half_sign_ins set expires_at = now() where token_hash =
      (select min(token_hash) from half_sign_ins where person_id = ${await idOf(person)})`)
    const open = [(await first.get('/sign-in/code')).status, (await second.get('/sign-in/code')).status]
    expect(open.sort()).toEqual([200, 303])
    const newPassword = 'seven herons over the weir'
    expect((await person.post('/account/password', { presentPassword: password, newPassword })).status).toBe(303)
    expect((await second.get('/sign-in/code')).status).toBe(303)
    expect((await first.get('/sign-in/code')).status).toBe(303)
  })

  it('is ended with the password, and by an operator who is asked to', async () => {
    const person = await place.person()
    await withCodes(person)
    expect((await person.post('/account/codes/end', { codesPassword: 'not this' })).status).toBe(422)
    expect((await person.post('/account/codes/end', { codesPassword: password })).location).toBe('/account')
    expect((await place.guest().post('/sign-in', { email: person.email, password })).location).toBe('/')
    await withCodes(person)
    await addReset(place.database, person.email)
    await halfIn(person)
    await addReset(place.database, person.email, { withoutCodes: true })
    expect((await place.guest().post('/sign-in', { email: person.email, password })).location).toBe('/')
  })

  it('nothing of it is left of a deleted account, and what is kept of a code to come back by is its hash', async () => {
    const person = await place.person()
    const { recovery } = await withCodes(person)
    const kept = await place.database.drizzle.execute(sql`select code_hash from recovery_codes`)
    const hashes = JSON.stringify((kept as unknown as { rows: object[] }).rows)
    expect(recovery.filter((code) => hashes.includes(code.replaceAll('-', '')))).toEqual([])
    const id = await idOf(person)
    expect((await person.post('/account/deletion', { deletionPassword: password })).location).toBe('/')
    const left =
      await place.database.drizzle.execute(sql`select (select count(*) from second_steps where person_id = ${id})
      + (select count(*) from recovery_codes where person_id = ${id}) as rows`)
    expect((left as unknown as { rows: { rows: unknown }[] }).rows.map((row) => Number(row.rows))).toEqual([0])
  })
})

async function idOf({ email }: Client): Promise<string> {
  const found = await place.database.drizzle.execute(sql`select id from people where email = ${email}`)
  return (found as unknown as { rows: { id: string }[] }).rows[0]?.id ?? ''
}
