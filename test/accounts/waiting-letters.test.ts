import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const password = 'long enough to keep'

/** Signs the person in again, in another browser. */
async function signedIn(person: Client, next = '') {
  const browser = place.guest()
  browser.forwardedFor = person.forwardedFor
  const answer = await browser.post('/sign-in', { email: person.email, password, next })
  return { browser, to: answer.location }
}

const readIn = (html: string) =>
  [...html.matchAll(/name="read\[\]" value="([0-9a-f-]{36})"/g)].map((one) => one[1] ?? '')

async function personPage(keeper: Client, name: string): Promise<string> {
  const people = (await keeper.get(`/g/${keeper.slug}/people`)).text
  return new RegExp(`href="([^"]+/people/[0-9a-f-]{36})">${name}<`).exec(people)?.[1] ?? ''
}

it('without mail what touches a person waits for their next sign-in, in the words of the letters', async () => {
  const keeper = await place.keeper({ locale: 'de-AT', timeZone: 'Europe/Vienna', currency: 'EUR' })
  const ben = await place.joined(keeper, 'reader')
  expect((await signedIn(ben)).to).toBe('/')
  const page = await personPage(keeper, 'Ben Marsh')
  await keeper.post(`${page}/role`, { role: 'recorder' })
  const { browser, to } = await signedIn(ben, `/g/${keeper.slug}`)
  expect(to).toBe(`/letters?next=${encodeURIComponent(`/g/${keeper.slug}`)}`)
  const shown = await browser.get(to)
  expect(shown.text).toContain('<html lang="de-AT"')
  expect(plain(shown.text)).toContain('Seit du hier warst')
  expect(plain(shown.text)).toMatch(/Deine Rolle in Quern Hill Growers .* Quern Hill Growers/)
  expect((await signedIn(ben)).to).toBe('/letters?next=%2F')
  await keeper.post(`${page}/removal`, { reason: 'moved away' })
  const [role] = readIn(shown.text)
  const read = await browser.post('/letters', { 'read[]': [role], next: `/g/${keeper.slug}` })
  expect([read.status, read.location]).toEqual([303, `/g/${keeper.slug}`])
  const left = await browser.get('/letters')
  expect([readIn(left.text).length, plain(left.text).includes('You are no longer in Quern Hill Growers')]).toEqual([
    1,
    true,
  ])
  await browser.post('/letters', { 'read[]': readIn(left.text) })
  expect((await signedIn(ben)).to).toBe('/')
  expect(plain((await browser.get('/letters')).text)).toContain('Nothing waits to be read.')
})

it('nobody reads another’s, or takes them away', async () => {
  const keeper = await place.keeper()
  const ben = await place.joined(keeper, 'reader')
  await keeper.post(`${await personPage(keeper, 'Ben Marsh')}/role`, { role: 'keeper' })
  const [id] = readIn((await ben.get('/letters')).text)
  expect(readIn((await keeper.get('/letters')).text)).toEqual([])
  await keeper.post('/letters', { 'read[]': [id] })
  expect(readIn((await ben.get('/letters')).text)).toEqual([id])
  expect((await keeper.post('/letters', { 'read[]': 'nonsense', next: 'https://elsewhere.example' })).location).toBe(
    '/',
  )
})

it('they come when somebody signs in, and never between an act and its answer', async () => {
  const ada = await place.person()
  const change = { presentPassword: password, newPassword: 'seven herons over the weir' }
  expect((await ada.post('/account/password', change)).location).toBe('/account')
  const browser = place.guest()
  const again = await browser.post('/sign-in', { email: ada.email, password: change.newPassword })
  expect(again.location).toBe('/letters?next=%2F')
  expect(plain((await browser.get(again.location)).text)).toContain('Your password was changed')
})

it('fifty wait at most, the latest, and they go with the account', async () => {
  const keeper = await place.keeper()
  const ben = await place.joined(keeper, 'reader')
  const page = await personPage(keeper, 'Ben Marsh')
  for (let i = 0; i < 52; i++) await keeper.post(`${page}/role`, { role: i % 2 === 0 ? 'recorder' : 'reader' })
  const shown = (await ben.get('/letters')).text
  expect(readIn(shown)).toHaveLength(50)
  expect((await ben.post('/account/deletion', { deletionPassword: password })).status).toBe(303)
})
