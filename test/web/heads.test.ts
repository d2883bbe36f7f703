import { request as ask } from 'node:http'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { setUpTrial, type Trial } from '../support/trial.ts'

let place: Place
let trial: Trial
beforeAll(async () => {
  place = await openPlace()
  trial = await setUpTrial(place)
})
afterAll(() => place.close())

interface Sent {
  readonly status: number | undefined
  readonly headers: Record<string, unknown>
  readonly bytes: number
}

function sent(client: Client, path: string, method: 'GET' | 'HEAD'): Promise<Sent> {
  const { port } = place.app.server.address() as { port: number }
  const headers = { cookie: client.cookieHeader().join('; '), 'x-forwarded-for': client.forwardedFor }
  return new Promise((resolve, reject) => {
    ask({ host: '127.0.0.1', port, path, method, headers }, (answer) => {
      let bytes = 0
      answer.on('data', (chunk: Buffer) => {
        bytes += chunk.length
      })
      answer.on('end', () => resolve({ status: answer.statusCode, headers: answer.headers, bytes }))
    })
      .on('error', reject)
      .end()
  })
}

/** What another moment or another form says otherwise. */
const lasting = ({ date: _moment, 'set-cookie': _own, ...headers }: Record<string, unknown>) => headers

describe('the head alone (RFC 9110, 9.3.2) is that of the whole answer, without its body', () => {
  it.each([
    ['a page that is kept', () => trial.base],
    ['the same again', () => trial.base],
    ['a page', () => `${trial.base}/inputs`],
    ['figures', () => `${trial.base}/compare.json`],
    ['a table', () => `${trial.base}/compare.csv`],
    ['the page of signing in', () => '/sign-in'],
    ['whether the service is ready', () => '/ready'],
    ['what is not there', () => `${trial.base}/seasons/${newId()}`],
  ])('of %s', async (_what, path) => {
    const [whole, head] = [await sent(trial.keeper, path(), 'GET'), await sent(trial.keeper, path(), 'HEAD')]
    expect(head.status).toBe(whole.status)
    expect(lasting(head.headers)).toEqual(lasting(whole.headers))
    expect(head.headers['content-length']).toBe(String(whole.bytes))
    expect(whole.bytes).toBeGreaterThan(0)
    expect(head.bytes).toBe(0)
  })

  it('a guest is led to sign in, as for the whole', async () => {
    const guest = place.guest()
    const [whole, head] = [await sent(guest, trial.base, 'GET'), await sent(guest, trial.base, 'HEAD')]
    expect([whole.status, head.status]).toEqual([303, 303])
    expect(head.headers.location).toBe(whole.headers.location)
  })

  it('an export is not made for it', async () => {
    expect((await sent(trial.keeper, `${trial.base}/exchange/export.zip`, 'HEAD')).status).toBe(404)
  })
})
