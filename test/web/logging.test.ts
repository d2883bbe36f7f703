import request from 'supertest'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { people } from '../../src/accounts/accounts.table.ts'
import { buildApp } from '../../src/app.ts'
import type { Database } from '../../src/db/database.ts'
import { newId } from '../../src/db/new-id.ts'
import { asDoor } from '../../src/db/transaction.ts'
import { proxiesIn } from '../../src/web/proxies.ts'
import { openTestDatabase } from '../support/database.ts'

let database: Database
beforeAll(async () => {
  database = await openTestDatabase()
})
afterAll(() => database.close())

async function appWith(trustProxy: 'none' | number | string[], lines: string[] = []) {
  const options = { database, root: process.cwd(), secureCookies: false, trustProxy, demo: true }
  const app = await buildApp({ ...options, logs: { write: (line: string) => lines.push(line) } })
  const person = { name: 'Ada Rook', email: 'ada@example.org', passwordHash: 'a-hash-to-keep' }
  app.get('/twice', { config: { access: 'public' } }, () =>
    asDoor(database, async (tx) => {
      for (const id of [newId(), newId()]) await tx.insert(people).values({ id, ...person })
    }),
  )
  app.get('/from', { config: { access: 'public' } }, (asked) => ({ ip: asked.ip, host: asked.host }))
  await app.ready()
  return app
}

it('a query that fails is logged by what it was, without what was in it', async () => {
  const lines: string[] = []
  const app = await appWith('none', lines)
  await request(app.server).get('/twice')
  const log = lines.join('')
  expect(log).toContain('people_email_is_taken')
  expect(log).toContain('at ')
  for (const told of ['ada@example.org', 'a-hash-to-keep', 'Ada Rook']) expect(log).not.toContain(told)
  await app.close()
})

describe('what a proxy says of those behind it', () => {
  const said = { 'x-forwarded-for': '198.51.100.7', 'x-forwarded-host': 'gardens.example' }
  it.each([
    ['none', false],
    [1, true],
    [['127.0.0.0/8', '::1', '::ffff:127.0.0.1'], true],
    [['203.0.113.9'], false],
  ] as const)('trusting %s', async (trusted, counts) => {
    const app = await appWith(typeof trusted === 'object' ? [...trusted] : trusted)
    const { ip, host } = (await request(app.server).get('/from').set(said)).body as { ip: string; host: string }
    expect([ip === '198.51.100.7', host === 'gardens.example']).toEqual([counts, counts])
    await app.close()
  })

  it('is set by a number or by addresses, and nothing else', () => {
    expect(['no', '2', '10.0.0.1, fd00::/8'].map(proxiesIn)).toEqual(['none', 2, ['10.0.0.1', 'fd00::/8']])
    expect(['yes', '0', '10.0.0.1/33', '10.0.0.1/8/8', 'proxy', '1.5', ''].filter((one) => proxiesIn(one))).toEqual([])
  })
})
