import { sql } from 'drizzle-orm'
import { expect } from 'vitest'
import { codeAt, stepAt } from '../../src/accounts/one-time-codes.queries.ts'
import type { Client, Place } from './app.ts'
import type { AskedOfDevice, Authenticator } from './authenticator.ts'

/** Of each person that a test signs up. */
export const password = 'long enough to keep'
export const passkeyOrigin = 'https://gardens.example'

export const secretIn = (html: string) => /<code>([A-Z2-7 ]{39})<\/code>/.exec(html)?.[1]?.replaceAll(' ', '') ?? ''
export const recoveryIn = (html: string) =>
  [...html.matchAll(/<code>([a-z2-7]{4}(?:-[a-z2-7]{4}){5})<\/code>/g)].map((one) => one[1] ?? '')

/** Sets the codes up and gives what the person then has: the key and the codes to come back by. */
export async function withCodes(person: Client) {
  expect((await person.post('/account/codes', { codesPassword: password })).status).toBe(303)
  const secret = secretIn((await person.get('/account/codes')).text)
  const done = await person.post('/account/codes/confirm', { code: codeNow(secret) })
  expect(done.status).toBe(200)
  return { secret, recovery: recoveryIn(done.text) }
}

export const codeNow = (secret: string) => codeAt(secret, stepAt(new Date()))

/** As if half a minute went by: the code of this moment can be typed again. */
export const laterCodes = ({ database }: Place) => database.drizzle.execute(sql`update second_steps set last_step = 0`)

/** In a browser of its own. */
export async function signInByPassword(place: Place, person: Client, typed = password): Promise<Client> {
  const client = place.guest()
  client.forwardedFor = person.forwardedFor
  client.slug = person.slug
  client.email = person.email
  expect((await client.post('/sign-in', { email: person.email, password: typed })).status).toBe(303)
  return client
}

async function asked(client: Client, address: string, fields = {}): Promise<AskedOfDevice> {
  const { status, said } = await client.ask<AskedOfDevice>(address, fields)
  expect([address, status]).toEqual([address, 200])
  return said
}

export async function addPasskey(
  person: Client,
  device: Authenticator,
  name = 'blue phone',
  next = '',
  typed = password,
) {
  const options = await asked(person, '/account/passkeys/asked', { addPassword: typed })
  const answer = device.add(options, { origin: passkeyOrigin })
  const added = await person.post('/account/passkeys', { name, answer, next })
  expect(added.status).toBe(303)
  return added
}

export async function signInByPasskey(place: Place, device: Authenticator): Promise<Client> {
  const client = place.guest()
  const answer = device.show(await asked(client, '/sign-in/passkey/asked'), { origin: passkeyOrigin })
  expect((await client.post('/sign-in/passkey', { answer })).status).toBe(303)
  return client
}

/** Shows in this session that it is still its person. */
export async function showPasskey(person: Client, device: Authenticator, back = '') {
  const answer = device.show(await asked(person, '/account/present/asked'), { origin: passkeyOrigin })
  const shown = await person.post('/account/present', { answer, back })
  expect(shown.status).toBe(303)
  return shown
}

/** By which the page of passkeys names the first of them. */
export const firstPasskey = async (person: Client) =>
  /<option value="([0-9a-f-]{36})"/.exec((await person.get('/account/passkeys')).text)?.[1] ?? ''
