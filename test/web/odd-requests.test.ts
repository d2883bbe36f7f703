import request from 'supertest'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'

let place: Place
let keeper: Client
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.keeper()
})
afterAll(() => place.close())

it('an undo that would lead to an odd address is refused', async () => {
  const base = `/g/${keeper.slug}`
  for (const back of [`${base}/\r\nx: y`, `${base}/ü`, `${base}-other`, 'https://elsewhere.example', `${base}/a b`]) {
    expect((await keeper.post(`${base}/undo`, { first: '1', last: '1', back })).status).toBe(404)
  }
})

it('a link that is none, of another group or under an odd report is not there to be revoked', async () => {
  const base = `/g/${keeper.slug}/reports`
  for (const address of [
    `${newId()}/links/${newId()}`,
    `${newId()}/links/x`,
    `%0d%0ax/links/${newId()}`,
    `ü/links/x`,
  ]) {
    expect((await keeper.post(`${base}/${encodeURI(address).replaceAll('%25', '%')}/revoke`)).status).toBe(404)
  }
})

it('forms take forms only, and an address that cannot be read gets a page', async () => {
  const json = request(place.app.server).post('/sign-in').set('Origin', 'http://127.0.0.1').set('Host', '127.0.0.1')
  const answer = await json.send({ email: { $ne: '' }, password: {} })
  expect([answer.status, answer.type]).toEqual([400, 'text/html'])
  const odd = await request(place.app.server).get('/%')
  expect([odd.status, odd.type]).toEqual([400, 'text/html'])
  expect(odd.text).toContain('This could not be read')
})

it('an invitation to less than one is already is not used up', async () => {
  const page = await keeper.post(`/g/${keeper.slug}/people/invitations`, { role: 'reader' })
  const link = /\/invitations\/[\w-]+/.exec(page.text)?.[0] ?? ''
  expect((await keeper.post(link)).location).toBe(`/g/${keeper.slug}`)
  expect((await (await place.person('Ben Marsh')).post(link)).location).toBe(`/g/${keeper.slug}`)
})
