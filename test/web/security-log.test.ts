import { afterAll, beforeAll, expect, it } from 'vitest'
import { metricsKept } from '../../src/web/metrics.ts'
import { securityEvents } from '../../src/web/security-log.ts'
import { openPlace, type Place } from '../support/app.ts'

let place: Place
const lines: string[] = []
const metrics = metricsKept()
beforeAll(async () => {
  place = await openPlace({ logs: { write: (line) => lines.push(line) }, watch: metrics.watch })
})
afterAll(() => place.close())

interface Line {
  readonly msg: string
  readonly event: string
  readonly done: boolean
  readonly status: number
  readonly person: string | null
  readonly group: string | null
  readonly reqId: string
}

/** What was noted by some work, and the lines as they were written: each when its answer is wholly sent. */
async function noted(work: () => Promise<unknown>, expected = 1): Promise<{ said: Line[]; text: string }> {
  const from = lines.length
  await work()
  const own = () => lines.slice(from)
  const said = () =>
    own()
      .map((line) => JSON.parse(line) as Line)
      .filter(({ msg }) => msg === 'security')
  for (let i = 0; i < 200 && said().length < expected; i++) await new Promise((resolve) => setTimeout(resolve, 20))
  return { said: said(), text: own().join('') }
}

it('notes who comes in and who was refused, by number alone', async () => {
  const keeper = await place.keeper()
  const ben = await place.joined(keeper, 'reader')
  const fields = { email: keeper.email, password: 'long enough to keep' }
  const guest = place.guest()
  const wrong = await noted(() => guest.post('/sign-in', { ...fields, password: 'something else here' }))
  expect(wrong.said).toMatchObject([{ event: 'signing in', done: false, status: 422, person: null, group: null }])
  const right = await noted(() => guest.post('/sign-in', fields))
  expect(right.said).toMatchObject([
    { event: 'signing in', done: true, person: expect.stringMatching(/^[0-9a-f-]{36}$/) as string },
  ])
  const refused = await noted(() => ben.post(`/g/${keeper.slug}/people/invitations`, { role: 'keeper' }))
  const group = refused.said[0]?.group
  expect(refused.said).toMatchObject([{ event: 'invitation', done: false, status: 403 }])
  const written = await noted(() => ben.post(`/g/${keeper.slug}/seasons`, {}))
  expect(written.said).toMatchObject([{ event: 'refused', status: 403, group }])
  const out = await noted(() => keeper.download(`/g/${keeper.slug}/exchange/export.zip`))
  expect(out.said).toMatchObject([{ event: 'export', done: true, group }])
  expect(out.said[0]?.person).toBe(right.said[0]?.person)
  for (const { text, said } of [wrong, right, refused, written, out]) {
    for (const told of [
      keeper.email,
      ben.email,
      'Ada Rook',
      'Ben Marsh',
      keeper.slug,
      '10.0.0',
      '127.0.0.1',
      'long enough',
      'something else',
    ])
      expect(text).not.toContain(told)
    expect(said[0]?.reqId).toMatch(/./)
  }
})

it('notes nothing of what is everyday', async () => {
  const keeper = await place.keeper()
  const { said } = await noted(async () => {
    await keeper.get(`/g/${keeper.slug}`)
    await new Promise((resolve) => setTimeout(resolve, 200))
  }, 0)
  expect(said).toEqual([])
})

it('has a line for each route that changes who may come in, and for what goes out whole', () => {
  const routes = place.app.declaredRoutes.map(({ route }) => route)
  const who =
    /^POST \/(sign-|account|reset|invitations|r\/|groups\/bring-back|g\/:group\/people|g\/:group\/reports\/:report\/links|g\/:group\/reports\/names)/
  const whole = /^GET \/g\/:group\/exchange\/export/
  const asked = routes.filter((route) => who.test(route) || whole.test(route))
  expect(asked.length).toBeGreaterThan(20)
  expect(asked.filter((route) => !(route in securityEvents))).toEqual([])
  expect(Object.keys(securityEvents).filter((route) => !routes.includes(route))).toEqual([])
})

it('counts answers by route and never by address', async () => {
  const keeper = await place.keeper()
  await keeper.get(`/g/${keeper.slug}/gardens`)
  await keeper.get('/nothing/here')
  const server = await metrics.serve('127.0.0.1', 0)
  const address = server.address()
  const port = typeof address === 'object' && address ? address.port : 0
  const text = await (await fetch(`http://127.0.0.1:${port}/metrics`)).text()
  const elsewhere = await fetch(`http://127.0.0.1:${port}/g/${keeper.slug}`)
  server.close()
  expect(elsewhere.status).toBe(404)
  expect(text).toMatch(/evenground_request_seconds_count\{method="GET",route="\/g\/:group\/gardens",status="200"\} \d/)
  expect(text).toMatch(/evenground_requests_open 0\n/)
  expect(text).toContain('process_resident_memory_bytes')
  for (const told of [keeper.slug, 'nothing/here', keeper.email]) expect(text).not.toContain(told)
})
