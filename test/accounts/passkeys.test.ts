import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addReset } from '../../src/accounts/resets.queries.ts'
import { passkeysAt } from '../../src/web/passkey.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { type AskedOfDevice, Authenticator } from '../support/authenticator.ts'
import { plain, rowOf } from '../support/page-checks.ts'

const origin = 'https://gardens.example'
const password = 'long enough to keep'

let place: Place
const letters: { to: string; subject: string }[] = []
beforeAll(async () => {
  place = await openPlace({ origin, mailing: { post: { send: (letter) => letters.push(letter) }, origin } })
})
afterAll(() => place.close())

const isIn = async (client: Client) => (await client.get('/account')).status === 200

async function asked(client: Client, address: string, fields = {}): Promise<AskedOfDevice> {
  const { status, said } = await client.ask<AskedOfDevice>(address, fields)
  expect([address, status]).toEqual([address, 200])
  return said
}

/** Adds a passkey of this device to whoever is signed in. */
async function add(
  person: Client,
  device: Authenticator,
  name = 'blue phone',
  fields: object = { addPassword: password },
) {
  const options = await asked(person, '/account/passkeys/asked', fields)
  return person.post('/account/passkeys', { name, answer: device.add(options, { origin }) })
}

async function withPasskey() {
  const [person, device] = [await place.person(), new Authenticator()]
  expect((await add(person, device)).status).toBe(303)
  return { person, device }
}

type Standing = Partial<Parameters<Authenticator['show']>[1]>

/** Signs in by a device, in a browser of its own. */
async function signIn(device: Authenticator, standing: Standing = {}, next = '') {
  const guest = place.guest()
  const answer = device.show(await asked(guest, '/sign-in/passkey/asked'), { origin, ...standing })
  return { guest, answer, reply: await guest.post('/sign-in/passkey', { answer, next }) }
}

/** Shows in this session that it is still its person. */
async function present(person: Client, device: Authenticator) {
  const options = await asked(person, '/account/present/asked')
  return person.post('/account/present', { answer: device.show(options, { origin }) })
}

describe('a passkey', () => {
  it('is offered where the service has a name under TLS, and nowhere else', () => {
    expect(passkeysAt('https://gardens.example')).toMatchObject({ kind: 'offered', rpId: 'gardens.example' })
    expect(passkeysAt('http://localhost:3000')).toMatchObject({ kind: 'offered', rpId: 'localhost' })
    expect(passkeysAt(null)).toMatchObject({ code: 'no-origin' })
    for (const number of ['https://192.0.2.7', 'https://[2001:db8::7]', 'http://127.0.0.1:3000'])
      expect([number, passkeysAt(number)]).toMatchObject([number, { code: 'no-name' }])
    expect(passkeysAt('http://gardens.example')).toMatchObject({ code: 'no-tls' })
  })

  it('is added for the present password, told by letter, and opens the account by itself', async () => {
    const [person, device] = [await place.person(), new Authenticator()]
    const wrong = await person.ask<{ said: string }>('/account/passkeys/asked', { addPassword: 'not this' })
    expect(wrong).toMatchObject({ status: 422, said: { said: 'This is not the present password.' } })
    const options = await asked(person, '/account/passkeys/asked', { addPassword: password })
    expect(options).toMatchObject({
      rp: { id: 'gardens.example' },
      authenticatorSelection: { residentKey: 'required', userVerification: 'required' },
      attestation: 'none',
    })
    const answer = device.add(options, { origin })
    expect((await person.post('/account/passkeys', { name: 'blue phone', answer })).location).toBe('/account/passkeys')
    expect(rowOf((await person.get('/account/passkeys')).text, 'blue phone')).toMatchObject([/./, /./, 'never'])
    expect(letters.at(-1)).toMatchObject({ to: person.email, subject: 'A passkey was added to your account' })
    const { guest, reply } = await signIn(device, {}, '/groups/new')
    expect([reply.status, reply.location, await isIn(guest)]).toEqual([303, '/groups/new', true])
    expect(plain((await guest.get('/account')).text)).toContain(person.email)
    expect(plain((await guest.get('/account')).text)).toContain('Passkeys: blue phone')
    const { reply: elsewhere } = await signIn(device, {}, 'https://elsewhere.example/')
    expect(elsewhere.location).toBe('/')
  })

  it('opens it without a code too, since the device has asked for more than itself', async () => {
    const { person, device } = await withPasskey()
    const codes = sql`insert into second_steps (person_id, secret, confirmed_at)
      select id, 'AAAA', now() from people where email = ${person.email}`
    await place.database.drizzle.execute(codes)
    const guest = place.guest()
    expect((await guest.post('/sign-in', { email: person.email, password })).location).toMatch(/^\/sign-in\/code/)
    expect((await signIn(device)).reply.location).toBe('/')
  })

  it('is refused from another address, for another name, and without finger, face or number', async () => {
    const { device } = await withPasskey()
    const wrong: Standing[] = [
      { origin: 'https://gardens.example.evil.example' },
      { origin: 'http://gardens.example' },
      { rpId: 'evil.example' },
      { verified: false },
      { userHandle: null },
      { userHandle: Buffer.alloc(16).toString('base64url') },
    ]
    for (const standing of wrong) {
      const { guest, reply } = await signIn(device, standing)
      expect([standing, reply.status, await isIn(guest)]).toEqual([standing, 422, false])
      expect(plain(reply.text)).toContain('This passkey did not open it.')
    }
    expect((await signIn(device)).reply.status).toBe(303)
  })

  it('signs each question once, and only for what it was asked', async () => {
    const { person, device } = await withPasskey()
    const { answer, reply } = await signIn(device)
    expect(reply.status).toBe(303)
    const thief = place.guest()
    expect((await thief.post('/sign-in/passkey', { answer })).status).toBe(422)
    const forPresent = device.show(await asked(person, '/account/present/asked'), { origin })
    expect((await thief.post('/sign-in/passkey', { answer: forPresent })).status).toBe(422)
    const forSignIn = device.show(await asked(place.guest(), '/sign-in/passkey/asked'), { origin })
    expect((await person.post('/account/present', { answer: forSignIn })).status).toBe(422)
    const invented = device.show({ challenge: 'bm90IGFza2Vk', rpId: 'gardens.example' }, { origin })
    expect((await thief.post('/sign-in/passkey', { answer: invented })).status).toBe(422)
    const late = device.show(await asked(thief, '/sign-in/passkey/asked'), { origin })
    await place.database.drizzle.execute(sql`update passkey_challenges set expires_at = now() - interval '1 second'`)
    expect((await thief.post('/sign-in/passkey', { answer: late })).status).toBe(422)
    expect(await isIn(thief)).toBe(false)
  })

  it('whose count went back or stood still is a copy, and opens nothing', async () => {
    const { device } = await withPasskey()
    expect((await signIn(device, { counter: 7 })).reply.status).toBe(303)
    expect((await signIn(device, { counter: 6 })).reply.status).toBe(422)
    expect((await signIn(device, { counter: 7 })).reply.status).toBe(422)
    expect((await signIn(device, { counter: 8 })).reply.status).toBe(303)
  })

  it('that does not count at all opens it each time', async () => {
    const { device } = await withPasskey()
    for (let i = 0; i < 2; i++) expect((await signIn(device, { counter: 0 })).reply.status).toBe(303)
  })

  it('of a stranger opens nothing, nor does a stranger’s signature under a known name', async () => {
    const { person, device } = await withPasskey()
    expect((await signIn(new Authenticator())).reply.status).toBe(422)
    const forger = new Authenticator()
    Object.assign(forger, { id: device.id, userHandle: (device as unknown as { userHandle: string }).userHandle })
    expect((await signIn(forger)).reply.status).toBe(422)
    const other = await withPasskey()
    const options = await asked(person, '/account/present/asked')
    const foreign = other.device.show(options, { origin })
    expect((await person.post('/account/present', { answer: foreign })).status).toBe(422)
  })

  it('is one person’s: nobody adds it a second time, or by what another was asked', async () => {
    const { device } = await withPasskey()
    const [other, third] = [await place.person(), new Authenticator()]
    expect((await add(other, device)).status).toBe(422)
    const options = await asked(other, '/account/passkeys/asked', { addPassword: password })
    const ada = await place.person()
    const answer = third.add(options, { origin })
    expect((await ada.post('/account/passkeys', { name: 'taken over', answer })).status).toBe(422)
    const wrong = third.add(await asked(ada, '/account/passkeys/asked', { addPassword: password }), {
      origin: 'https://evil.example',
    })
    expect((await ada.post('/account/passkeys', { name: 'elsewhere', answer: wrong })).status).toBe(422)
  })

  it('is no answer where it is none', async () => {
    const { person } = await withPasskey()
    const nonsense = ['', 'null', '{}', '[]', '{"id":"x"}', `{"id":${'['.repeat(5000)}`, 'x'.repeat(19_000)]
    for (const answer of nonsense) {
      expect((await place.guest().post('/sign-in/passkey', { answer })).status).toBe(422)
      expect((await person.post('/account/passkeys', { name: 'x', answer })).status).toBe(422)
    }
  })
})

describe('on the page of the account', () => {
  it('stands for the present password for some minutes, in that session alone', async () => {
    const { person, device } = await withPasskey()
    const { guest } = await signIn(device)
    expect((await guest.post('/account/codes', {})).status).toBe(422)
    expect((await present(guest, device)).location).toBe('/account/passkeys')
    expect(plain((await guest.get('/account')).text)).toContain('no password is asked for')
    expect((await guest.post('/account/codes', {})).status).toBe(303)
    expect((await person.post('/account/codes', {})).status).toBe(422)
    await place.database.drizzle.execute(sql`update sessions set shown_until = now() - interval '1 second'`)
    expect((await guest.post('/account/address', { email: 'x@example.org' })).status).toBe(422)
  })

  it('is named anew and taken away, which other people cannot', async () => {
    const { person, device } = await withPasskey()
    const id = /<option value="([0-9a-f-]{36})"/.exec((await person.get('/account/passkeys')).text)?.[1]
    const stranger = (await withPasskey()).person
    await stranger.post('/account/passkeys/name', { renamed: id, newName: 'mine now' })
    expect((await stranger.post('/account/passkeys/removal', { removed: id, removePassword: password })).status).toBe(
      404,
    )
    expect((await person.post('/account/passkeys/name', { renamed: id, newName: 'old phone' })).status).toBe(303)
    expect(rowOf((await person.get('/account/passkeys')).text, 'old phone')).toHaveLength(3)
    expect((await person.post('/account/passkeys/removal', { removed: id, removePassword: 'x' })).status).toBe(422)
    expect((await person.post('/account/passkeys/removal', { removed: id, removePassword: password })).status).toBe(303)
    expect(letters.at(-1)?.subject).toBe('A passkey was taken away from your account')
    expect((await signIn(device)).reply.status).toBe(422)
  })

  it('can be the only way in, and the last way in stays', async () => {
    const person = await place.person()
    expect((await person.post('/account/passkeys/alone', { giveUpPassword: password })).status).toBe(422)
    const device = new Authenticator()
    await add(person, device)
    const { guest } = await signIn(device)
    expect((await person.post('/account/passkeys/alone', { giveUpPassword: password })).status).toBe(303)
    expect([await isIn(person), await isIn(guest)]).toEqual([true, false])
    for (const typed of [password, '', 'x']) {
      expect((await place.guest().post('/sign-in', { email: person.email, password: typed })).status).toBe(422)
    }
    expect((await person.post('/account/deletion', { deletionPassword: '' })).status).toBe(422)
    await present(person, device)
    const id = /<option value="([0-9a-f-]{36})"/.exec((await person.get('/account/passkeys')).text)?.[1]
    const last = await person.post('/account/passkeys/removal', { removed: id })
    expect([last.status, plain(last.text).includes('it is your only way in')]).toEqual([422, true])
    const second = new Authenticator()
    expect((await add(person, second, 'key in the drawer', {})).status).toBe(303)
    expect((await person.post('/account/passkeys/removal', { removed: id })).status).toBe(303)
    expect([(await signIn(device)).reply.status, (await signIn(second)).reply.status]).toEqual([422, 303])
    const changed = await person.post('/account/password', { newPassword: 'seven herons over the weir' })
    expect(changed.status).toBe(303)
    const typed = { email: person.email, password: 'seven herons over the weir' }
    expect((await place.guest().post('/sign-in', typed)).status).toBe(303)
  })

  it('a link for a forgotten password is the way back where all are lost', async () => {
    const { person } = await withPasskey()
    await person.post('/account/passkeys/alone', { giveUpPassword: password })
    const token = await addReset(place.database, person.email)
    const newPassword = 'seven herons over the weir'
    expect((await place.guest().post(`/reset/${token}`, { newPassword })).status).toBe(303)
    expect((await place.guest().post('/sign-in', { email: person.email, password: newPassword })).status).toBe(303)
  })

  it('goes with the account', async () => {
    const { person, device } = await withPasskey()
    await asked(person, '/account/present/asked')
    await person.post('/account/deletion', { deletionPassword: password })
    expect((await signIn(device)).reply.status).toBe(422)
  })
})

it('wrong answers and questions are counted by place', async () => {
  const stranger = place.guest()
  stranger.forwardedFor = '203.0.113.9'
  const statuses: number[] = []
  for (let i = 0; i < 31; i++) statuses.push((await stranger.post('/sign-in/passkey', { answer: '{}' })).status)
  expect([statuses[0], statuses[29], statuses[30]]).toEqual([422, 422, 429])
  stranger.forwardedFor = '203.0.113.10'
  const questions: number[] = []
  for (let i = 0; i < 61; i++) questions.push((await stranger.ask('/sign-in/passkey/asked')).status)
  expect([questions[59], questions[60]]).toEqual([200, 429])
})

describe('where the service has no address of its own', () => {
  it('there are none, and the page says why', async () => {
    const elsewhere = await openPlace()
    const person = await elsewhere.person()
    expect(plain((await person.get('/account/passkeys')).text)).toContain('EVENGROUND_ORIGIN')
    expect((await person.get('/sign-in')).text).not.toContain('passkey')
    expect((await elsewhere.guest().ask('/sign-in/passkey/asked')).status).toBe(404)
    expect((await elsewhere.guest().post('/sign-in/passkey', { answer: '{}' })).status).toBe(404)
    expect((await person.ask('/account/passkeys/asked', { addPassword: password })).status).toBe(404)
    await elsewhere.close()
  })
})
