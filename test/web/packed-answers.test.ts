import { request as ask } from 'node:http'
import { gunzipSync } from 'node:zlib'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'

let place: Place
let keeper: Client
let base: string
beforeAll(async () => {
  place = await openPlace()
  keeper = await place.person()
  base = (await keeper.post('/demo/copy')).location
  // The notice that it was copied.
  await keeper.get(base)
})
afterAll(() => place.close())

interface Sent {
  readonly status: number | undefined
  readonly headers: NodeJS.Dict<string | string[]>
  readonly bytes: Buffer
}

/** The bytes as they come over the line. */
function asked(path: string, headers: Record<string, string>, method = 'GET'): Promise<Sent> {
  const { port } = place.app.server.address() as { port: number }
  return new Promise((resolve, reject) => {
    const cookie = keeper.cookieHeader().join('; ')
    const asking = ask({ host: '127.0.0.1', port, path, method, headers: { cookie, ...headers } }, (answer) => {
      const chunks: Buffer[] = []
      answer.on('data', (chunk: Buffer) => chunks.push(chunk))
      answer.on('end', () =>
        resolve({ status: answer.statusCode, headers: answer.headers, bytes: Buffer.concat(chunks) }),
      )
    })
    asking.on('error', reject).end()
  })
}

const packed = (path: string) => asked(path, { 'accept-encoding': 'gzip, deflate, br' })
const plain = (path: string) => asked(path, { 'accept-encoding': 'identity' })
const addressIn = async (of: string) =>
  `${base}/${new RegExp(`${of}/[0-9a-f-]{36}`).exec((await keeper.get(`${base}/${of}`)).text)?.[0]}`

const differing = /(?<=name="(?:_csrf|id)"\s+value=")[^"]+/g
const oneOf = (text: string) => [...text.matchAll(differing)].map(([found]) => found)
const alike = (bytes: Buffer) => bytes.toString().replaceAll(differing, '')

describe('a page is sent compressed to whoever takes that', () => {
  it.each([
    ['Home', async () => base],
    ['a week', async () => `${base}/weeks/2026-W05`],
    ['a season', () => addressIn('seasons')],
    ["a garden's year", () => addressIn('gardens')],
    ['Compare', async () => `${base}/compare?season=all`],
    ['people, which are not kept', async () => `${base}/people`],
    ['inputs, which are not kept', async () => `${base}/inputs`],
    ['an account, which is of no group', async () => '/account'],
  ])('%s, at its first opening and at a later one', async (_, of) => {
    const path = await of()
    await place.database.drizzle.execute('update group_counters set changes = changes + 1')
    const openings = [await packed(path), await packed(path), await plain(path)]
    const texts = openings.map(({ headers, bytes }, i) => {
      expect(headers['content-encoding']).toBe(i < 2 ? 'gzip' : undefined)
      expect(headers.vary).toBe('accept-encoding')
      expect(headers['content-length']).toBe(String(bytes.length))
      return i < 2 ? gunzipSync(bytes) : bytes
    })
    for (const text of texts) expect(alike(text)).toBe(alike(texts[0] ?? Buffer.alloc(0)))
    const own = texts.map((text) => new Set(oneOf(text.toString())))
    expect(new Set(own.flatMap((one) => [...one])).size).toBe(own.reduce((sum, one) => sum + one.size, 0))
    expect(openings[0]?.bytes.length).toBeLessThan((openings[2]?.bytes.length ?? 0) / 2)
  })

  it.each(['', '/weeks/2026-W05', '/people'])('the token of its forms is not compressed: "%s"', async (path) => {
    for (const { bytes } of [await packed(base + path), await packed(base + path)]) {
      const tokens = oneOf(gunzipSync(bytes).toString())
      expect(tokens.length).toBeGreaterThan(0)
      for (const token of new Set(tokens)) {
        const times = bytes.toString('latin1').split(token).length - 1
        expect(times).toBe(tokens.filter((one) => one === token).length)
      }
    }
  })
})

it.each([
  ['gzip', true],
  ['GZIP;Q=0.2, br', true],
  ['*', true],
  ['br, *;q=0.1', true],
  ['identity', false],
  ['gzip;q=0', false],
  ['gzip; q=0.0, *', false],
  ['br', false],
  ['', false],
])('who says "%s" is understood', async (said, isPacked) => {
  for (const path of [base, `${base}/people`, '/sign-up']) {
    const { status, headers, bytes } = await asked(path, { 'accept-encoding': said })
    expect([status, headers['content-encoding'], headers.vary]).toEqual([
      200,
      isPacked ? 'gzip' : undefined,
      'accept-encoding',
    ])
    expect((isPacked ? gunzipSync(bytes) : bytes).toString()).toContain('</html>')
  }
})

it('files of figures and drawings are compressed, a zip and pixels are not', async () => {
  const drawing = `${base}/compare/seasons/picture-seasons.svg?season=all`
  for (const path of [`${base}/compare.json?season=all`, `${base}/compare.csv?season=all`, drawing]) {
    const [one, other] = [await packed(path), await plain(path)]
    expect([one.status, one.headers['content-encoding'], one.headers.vary]).toEqual([200, 'gzip', 'accept-encoding'])
    expect(gunzipSync(one.bytes)).toEqual(other.bytes)
    expect(one.headers['content-type']).toBe(other.headers['content-type'])
  }
  for (const path of [`${base}/exchange/export.zip`, drawing.replace('.svg', '.png')]) {
    const { status, headers, bytes } = await packed(path)
    expect([status, headers['content-encoding'], headers.vary]).toEqual([200, undefined, undefined])
    expect(headers['content-length']).toBe(String(bytes.length))
  }
})

it('styles and scripts are compressed once, faces are not; what is short stays as it is', async () => {
  const page = (await keeper.get(base)).text
  for (const ending of ['css', 'js']) {
    const path = new RegExp(`/assets/\\w+\\.${ending}`).exec(page)?.[0] ?? ''
    const [one, other] = [await packed(path), await plain(path)]
    expect([one.headers['content-encoding'], one.headers.vary]).toEqual(['gzip', 'accept-encoding'])
    expect([other.headers['content-encoding'], other.headers.vary]).toEqual([undefined, 'accept-encoding'])
    expect(gunzipSync(one.bytes)).toEqual(other.bytes)
  }
  const face = /\/assets\/\w+\.woff2/.exec(page)?.[0] ?? ''
  for (const path of [face, '/who', '/health']) expect((await packed(path)).headers['content-encoding']).toBeUndefined()
})

it('a report behind a link is compressed once for all', async () => {
  const id = newId()
  const fields = { keeps: 'live', title: 'Three seasons', words: '', season: 'all', step: 'finish' }
  await keeper.post(`${base}/reports`, { id, sections: [...sectionKeys], ...fields })
  const page = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
  const path = /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
  const [first, again, other] = [await packed(path), await packed(path), await plain(path)]
  for (const one of [first, again]) {
    expect([one.status, one.headers['content-encoding'], one.headers.vary]).toEqual([200, 'gzip', 'accept-encoding'])
    expect(gunzipSync(one.bytes)).toEqual(other.bytes)
  }
  // It holds no secret: also where a letter or another site led to it.
  const led = await asked(path, { 'accept-encoding': 'gzip', 'sec-fetch-site': 'cross-site' })
  expect(led.headers['content-encoding']).toBe('gzip')
})

it('what another site leads to is sent as it is', async () => {
  for (const path of [base, `${base}/people`]) {
    for (const [from, isPacked] of [
      ['cross-site', false],
      ['same-origin', true],
      ['none', true],
    ] as const) {
      const { headers } = await asked(path, { 'accept-encoding': 'gzip', 'sec-fetch-site': from })
      expect(headers['content-encoding']).toBe(isPacked ? 'gzip' : undefined)
    }
  }
})

it('the key of one-time codes stands on a page that is not compressed', async () => {
  await keeper.post('/account/codes', { codesPassword: 'long enough to keep' })
  const { headers, bytes } = await packed('/account/codes?next=/week')
  expect(bytes.toString()).toMatch(/<code>(\w{4} ){7}\w{4}<\/code>/)
  expect([headers['content-encoding'], headers.vary]).toEqual([undefined, 'accept-encoding'])
  expect((await packed('/account')).headers['content-encoding']).toBe('gzip')
})

it('asking for the head alone is answered without a body', async () => {
  const { status, headers, bytes } = await asked(base, { 'accept-encoding': 'gzip' }, 'HEAD')
  expect([status, headers['content-encoding'], bytes.length]).toEqual([200, 'gzip', 0])
})
