import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { addDays, dayIn } from '../../src/quantities/dates.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { plain, rowOf } from '../support/page-checks.ts'

let place: Place
beforeAll(async () => {
  place = await openPlace()
})
afterAll(() => place.close())

const at = (client: Client) => `/g/${client.slug}/people`
const today = () => dayIn('Pacific/Auckland', new Date())

/** The address of a member's own page, as it stands on the page of all. */
async function pageOf(keeper: Client, name: string): Promise<string> {
  const text = (await keeper.get(at(keeper))).text
  return new RegExp(`href="([^"]+/people/[0-9a-f-]{36})">${name}<`).exec(text)?.[1] ?? ''
}

const linkIn = (html: string) => /\/invitations\/[\w-]{20,}/.exec(html)?.[0] ?? ''

async function invited(keeper: Client, fields: Record<string, string>): Promise<string> {
  return linkIn((await keeper.post(`${at(keeper)}/invitations`, fields)).text)
}

/** A keeper beside the first, by another name. */
async function second(keeper: Client, name: string): Promise<Client> {
  const link = await invited(keeper, { role: 'keeper' })
  const client = await place.person(name)
  await client.post(link)
  client.slug = keeper.slug
  return client
}

const roleIn = async (who: Client, name: string) => rowOf((await who.get(at(who))).text, name)[1]
const history = async (keeper: Client, table: string) =>
  plain((await keeper.get(`/g/${keeper.slug}/history?table=${table}`)).text)

describe('a member', () => {
  it('is given another role by a keeper, and may at once what it says', async () => {
    const keeper = await place.keeper()
    const ben = await place.joined(keeper, 'reader')
    const page = await pageOf(keeper, 'Ben Marsh')
    expect((await ben.get(`/g/${keeper.slug}/exchange/rows`)).status).toBe(403)
    expect((await keeper.post(`${page}/role`, { role: 'recorder' })).status).toBe(303)
    expect((await ben.get(`/g/${keeper.slug}/exchange/rows`)).status).toBe(200)
    expect(await roleIn(ben, 'Ben Marsh')).toBe('recorder')
    expect((await keeper.post(`${page}/role`, { role: 'owner' })).status).toBe(422)
    expect(await history(keeper, 'members')).toContain('member: Ben Marsh corrected Role: reader → recorder')
  })

  it('who is taken out is refused by the next request, and comes back by no open invitation', async () => {
    const keeper = await place.keeper()
    const link = await invited(keeper, { role: 'reader', places: '5' })
    const ben = await place.person('Ben Marsh')
    await ben.post(link)
    const week = `/g/${keeper.slug}/weeks/2026-W05`
    expect((await ben.get(week)).status).toBe(200)
    const page = await pageOf(keeper, 'Ben Marsh')
    expect((await keeper.post(`${page}/removal`, { reason: 'Moved away' })).location).toBe(at(keeper))
    expect([(await ben.get(week)).status, (await ben.post(week)).status]).toEqual([404, 404])
    expect((await ben.get('/')).text).not.toContain(keeper.slug)
    expect((await ben.post(link)).status).toBe(404)
    expect((await keeper.get(page)).status).toBe(404)
    const told = await history(keeper, 'members')
    expect(told).toContain('member: someone who is no member now removed')
    expect(told).toContain('Moved away')
  })

  it('leaves by themselves, once sure', async () => {
    const keeper = await place.keeper()
    const ben = await place.joined(keeper, 'recorder')
    expect((await ben.post(`${at(keeper)}/leave`)).status).toBe(200)
    expect(await roleIn(ben, 'Ben Marsh')).toBe('recorder')
    expect((await ben.post(`${at(keeper)}/leave`, { sure: 'yes' })).location).toBe('/')
    expect((await ben.get(`/g/${keeper.slug}`)).status).toBe(404)
    expect(plain((await keeper.get(at(keeper))).text)).not.toContain('Ben Marsh')
  })

  it('of another group is not there', async () => {
    const [keeper, other] = [await place.keeper(), await place.keeper()]
    await place.joined(other, 'reader')
    const id = (await pageOf(other, 'Ben Marsh')).split('/').at(-1)
    expect((await keeper.get(`${at(keeper)}/${id}`)).status).toBe(404)
    expect((await keeper.post(`${at(keeper)}/${id}/removal`)).status).toBe(404)
    expect((await keeper.get(`${at(keeper)}/not-an-id`)).status).toBe(404)
    expect(await roleIn(other, 'Ben Marsh')).toBe('reader')
  })

  it('a visitor of the example has nothing to leave', async () => {
    const guest = place.guest()
    const slug = (await guest.post('/demo')).location.split('/')[2] ?? ''
    expect((await guest.get(`/g/${slug}/people`)).text).not.toContain('/people/leave')
    expect((await guest.post(`/g/${slug}/people/leave`, { sure: 'yes' })).status).toBe(403)
  })
})

describe('the last keeper', () => {
  it('stays, as a keeper, whatever is asked', async () => {
    const keeper = await place.keeper()
    await place.joined(keeper, 'recorder')
    const own = await pageOf(keeper, 'Ada Rook')
    const left = await keeper.post(`${at(keeper)}/leave`, { sure: 'yes' })
    expect([left.status, plain(left.text).includes('would have no keeper')]).toEqual([409, true])
    expect((await keeper.post(`${own}/role`, { role: 'reader' })).status).toBe(409)
    expect((await keeper.post(`${own}/removal`)).status).toBe(409)
    expect(await roleIn(keeper, 'Ada Rook')).toBe('keeper')
  })

  it('is one of two who leave at the same moment', async () => {
    const keeper = await place.keeper()
    const cleo = await second(keeper, 'Cleo Dunn')
    const leaving = (who: Client) => who.post(`${at(keeper)}/leave`, { sure: 'yes' })
    // Each has the page's token already, so that both acts run at once.
    await Promise.all([keeper.get(at(keeper)), cleo.get(at(keeper))])
    const answers = await Promise.all([leaving(keeper), leaving(cleo)])
    expect(answers.map(({ status }) => status).sort()).toEqual([303, 409])
    const stays = answers[0]?.status === 409 ? [keeper, 'Ada Rook'] : [cleo, 'Cleo Dunn']
    expect(await roleIn(stays[0] as Client, stays[1] as string)).toBe('keeper')
  })

  it('is one of two who take each other out at the same moment', async () => {
    const keeper = await place.keeper()
    const cleo = await second(keeper, 'Cleo Dunn')
    const [ofAda, ofCleo] = [await pageOf(keeper, 'Ada Rook'), await pageOf(cleo, 'Cleo Dunn')]
    const answers = await Promise.all([keeper.post(`${ofCleo}/removal`), cleo.post(`${ofAda}/removal`)])
    const statuses = answers.map(({ status }) => status).sort()
    expect(statuses[0]).toBe(303)
    expect([403, 404]).toContain(statuses[1])
    const open = [(await keeper.get(at(keeper))).status, (await cleo.get(at(keeper))).status].sort()
    expect(open).toEqual([200, 404])
  })
})

describe('an invitation', () => {
  it('of several people lets in as many as it says, also when all press at once, and nobody twice', async () => {
    const keeper = await place.keeper()
    const link = await invited(keeper, { role: 'recorder', places: '3' })
    const crowd = await Promise.all(Array.from({ length: 5 }, (_, i) => place.person(`Guest ${i}`)))
    await Promise.all(crowd.map((one) => one.get(link)))
    await crowd[0]?.post(link)
    expect((await crowd[0]?.post(link))?.location).toBe(`/g/${keeper.slug}`)
    expect(rowOf((await keeper.get(at(keeper))).text, 'recorder End it')[1]).toBe('1 of 3')
    const statuses = await Promise.all(crowd.slice(1).map(async (one) => (await one.post(link)).status))
    expect(statuses.sort()).toEqual([303, 303, 404, 404])
    const late = await (await place.person('Late Guest')).get(link)
    expect([late.status, plain(late.text).includes('This link lets nobody in')]).toEqual([404, true])
    const rows = plain((await keeper.get(at(keeper))).text).match(/Guest \d recorder/g)
    expect(rows).toHaveLength(3)
    expect(await history(keeper, 'invitations')).toContain('How many have come in: 2 → 3')
  })

  it('is listed until its last day, and ended by a keeper', async () => {
    const keeper = await place.keeper()
    const lastDay = addDays(today(), 30)
    const link = await invited(keeper, { role: 'reader', places: '2', lastDay })
    const page = (await keeper.get(at(keeper))).text
    const day = new Intl.DateTimeFormat('en-NZ', { dateStyle: 'long', timeZone: 'UTC' }).format(new Date(lastDay))
    expect(rowOf(page, 'reader End it')).toEqual(['reader End it', '0 of 2', day, 'Ada Rook'])
    const guest = await place.person()
    expect((await guest.get(link)).status).toBe(200)
    const end = /action="([^"]+\/invitations\/[0-9a-f-]{36}\/end)"/.exec(page)?.[1] ?? ''
    expect((await keeper.post(end)).location).toBe(at(keeper))
    expect([(await guest.get(link)).status, (await guest.post(link)).status]).toEqual([404, 404])
    expect(plain((await keeper.get(at(keeper))).text)).not.toContain('Open invitations')
    expect(await history(keeper, 'invitations')).toContain('Ended: nothing →')
  })

  it.each([
    ['no number of people', { places: '0' }],
    ['too many of them', { places: '51' }],
    ['a day that is over', { lastDay: addDays(today(), -1) }],
    ['a day too far off', { lastDay: addDays(today(), 62) }],
    ['no role', { role: 'owner' }],
  ])('is not made for %s', async (_what, wrong) => {
    const keeper = await place.keeper()
    const answer = await keeper.post(`${at(keeper)}/invitations`, { role: 'reader', ...wrong })
    expect([answer.status, linkIn(answer.text)]).toEqual([422, ''])
  })

  it('ends in the zone of the group, with its day', async () => {
    const keeper = await place.keeper()
    const link = await invited(keeper, { role: 'reader', lastDay: today() })
    const ends = await place.database.drizzle.execute(
      sql`select to_char(max(expires_at) at time zone 'Pacific/Auckland', 'HH24:MI') as time from invitations i
        join groups g on g.id = i.group_id where g.slug = ${keeper.slug}`,
    )
    expect((ends as unknown as { rows: object[] }).rows).toEqual([{ time: '00:00' }])
    const guest = await place.person()
    expect((await guest.get(link)).status).toBe(200)
    await place.database.drizzle.execute(sql`update invitations set expires_at = now()`)
    expect((await guest.get(link)).status).toBe(404)
  })

  it('of a keeper who is none any more has ended', async () => {
    const keeper = await place.keeper()
    const cleo = await second(keeper, 'Cleo Dunn')
    const link = await invited(cleo, { role: 'keeper', places: '2' })
    await keeper.post(`${await pageOf(keeper, 'Cleo Dunn')}/role`, { role: 'reader' })
    expect((await cleo.post(link)).status).toBe(404)
    expect((await cleo.post(`${at(cleo)}/invitations`, { role: 'keeper' })).status).toBe(403)
  })

  it('is read in the language of the group', async () => {
    const keeper = await place.keeper({ locale: 'de-AT', timeZone: 'Europe/Vienna', currency: 'EUR' })
    const link = await invited(keeper, { role: 'recorder' })
    const page = await (await place.person()).get(link)
    expect(page.text).toContain('<html lang="de-AT"')
    expect(plain(page.text)).toContain('Deine Rolle: trägt ein.')
    expect(page.text).toContain('<title>Einladung in die Gruppe Quern Hill Growers')
  })
})
