import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type Answer, type Client, openPlace, type Place } from '../support/app.ts'
import { withCodes } from '../support/factors.ts'

/** A row that can be corrected has a page, a form and a removal. */
function correctable(least: string, kinds: readonly string[]): Record<string, string> {
  const routes = kinds.flatMap((kind) => [
    `GET /g/:group/correct/${kind}/:id`,
    `POST /g/:group/correct/${kind}/:id`,
    `POST /g/:group/correct/${kind}/:id/removal`,
  ])
  return Object.fromEntries(routes.map((route) => [route, least]))
}

/** Who may what, written by hand: the least a person must be. A route that is missing here fails. */
const whoMayWhat: Record<string, string> = {
  'GET /': 'public',
  'GET /health': 'public',
  'GET /ready': 'public',
  'GET /figures': 'public',
  'GET /week-kept': 'public',
  'GET /week-worker.js': 'public',
  'GET /manifest.webmanifest': 'public',
  'GET /who': 'public',
  'GET /week': 'person',
  'GET /figures/:measure': 'public',
  'GET /sign-up': 'public',
  'POST /sign-up': 'public',
  'GET /sign-in': 'public',
  'POST /sign-in': 'public',
  'GET /sign-in/code': 'public',
  'POST /sign-in/code': 'public',
  'POST /sign-in/passkey/asked': 'public',
  'POST /sign-in/passkey': 'public',
  'POST /account/present/asked': 'person',
  'POST /account/present': 'person',
  'GET /account/passkeys': 'person',
  'POST /account/passkeys/asked': 'person',
  'POST /account/passkeys': 'person',
  'POST /account/passkeys/name': 'person',
  'POST /account/passkeys/removal': 'person',
  'POST /account/passkeys/alone': 'person',
  'POST /sign-out': 'public',
  'GET /forgotten': 'public',
  'POST /forgotten': 'public',
  'GET /reset/:token': 'public',
  'POST /reset/:token': 'public',
  'GET /invitations/:token': 'public',
  'GET /r/:token': 'public',
  'POST /r/:token': 'public',
  'GET /r/:token.json': 'public',
  'GET /r/:token.csv': 'public',
  'GET /r/:token/rows.csv': 'public',
  'GET /r/:token/pictures/:picture': 'public',
  'GET /r/:token/recompute.R': 'public',
  'GET /r/:token/meeting': 'public',
  'POST /demo': 'public',
  'POST /demo/copy': 'person',
  'POST /invitations/:token': 'person',
  'GET /letters': 'person',
  'POST /letters': 'person',
  'GET /account': 'person',
  'POST /account/name': 'person',
  'POST /account/address': 'person',
  'POST /account/password': 'person',
  'POST /account/sessions': 'person',
  'POST /account/deletion': 'person',
  'GET /account/proof': 'person',
  'POST /account/proof': 'person',
  'GET /account/codes': 'person',
  'POST /account/codes': 'person',
  'POST /account/codes/confirm': 'person',
  'POST /account/codes/end': 'person',
  'GET /groups/new': 'person',
  'POST /groups': 'person',
  'GET /groups/bring-back': 'person',
  'POST /groups/bring-back': 'person',
  'GET /g/:group': 'reader',
  'GET /g/:group/settings': 'reader',
  'GET /g/:group/setting-up': 'keeper',
  'GET /g/:group/setting-up/gardens': 'keeper',
  'POST /g/:group/setting-up/gardens': 'keeper',
  'GET /g/:group/setting-up/season': 'keeper',
  'POST /g/:group/setting-up/season': 'keeper',
  'GET /g/:group/setting-up/what-it-shows': 'reader',
  'GET /g/:group/ending': 'keeper',
  'POST /g/:group/ending': 'keeper',
  'POST /g/:group/ending/called-back': 'keeper',
  'GET /g/:group/people': 'reader',
  'GET /g/:group/people/leave': 'reader',
  'POST /g/:group/people/leave': 'reader',
  'GET /g/:group/plantings/:planting/rearranging': 'keeper',
  'POST /g/:group/plantings/:planting/rearranging/joined': 'keeper',
  'POST /g/:group/plantings/:planting/rearranging/parted': 'keeper',
  'GET /g/:group/gardens': 'reader',
  'GET /g/:group/gardens/:garden': 'reader',
  'GET /g/:group/gardens/:garden.json': 'reader',
  'GET /g/:group/gardens/:garden/ground': 'reader',
  'GET /g/:group/crops': 'reader',
  'GET /g/:group/seasons': 'reader',
  'GET /g/:group/seasons/:season': 'reader',
  'GET /g/:group/seasons/:season/close': 'reader',
  'GET /g/:group/seasons/:season/question': 'reader',
  'GET /g/:group/seasons/:season/layout': 'reader',
  'GET /g/:group/seasons/:season/plan': 'reader',
  'GET /g/:group/weeks': 'reader',
  'GET /g/:group/weeks/:week': 'reader',
  'GET /g/:group/weeks/:week/ledger': 'reader',
  'GET /g/:group/decide/next-season': 'reader',
  'POST /g/:group/decide/next-season': 'keeper',
  'GET /g/:group/weeks/:week/sheet': 'reader',
  'GET /g/:group/inputs': 'reader',
  'GET /g/:group/inputs.json': 'reader',
  'GET /g/:group/inputs.csv': 'reader',
  'GET /g/:group/notes': 'reader',
  'GET /g/:group/notes/pictures/:picture': 'reader',
  'GET /g/:group/soil': 'reader',
  'GET /g/:group/soil.json': 'reader',
  'GET /g/:group/soil.csv': 'reader',
  'GET /g/:group/soil/balance.json': 'reader',
  'GET /g/:group/soil/against-tests': 'reader',
  'GET /g/:group/soil/against-tests.json': 'reader',
  'GET /g/:group/soil/balance.csv': 'reader',
  'GET /g/:group/weather.json': 'reader',
  'GET /g/:group/weather.csv': 'reader',
  'GET /g/:group/weather': 'reader',
  'GET /g/:group/soil/balance': 'reader',
  'GET /g/:group/soil/limits': 'reader',
  'GET /g/:group/soil/organic-matter': 'reader',
  'GET /g/:group/exchange': 'reader',
  'GET /g/:group/compare': 'reader',
  'GET /g/:group/compare/:part': 'reader',
  'GET /g/:group/compare/:part/:picture': 'reader',
  'GET /g/:group/compare/rows': 'reader',
  'GET /g/:group/compare/rows.json': 'reader',
  'GET /g/:group/compare/rows.csv': 'reader',
  'GET /g/:group/compare.json': 'reader',
  'GET /g/:group/compare.csv': 'reader',
  'GET /g/:group/guesses/:season': 'reader',
  'POST /g/:group/guesses/:season': 'reader',
  'GET /g/:group/decisions': 'reader',
  'GET /g/:group/decisions.json': 'reader',
  'GET /g/:group/decide': 'reader',
  'GET /g/:group/decide.json': 'reader',
  'GET /g/:group/decide/compost': 'reader',
  'GET /g/:group/decide/compost.json': 'reader',
  'GET /g/:group/decide/compost/layer': 'reader',
  'GET /g/:group/decide/compost/layer.json': 'reader',
  'GET /g/:group/decide/pay-back': 'reader',
  'GET /g/:group/decide/pay-back.json': 'reader',
  'GET /g/:group/decide/value': 'reader',
  'GET /g/:group/decide/value.json': 'reader',
  'GET /g/:group/decide/restart': 'reader',
  'GET /g/:group/decide/restart.json': 'reader',
  'GET /g/:group/reports': 'reader',
  'GET /g/:group/reports/:report': 'reader',
  'GET /g/:group/reports/:report.json': 'reader',
  'GET /g/:group/reports/:report.csv': 'reader',
  'GET /g/:group/reports/:report/rows.csv': 'reader',
  'GET /g/:group/reports/:report/pictures/:picture': 'reader',
  'GET /g/:group/reports/:report/recompute.R': 'reader',
  'POST /g/:group/seasons/:season/clearings': 'recorder',
  'POST /g/:group/seasons/:season/plantings': 'recorder',
  'POST /g/:group/weeks/:week': 'recorder',
  'POST /g/:group/weeks/:week/hours': 'recorder',
  'POST /g/:group/weeks/:week/shared-hours': 'recorder',
  'POST /g/:group/weeks/:week/harvests': 'recorder',
  'POST /g/:group/weeks/:week/shared-harvests': 'recorder',
  'POST /g/:group/weeks/:week/labelled': 'recorder',
  'POST /g/:group/weeks/:week/second-readings': 'recorder',
  ...correctable('recorder', ['second-readings']),
  'POST /g/:group/weeks/:week/losses': 'recorder',
  'POST /g/:group/weeks/:week/containers': 'recorder',
  'POST /g/:group/weeks/:week/closings': 'recorder',
  'POST /g/:group/weeks/:week/reopenings': 'recorder',
  'POST /g/:group/weeks/:week/removals': 'recorder',
  'GET /g/:group/exchange/rows': 'recorder',
  'POST /g/:group/exchange/rows': 'recorder',
  'GET /g/:group/exchange/rows/:job': 'recorder',
  'POST /g/:group/exchange/rows/:job/confirm': 'recorder',
  'POST /g/:group/exchange/rows/:job/drop': 'recorder',
  'GET /g/:group/exchange/rows/stored/:first': 'recorder',
  'POST /g/:group/exchange/rows/stored/:first': 'recorder',
  'GET /g/:group/weeks/:week/sheet/typed': 'recorder',
  'POST /g/:group/undo': 'recorder',
  'POST /g/:group/inputs/deliveries': 'recorder',
  'POST /g/:group/inputs/spreadings': 'recorder',
  'POST /g/:group/inputs/arrivals': 'recorder',
  'POST /g/:group/inputs/measures': 'recorder',
  'POST /g/:group/inputs/heaps': 'recorder',
  'POST /g/:group/inputs/heap-entries': 'recorder',
  'POST /g/:group/inputs/heaps-ready': 'recorder',
  'POST /g/:group/gardens/:garden/closures': 'recorder',
  ...correctable('recorder', ['labour', 'harvests', 'losses', 'containers']),
  ...correctable('recorder', ['inputs', 'deliveries', 'applications', 'measures', 'stocks']),
  'POST /g/:group/notes/notes': 'recorder',
  'POST /g/:group/notes/counts': 'recorder',
  'POST /g/:group/notes/patches': 'recorder',
  'POST /g/:group/notes/pictures': 'recorder',
  'POST /g/:group/soil': 'recorder',
  'POST /g/:group/weather': 'recorder',
  'POST /g/:group/weather/preview': 'recorder',
  ...correctable('recorder', [
    'labour',
    'harvests',
    'losses',
    'soil-tests',
    'field-notes',
    'counts',
    'weed-patches',
    'pictures',
    'weather-days',
    'bed-closures',
  ]),
  ...correctable('keeper', ['sites', 'blocks', 'methods', 'gardens', 'beds', 'seasons', 'crops', 'plantings']),
  ...correctable('keeper', ['decisions', 'bed-areas', 'garden-areas', 'spreading-limits']),
  'POST /g/:group/soil/limits': 'keeper',
  'POST /g/:group/decisions': 'keeper',
  'POST /g/:group/decisions/happened': 'keeper',
  'GET /g/:group/exchange/export.zip': 'keeper',
  'GET /g/:group/weeks/:week/labels': 'keeper',
  'POST /g/:group/weeks/:week/labels': 'keeper',
  'POST /g/:group/weeks/:week/labels/removals': 'keeper',
  'GET /g/:group/history': 'keeper',
  'GET /g/:group/history/:table/:row': 'keeper',
  'POST /g/:group/settings': 'keeper',
  'POST /g/:group/people/awaited/:awaited': 'keeper',
  'POST /g/:group/exchange/key': 'keeper',
  'POST /g/:group/people/invitations': 'keeper',
  'POST /g/:group/people/invitations/:invitation/end': 'keeper',
  'POST /g/:group/people/second-factor': 'keeper',
  'GET /g/:group/people/:person': 'keeper',
  'POST /g/:group/people/:person/role': 'keeper',
  'POST /g/:group/people/:person/removal': 'keeper',
  'POST /g/:group/gardens/sites': 'keeper',
  'POST /g/:group/gardens/blocks': 'keeper',
  'POST /g/:group/gardens/methods': 'keeper',
  'POST /g/:group/crops': 'keeper',
  'POST /g/:group/seasons/:season/matched-sets': 'keeper',
  'POST /g/:group/gardens/gardens': 'keeper',
  'POST /g/:group/gardens/beds': 'keeper',
  'POST /g/:group/gardens/:garden/ground/added': 'keeper',
  'POST /g/:group/gardens/:garden/ground/resized': 'keeper',
  'POST /g/:group/gardens/:garden/ground/parted': 'keeper',
  'POST /g/:group/gardens/:garden/ground/joined': 'keeper',
  'POST /g/:group/gardens/:garden/ground/given-up': 'keeper',
  'POST /g/:group/gardens/:garden/ground/gross': 'keeper',
  'POST /g/:group/seasons': 'keeper',
  'POST /g/:group/seasons/:season/assignments': 'keeper',
  'POST /g/:group/seasons/:season/layout': 'keeper',
  'POST /g/:group/seasons/:season/layout/blocks': 'keeper',
  'POST /g/:group/seasons/:season/layout/split-beds': 'keeper',
  'POST /g/:group/seasons/:season/layout/control-strips': 'keeper',
  'POST /g/:group/seasons/:season/close': 'keeper',
  'POST /g/:group/seasons/:season/close/clearings': 'keeper',
  'POST /g/:group/seasons/:season/close/losses': 'keeper',
  'POST /g/:group/seasons/:season/close/weeks': 'keeper',
  'POST /g/:group/seasons/:season/question': 'keeper',
  'POST /g/:group/seasons/:season/question/lock': 'keeper',
  'POST /g/:group/seasons/:season/reopen': 'keeper',
  'GET /g/:group/seasons/:season/plan/carried': 'keeper',
  'POST /g/:group/seasons/:season/plan/carried': 'keeper',
  'POST /g/:group/seasons/:season/plan/successions': 'keeper',
  'POST /g/:group/reports': 'keeper',
  'GET /g/:group/reports/names': 'keeper',
  'POST /g/:group/reports/names': 'keeper',
  'POST /g/:group/reports/:report/links': 'keeper',
  'POST /g/:group/reports/:report/links/:link/revoke': 'keeper',
}

const rank = { reader: 1, recorder: 2, keeper: 3 }
type Role = keyof typeof rank

let place: Place
let people: Record<Role | 'stranger' | 'guest' | 'takenOut' | 'ended', Client>
let slug: string
/** A group that opens only to who has shown more than a password: one keeper has, another has a password alone. */
let asking: { slug: string; shown: Client; alone: Client }

beforeAll(async () => {
  place = await openPlace()
  const keeper = await place.keeper()
  slug = keeper.slug
  people = {
    keeper,
    recorder: await place.joined(keeper, 'recorder'),
    reader: await place.joined(keeper, 'reader'),
    stranger: await place.keeper(),
    guest: place.guest(),
    takenOut: await takenOutOf(keeper),
    ended: await ended(await place.joined(keeper, 'keeper')),
  }
  const shown = await place.keeper()
  asking = { slug: shown.slug, shown, alone: await place.joined(shown, 'keeper') }
  await withCodes(shown)
  expect((await shown.post(`/g/${shown.slug}/people/second-factor`, { asks: 'yes' })).status).toBe(303)
})
afterAll(() => place.close())

/** A keeper whom another has taken out; their browser is still signed in. */
async function takenOutOf(keeper: Client): Promise<Client> {
  const client = await place.joined(keeper, 'keeper')
  await client.post('/account/name', { name: 'Taken Out' })
  const people = (await keeper.get(`/g/${slug}/people`)).text
  const page = /href="([^"]+)">Taken Out</.exec(people)?.[1] ?? ''
  expect((await keeper.post(`${page}/removal`)).status).toBe(303)
  return client
}

/** A keeper whose session was ended in another browser; this one still sends its cookie. */
async function ended(client: Client): Promise<Client> {
  const other = place.guest()
  other.forwardedFor = client.forwardedFor
  await other.post('/sign-in', { email: client.email, password: 'long enough to keep' })
  expect(
    (await other.post('/account/sessions', { session: 'others', endPassword: 'long enough to keep' })).status,
  ).toBe(303)
  return client
}

const isAsset = (route: string) => route.startsWith('GET /assets/')

it('every route is in the table, and says there what it says itself', () => {
  const declared = place.app.declaredRoutes.filter(({ route }) => !isAsset(route))
  expect(Object.fromEntries(declared.map(({ route, access }) => [route, access]))).toEqual(whoMayWhat)
})

function answerFor(client: Client, route: string, group = slug): Promise<Answer> {
  const [method, pattern = ''] = route.split(' ')
  const address = pattern.replace(':group', group).replace(':week', '2026-W05').replace(/:\w+/g, newId())
  return method === 'GET' ? client.get(address) : client.post(address)
}

const statusFor = async (client: Client, route: string) => (await answerFor(client, route)).status

const ofGroup = Object.entries(whoMayWhat).filter(([route]) => route.includes('/g/'))

describe.each(ofGroup)('%s (%s)', (route, least) => {
  it('is closed to a guest and not there for the keeper of another group', async () => {
    expect(await statusFor(people.guest, route)).toBe(route.startsWith('GET') ? 303 : 401)
    expect(await statusFor(people.stranger, route)).toBe(404)
  })

  it('is as closed to a keeper who was taken out, and to one whose session was ended', async () => {
    expect(await statusFor(people.takenOut, route)).toBe(404)
    expect(await statusFor(people.ended, route)).toBe(route.startsWith('GET') ? 303 : 401)
  })

  it('is closed to a lesser role and open from the least on', async () => {
    for (const role of ['reader', 'recorder', 'keeper'] as const) {
      const status = await statusFor(people[role], route)
      if (rank[role] < rank[least as Role]) expect([role, status]).toEqual([role, 403])
      else expect([200, 303, 404, 422]).toContain(status)
    }
  })

  it('is closed to a keeper with a password alone where the group asks for more', async () => {
    const { status, location } = await answerFor(asking.alone, route, asking.slug)
    const isPage = route.startsWith('GET')
    expect([status, location.startsWith('/account/proof?next=%2Fg%2F')]).toEqual(isPage ? [303, true] : [403, false])
    const open = await answerFor(asking.shown, route, asking.slug)
    expect([200, 303, 404, 422]).toContain(open.status)
    expect(open.location).not.toContain('/account/proof')
  })
})

const ofPersons = Object.entries(whoMayWhat).filter(([, least]) => least === 'person')

it.each(ofPersons)('%s is closed to a guest and to an ended session', async (route) => {
  const closed = route.startsWith('GET') ? 303 : 401
  expect(await statusFor(people.guest, route)).toBe(closed)
  expect(await statusFor(people.ended, route)).toBe(closed)
})

it('an address that names no id is not there, and never a fault of the service', async () => {
  const strange = [
    'seasons/abc',
    'seasons/abc/close',
    'seasons/abc/question',
    'seasons/abc/layout',
    'seasons/abc/plan',
    'seasons/abc/plan/carried',
    'gardens/abc',
    'reports/abc',
    'guesses/abc',
    'correct/beds/abc',
  ]
  for (const path of [...strange, 'weeks/abc', "seasons/';--"]) {
    expect([path, (await people.keeper.get(`/g/${slug}/${path}`)).status]).toEqual([path, 404])
  }
  for (const path of ['seasons/abc/close', 'seasons/abc/question/lock', 'seasons/abc/clearings', 'correct/beds/abc']) {
    expect(
      (await people.keeper.post(`/g/${slug}/${path}`, { plantingId: newId(), clearedOn: '2026-01-01' })).status,
    ).toBe(404)
  }
})
