import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addReset } from '../../src/accounts/resets.queries.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { Authenticator } from '../support/authenticator.ts'
import {
  addPasskey,
  codeNow,
  firstPasskey,
  laterCodes,
  passkeyOrigin,
  password,
  showPasskey,
  signInByPasskey,
  signInByPassword,
  withCodes,
} from '../support/factors.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace({ origin: passkeyOrigin })
})
afterAll(() => place.close())

/** What this session rests on, as the page of the account says it. */
async function restsOn(client: Client): Promise<string | undefined> {
  const here = /this one.*?<\/tr>/s.exec((await client.get('/account')).text)?.[0] ?? ''
  return /by the password alone|with a passkey or a code/.exec(plain(here))?.[0]
}
const alone = 'by the password alone'
const more = 'with a passkey or a code'

describe('a session rests on a password alone', () => {
  it('after signing up, after signing in by it, and after a link for a forgotten one', async () => {
    const person = await place.person()
    expect(await restsOn(person)).toBe(alone)
    expect(await restsOn(await signInByPassword(place, person))).toBe(alone)
    const token = await addReset(place.database, person.email)
    const newPassword = 'seven herons over the weir'
    await place.guest().post(`/reset/${token}`, { newPassword })
    expect(await restsOn(await signInByPassword(place, person, newPassword))).toBe(alone)
  })

  it('also where a passkey is beside it, which does not protect that way in', async () => {
    const person = await place.person()
    await addPasskey(person, new Authenticator())
    expect(await restsOn(await signInByPassword(place, person))).toBe(alone)
  })

  it('where it was open before anyone wrote down how it began', async () => {
    const person = await place.person()
    await addPasskey(person, new Authenticator())
    await place.database.drizzle.execute(sql`update sessions set factor_shown_at = default`)
    expect(await restsOn(person)).toBe(alone)
  })
})

describe('a session rests on more', () => {
  it('where a passkey opened it, or a code or one to come back by beside the password', async () => {
    const [person, device] = [await place.person(), new Authenticator()]
    await addPasskey(person, device)
    expect(await restsOn(await signInByPasskey(place, device))).toBe(more)
    const { secret, recovery } = await withCodes(person)
    for (const code of [codeNow(secret), recovery[0]]) {
      await laterCodes(place)
      const half = await signInByPassword(place, person)
      expect((await half.post('/sign-in/code', { code })).status).toBe(303)
      expect(await restsOn(half)).toBe(more)
    }
  })

  it('once a passkey is shown in it, and not where the answer is wrong', async () => {
    const [person, device] = [await place.person(), new Authenticator()]
    await addPasskey(person, device)
    const weak = await signInByPassword(place, person)
    expect((await weak.post('/account/present', { answer: '{}' })).status).toBe(422)
    expect(await restsOn(weak)).toBe(alone)
    await showPasskey(weak, device)
    expect(await restsOn(weak)).toBe(more)
  })

  it('from the first factor on that is set up in it, and no other session with it', async () => {
    const person = await place.person()
    const other = await signInByPassword(place, person)
    await withCodes(person)
    expect([await restsOn(person), await restsOn(other)]).toEqual([more, alone])
    const second = await place.person()
    await addPasskey(second, new Authenticator())
    expect(await restsOn(second)).toBe(more)
  })

  it('but not by a second factor beside one that was not shown', async () => {
    const person = await place.person()
    await addPasskey(person, new Authenticator())
    const weak = await signInByPassword(place, person)
    await addPasskey(weak, new Authenticator(), 'a thief’s')
    expect(await restsOn(weak)).toBe(alone)
    await withCodes(weak)
    expect(await restsOn(weak)).toBe(alone)
  })

  it('through another password, which its owner chose in it', async () => {
    const person = await place.person()
    await withCodes(person)
    const newPassword = 'seven herons over the weir'
    await person.post('/account/password', { presentPassword: password, newPassword })
    expect(await restsOn(person)).toBe(more)
  })
})

describe('with what was shown', () => {
  const opens = async (cookie: string) => {
    const answer = await place.app.inject({ url: '/account', headers: { cookie } })
    return answer.statusCode === 200
  }
  const cookieOf = (client: Client) => client.cookieHeader().join('; ')

  it('the browser goes on under a key of its own, and whoever copied the one before stays outside', async () => {
    const [person, device] = [await place.person(), new Authenticator()]
    const steps = [() => addPasskey(person, device), () => withCodes(person), () => showPasskey(person, device)]
    for (const step of steps) {
      const copied = cookieOf(person)
      expect(await opens(copied)).toBe(true)
      await step()
      expect([await opens(copied), await opens(cookieOf(person))]).toEqual([false, true])
    }
  })

  it('forms of the page that says so hold in it', async () => {
    const person = await place.person()
    await withCodes(person)
    expect((await person.post('/sign-out')).status).toBe(303)
    expect((await person.get('/account')).status).toBe(303)
  })
})

describe('no session rests on more any longer', () => {
  it('once a passkey is taken away', async () => {
    const [person, device] = [await place.person(), new Authenticator()]
    await addPasskey(person, device)
    const other = await signInByPasskey(place, device)
    const removal = { removed: await firstPasskey(person), removePassword: password }
    expect((await person.post('/account/passkeys/removal', removal)).status).toBe(303)
    expect([await restsOn(person), await restsOn(other)]).toEqual([alone, alone])
  })

  it('once the codes are ended, by their owner or by whoever runs the service', async () => {
    const person = await place.person()
    await withCodes(person)
    expect((await person.post('/account/codes/end', { codesPassword: password })).status).toBe(303)
    expect(await restsOn(person)).toBe(alone)
    await withCodes(person)
    expect(await restsOn(person)).toBe(more)
    await addReset(place.database, person.email, { withoutCodes: true })
    expect(await restsOn(person)).toBe(alone)
  })
})
