/**
 * 200 readers who ask for large pages and never read them: `npx tsx test/process/not-reading.ts`. On the built-in database and on
 * a PostgreSQL of its own. Says what the process holds before, while and after, and how others are answered meanwhile. Ends with 1
 * where others are not answered as they should be, or where the process holds more than `mostMb` above what it held before.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { connect, type Socket } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { copyOfExample, sharedReport } from './example.ts'
import { ownPostgres } from './postgres.ts'
import { type Run, start } from './service.ts'
import { Visitor } from './visitor.ts'

const readers = 200
const mostMb = 400
const others = 40
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const wrong: string[] = []

for (const engine of ['the built-in database', 'a PostgreSQL server']) await besideReaders(engine)
for (const line of wrong) console.error(line)
process.exit(wrong.length > 0 ? 1 : 0)

async function besideReaders(engine: string): Promise<void> {
  const server = engine === 'a PostgreSQL server' ? await ownPostgres() : null
  const folder = mkdtempSync(join(tmpdir(), 'evenground-not-reading-'))
  const run = await start({ EVENGROUND_DATA: folder, ...(server && { DATABASE_URL: server.url }) })
  const deaf: Socket[] = []
  try {
    await run.said(/is ready/)
    const example = await copyOfExample(run.base)
    const { visitor, slug, week } = example
    const report = await sharedReport(example)
    // Each asked for once, so that what is kept of the record is there before it is measured.
    const addresses = [
      `/g/${slug}/weeks/${week}?rows=all`,
      `/g/${slug}/compare.json?season=all`,
      `/g/${slug}/compare`,
      report,
      `/g/${slug}/exchange/export.zip`,
    ]
    for (const address of addresses) await visitor.get(address)
    const alone = await asOthers(engine, run, example.slug, visitor)
    const before = residentOf(run)
    for (let i = 0; i < readers; i++) deaf.push(deafReader(run, addresses[i % addresses.length] ?? '', visitor))
    let most = 0
    const watch = setInterval(() => (most = Math.max(most, residentOf(run))), 200)
    await pause(20_000)
    const beside = await asOthers(engine, run, slug, visitor)
    clearInterval(watch)
    const held = residentOf(run)
    for (const socket of deaf) socket.destroy()
    await pause(5000)
    console.log(
      `${engine}: ${before} MB before, at most ${most} MB while ${readers} did not read, ${held} MB once all were held, ` +
        `${residentOf(run)} MB after they had gone; others in ms alone ${alone}, beside them ${beside}`,
    )
    if (most - before > mostMb) wrong.push(`${engine}: ${most - before} MB more`)
  } finally {
    for (const socket of deaf) socket.destroy()
    run.child.kill('SIGTERM')
    if ((await run.ended) !== 0) wrong.push(`${engine}: the service ended badly: ${run.output().slice(-2000)}`)
    server?.remove()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** The median ms of a page of nobody, of one of the group and of Compare, asked for again and again. */
async function asOthers(engine: string, run: Run, slug: string, visitor: Visitor): Promise<string> {
  const guest = new Visitor(run.base)
  const pages = [
    ['/sign-in', guest],
    [`/g/${slug}`, visitor],
    [`/g/${slug}/compare`, visitor],
  ] as const
  const told: string[] = []
  for (const [address, who] of pages) {
    const took: number[] = []
    for (let i = 0; i < others; i++) {
      const since = performance.now()
      const { status } = await who.get(address)
      took.push(performance.now() - since)
      if (status !== 200) wrong.push(`${engine}: ${address} was answered by ${status}`)
    }
    const sorted = took.sort((a, b) => a - b)
    told.push(`${address.replace(slug, '...')} ${Math.round(sorted[others / 2] ?? Number.NaN)}`)
  }
  return told.join(', ')
}

function deafReader(run: Run, address: string, visitor: Visitor): Socket {
  const head = `GET ${address} HTTP/1.1\r\nHost: here\r\nCookie: ${visitor.cookie}\r\n\r\n`
  const socket = connect(Number(new URL(run.base).port), '127.0.0.1', () => socket.write(head))
  socket.on('error', () => undefined)
  return socket.pause()
}

function residentOf({ child }: Run): number {
  const status = readFileSync(`/proc/${child.pid}/status`, 'utf8')
  return Math.round((Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]) * 1024) / 1e6)
}
