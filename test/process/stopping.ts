/**
 * Stops a service that others hold on to: `npx tsx test/process/stopping.ts`. One sends half a head, one half a body, one a
 * body letter by letter, and some whole requests are on their way. On the built-in database and on a PostgreSQL of its own. Ends
 * with 1 where the service did not end within 10 s with 0, or left a whole request without an answer.
 */
import { mkdtempSync, rmSync } from 'node:fs'
import { connect } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { ownPostgres } from './postgres.ts'
import { start } from './service.ts'
import { Visitor } from './visitor.ts'

let right = await stops('the built-in database', {})
const server = await ownPostgres()
try {
  right = (await stops('a PostgreSQL server', { DATABASE_URL: server.url })) && right
} finally {
  server.remove()
}
process.exit(right ? 0 : 1)

async function stops(engine: string, set: Record<string, string>): Promise<boolean> {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-stopping-'))
  const run = await start({ EVENGROUND_DATA: folder, ...set })
  try {
    await run.said(/ready/)
    const port = Number(new URL(run.base).port)
    const form = 'POST /sign-in HTTP/1.1\r\nHost: here\r\nContent-Type: application/x-www-form-urlencoded\r\n'
    const halves = [
      'GET / HTTP/1.1\r\nX-',
      `${form}Content-Length: 99\r\n\r\nemail=a`,
      `${form}Content-Length: 999999\r\n\r\n`,
    ]
    for (const [i, half] of halves.entries()) {
      const socket = connect(port, '127.0.0.1', () => socket.write(half))
      socket.on('error', () => undefined)
      const more = setInterval(() => i === 2 && socket.write('a'), 100)
      socket.on('close', () => clearInterval(more))
    }
    const visitors = Array.from({ length: 4 }, () => new Visitor(run.base))
    for (const visitor of visitors) await visitor.get('/sign-up')
    const whole = visitors.map((visitor, i) =>
      visitor.post('/sign-up', { name: 'Ada Rook', email: `ada-${i}@example.org`, password: 'long enough to keep' }),
    )
    await new Promise((resolve) => setTimeout(resolve, 200))
    const asked = performance.now()
    run.child.kill('SIGTERM')
    const late = setTimeout(() => run.child.kill('SIGKILL'), 20_000)
    const ended = await run.ended
    clearTimeout(late)
    const took = performance.now() - asked
    const statuses = (await Promise.all(whole)).map((answer) => answer.status)
    console.log(
      `${engine}: ended with ${ended} after ${Math.round(took)} ms; whole requests were answered by ${statuses.join(', ')}`,
    )
    return ended === 0 && took < 10_000 && statuses.every((status) => status === 303)
  } finally {
    run.child.kill('SIGKILL')
    rmSync(folder, { recursive: true, force: true })
  }
}
