import { type AddressInfo, connect } from 'node:net'
import { afterEach, expect, it } from 'vitest'
import { buildApp } from '../../src/app.ts'
import { timeLimits, watchConnections } from '../../src/web/limits.ts'
import { openTestDatabase } from '../support/database.ts'

const closing: (() => unknown)[] = []
afterEach(async () => {
  for (const close of closing.splice(0).reverse()) await close()
})

async function listening(limits = timeLimits) {
  const database = await openTestDatabase()
  closing.push(() => database.close())
  const options = { root: process.cwd(), secureCookies: false, trustProxy: 'none', demo: true } as const
  const app = await buildApp({ ...options, database, limits })
  const letGo = watchConnections(app.server)
  await app.listen({ host: '127.0.0.1', port: 0 })
  return { app, letGo, port: (app.server.address() as AddressInfo).port }
}

/** Sends the first part at once and then a letter again and again, until the other side ends it: what it had answered. */
function trickled(port: number, first: string): Promise<string> {
  return new Promise((resolve) => {
    let answered = ''
    const socket = connect(port, '127.0.0.1', () => socket.write(first))
    const more = setInterval(() => socket.write('a'), 20)
    socket.on('data', (chunk) => (answered += String(chunk)))
    socket.on('error', () => undefined)
    socket.on('close', () => {
      clearInterval(more)
      resolve(answered)
    })
  })
}

const form = 'POST /sign-in HTTP/1.1\r\nHost: here\r\nContent-Type: application/x-www-form-urlencoded\r\n'

it('a head and a body that trickle in are broken off, however steadily', async () => {
  const { app, port } = await listening({ ...timeLimits, head: 400, body: 400 })
  closing.push(() => app.close())
  expect(await trickled(port, `${form}Content-Length: 100000\r\n\r\n`)).toContain('408 Request Timeout')
  expect(await trickled(port, 'GET /sign-in HTTP/1.1\r\nX-Slow: ')).toContain('408 Request Timeout')
})

it('a body that came while the process was held up is read and answered', async () => {
  const { app, port } = await listening({ ...timeLimits, body: 200 })
  closing.push(() => app.close())
  const answered = new Promise<string>((resolve) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(`${form}Content-Length: 7\r\n\r\n`))
    socket.on('data', (chunk) => resolve(String(chunk)))
    closing.push(() => socket.destroy())
    const holdUp = () => {
      socket.write('email=a')
      const until = Date.now() + 400
      while (Date.now() < until);
    }
    app.server.once('request', () => setTimeout(() => setImmediate(holdUp), 50))
  })
  expect(await answered).toMatch(/^HTTP\/1.1 403/)
})

it('half a request does not keep the service from closing, once it is let go of', async () => {
  const { app, letGo, port } = await listening()
  const half = [`${form}Content-Length: 1000\r\n\r\nemail=`, 'GET /sign-in HTTP/1.1\r\nX-Slow: '].map((first) =>
    trickled(port, first),
  )
  // Between two looks the service must have its turn: the count is answered before anything that is waiting.
  const connections = () => new Promise<number>((done) => app.server.getConnections((_error, n) => done(n)))
  while ((await connections()) < 2) await new Promise((done) => setTimeout(done, 10))
  const closed = app.close()
  const again = setInterval(letGo, 50)
  await closed
  clearInterval(again)
  expect(await Promise.all(half)).toEqual(['', ''])
})
