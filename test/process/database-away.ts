/**
 * Takes the database away from a service under load, in four ways: `npx tsx test/process/database-away.ts`. It starts a
 * PostgreSQL and a service of its own. Ends with 1 where the service ended, answered otherwise than by a page that says so,
 * lost what it had answered, or did not go on by itself.
 */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { ownPostgres } from './postgres.ts'
import { start } from './service.ts'
import { Visitor } from './visitor.ts'

const writers = 8
const secondsAway = Number(process.argv[2] ?? 30)
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

const database = await ownPostgres()
const folder = mkdtempSync(join(tmpdir(), 'evenground-away-'))
const run = await start({ EVENGROUND_DATA: folder, DATABASE_URL: database.url })
const wrong: string[] = []
const kept: string[] = []
const answers = new Map<string, number>()
let [going, n] = [true, 0]
try {
  await run.said(/ready/)
  const visitors = Array.from({ length: writers }, () => new Visitor(run.base))
  for (const [i, visitor] of visitors.entries()) await visitor.signUp(`writer-${i}@example.org`)
  const load = Promise.all(visitors.map(write))
  await wait(2000)
  await during('every connection terminated, five times', async () => {
    for (let i = 0; i < 5; i++) await terminateAll()
  })
  await during('the server killed (kill -9) and started again', async () => {
    database.kill()
    await wait(1500)
    database.start()
  })
  await during('an immediate stop and a start', async () => {
    database.stop('immediate')
    database.start()
  })
  await during(`${secondsAway} s without the server`, async () => {
    database.stop('immediate')
    await wait(secondsAway * 1000)
    database.start()
  })
  going = false
  await load
  const stored = await slugsStored()
  const lost = kept.filter((slug) => !stored.has(slug))
  console.log(
    `${kept.length} groups were answered as made, ${stored.size} stand, ${lost.length} of the answered are lost`,
  )
  if (lost.length > 0) wrong.push(`lost: ${lost.join(', ')}`)
  if (run.child.exitCode !== null) wrong.push(`the service ended with ${run.child.exitCode}`)
} finally {
  run.child.kill('SIGKILL')
  database.remove()
  rmSync(folder, { recursive: true, force: true })
}
for (const line of wrong) console.error(line)
process.exit(wrong.length > 0 ? 1 : 0)

/** Makes groups one after another and reads their pages: what is answered by 303 has to stand at the end. */
async function write(visitor: Visitor): Promise<void> {
  while (going) {
    const made = await visitor.post('/groups', {
      ...{ name: `Load ${++n}`, currency: 'EUR', timeZone: 'Europe/Vienna', locale: 'en-GB' },
      ...{ weightUnit: 'kg', areaUnit: 'm2' },
    })
    count('write', made)
    const slug = made.headers.get('location')?.split('/')[2]
    if (made.status === 303 && slug) {
      kept.push(slug)
      count('read', await visitor.get(`/g/${slug}`))
    } else await wait(50)
  }
}

function count(what: string, { status, headers, text }: { status: number; headers: Headers; text: string }): void {
  answers.set(`${what} ${status}`, (answers.get(`${what} ${status}`) ?? 0) + 1)
  if (status === 303 || status === 200) return
  const says = status === 503 && headers.has('retry-after') && text.includes('The database does not answer')
  if (!says) wrong.push(`${what}: ${status} ${text.slice(0, 200)}`)
}

async function during(what: string, fault: () => Promise<void>): Promise<void> {
  answers.clear()
  await fault()
  const back = performance.now()
  const before = kept.length
  for (let i = 0; i < 200 && kept.length < before + writers; i++) await wait(50)
  const took = Math.round(performance.now() - back)
  if (kept.length < before + writers) wrong.push(`${what}: nothing was written within 10 s`)
  console.log(
    `${what}: ${[...answers].map(([name, times]) => `${name} x ${times}`).join(', ')}; again after ${took} ms`,
  )
}

async function terminateAll(): Promise<void> {
  const client = new pg.Client({ connectionString: database.url })
  await client.connect()
  await client.query('select pg_terminate_backend(pid) from pg_stat_activity where pid <> pg_backend_pid()')
  await client.end()
  await wait(300)
}

async function slugsStored(): Promise<Set<string>> {
  const client = new pg.Client({ connectionString: database.url })
  await client.connect()
  const found = await client.query<{ slug: string }>('select slug from groups')
  await client.end()
  return new Set(found.rows.map((row) => row.slug))
}
