import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { onServer } from '../support/server.ts'
import { type Run, start } from './service.ts'
import { groundOf, perSheet, setUp, sheetOf } from './sheets.ts'
import { Visitor } from './visitor.ts'

const server = process.env.TEST_DATABASE_URL
const name = `evenground_test_${newId().replaceAll('-', '')}`

/** Two processes on one database, and one person whose requests go to either. */
describe.skipIf(!server)('what is done at one of two processes is so at the other', () => {
  let [one, other]: [Run, Run] = [] as unknown as [Run, Run]
  let [here, there]: [Visitor, Visitor] = [] as unknown as [Visitor, Visitor]
  let group = ''
  let email = ''
  beforeAll(async () => {
    await onServer(server ?? '', `create database ${name}`)
    const url = new URL(server ?? '')
    url.pathname = `/${name}`
    const set = { DATABASE_URL: url.href }
    ;[one, other] = await Promise.all([start(set), start(set)])
    await Promise.all([one.said(/ready/), other.said(/ready/)])
    const { slug, devices } = await setUp(one)
    group = `/g/${slug}`
    email = `rook-${new URL(one.base).port}@example.org`
    here = devices[0] ?? new Visitor(one.base)
    there = here.at(other.base)
  }, 120_000)
  afterAll(async () => {
    for (const run of [one, other]) run.child.kill('SIGTERM')
    await Promise.all([one.ended, other.ended])
    await onServer(server ?? '', `drop database if exists ${name} with (force)`)
  })

  const pageOf = async (visitor: Visitor, address: string) => {
    const { status, text } = await visitor.get(address)
    expect(status).toBe(200)
    return text.replace(/<[^>]+>/g, ' ').replace(/\s+/g, ' ')
  }
  const read = async (visitor: Visitor, address: string) => {
    for (;;) {
      const { text } = await visitor.get(address)
      if (!text.includes('http-equiv="refresh"')) return text
      await new Promise((done) => setTimeout(done, 50))
    }
  }

  it('a person who signed up at one comes in at the other, and out of both', async () => {
    await pageOf(there, group)
    const again = new Visitor(other.base)
    expect(await again.signIn(email)).toBe(303)
    await pageOf(again.at(one.base), group)
    const before = again.asNow(one.base)
    await again.get(group)
    expect((await again.post('/sign-out', {})).status).toBe(303)
    // With the cookie that it had, not only without one.
    expect((await before.get(group)).status).not.toBe(200)
    await pageOf(here, group)
  })

  it('a sheet saved at one stands in the other, in its figures too, and each knows the ids of the other', async () => {
    const ground = await groundOf(there, group.slice(3))
    const compare = async (visitor: Visitor) => pageOf(visitor, `${group}/compare.json?season=all`)
    const before = [await compare(here), await compare(there)]
    expect(before[0]).toBe(before[1])
    const { week, fields } = sheetOf(1, ground)
    const send = async (visitor: Visitor) => {
      const { status, said } = await visitor.send<{ stored: string[] }>(`${group}/weeks/${week}`, fields)
      return [status, said?.stored.length]
    }
    expect(await send(here)).toEqual([200, perSheet])
    const after = [await compare(there), await compare(here)]
    expect(after[0]).not.toBe(before[0])
    expect(after[0]).toBe(after[1])
    // Sent again, since its answer was lost say: nothing is stored twice.
    expect(await send(there)).toEqual([200, perSheet])
    expect(await compare(there)).toBe(after[0])
  })

  it('a file of rows sent to one is confirmed at the other and told by both', async () => {
    const { day } = await groundOf(here, group.slice(3))
    const rows = Array.from({ length: 900 }, (_, i) => `${day},Garden ${1 + (i % 5)},carrot,${i + 1} g\n`)
    const file = new Blob([`day,garden,crop,weight\n${rows.join('')}`])
    const sent = await here.upload(`${group}/exchange/rows`, { kind: 'harvests' }, file)
    expect(sent.status).toBe(303)
    const address = sent.headers.get('location') ?? ''
    expect(await read(there, address)).toContain('900 rows to be stored')
    const both = await Promise.all([here, there].map((visitor) => visitor.post(`${address}/confirm`, {})))
    expect(both.map(({ status }) => status)).toEqual([303, 303])
    expect(await read(there, address)).toContain('Stored: 900 rows')
    expect(await read(here, address)).toContain('Stored: 900 rows')
  })

  it('what was written at one is in the export of the other, and a notice follows to it', async () => {
    const saved = await here.post(`${group}/gardens/methods`, { id: newId(), name: 'Sown under straw' })
    expect(saved.status).toBe(303)
    const address = saved.headers.get('location') ?? ''
    expect(await pageOf(there, address)).toContain('Sown under straw is saved')
    const { status, headers } = await there.get(`${group}/exchange/export.zip`)
    expect([status, headers.get('content-type')]).toEqual([200, 'application/zip'])
  })

  it('tries are counted over both', async () => {
    const tried = [new Visitor(one.base), new Visitor(other.base)]
    const wrong = { email: `marsh-${newId()}@example.org`, password: 'not the one at all' }
    for (const visitor of tried) await visitor.get('/sign-in')
    const statuses: number[] = []
    for (let i = 0; i < 12; i++) statuses.push((await tried[i % 2]?.post('/sign-in', wrong))?.status ?? 0)
    expect(statuses.slice(0, 10)).toEqual(Array(10).fill(422))
    expect(statuses.slice(10)).toEqual([429, 429])
  })

  it('the example that is asked for at both at once is made once', async () => {
    const guests = [new Visitor(one.base), new Visitor(other.base)]
    for (const guest of guests) await guest.get('/')
    const made = await Promise.all(guests.map((guest) => guest.post('/demo', {})))
    expect(made.map(({ status }) => status)).toEqual([303, 303])
    expect(made[0]?.headers.get('location')).toBe(made[1]?.headers.get('location'))
  }, 60_000)
})
