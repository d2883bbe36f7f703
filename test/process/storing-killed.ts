/**
 * Kills one of two processes while it reads a file of 20,000 weights, and again while it stores them:
 * `npx tsx test/process/storing-killed.ts`. It starts a PostgreSQL and the services of its own. Ends with 1 where the other
 * process does not go on with it, or where the rows do not stand once each at the end.
 */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { ownPostgres } from './postgres.ts'
import { type Run, start } from './service.ts'
import { groundOf, setUp } from './sheets.ts'
import type { Visitor } from './visitor.ts'

const rows = Number(process.argv[2] ?? 20_000)
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

const database = await ownPostgres()
const folder = mkdtempSync(join(tmpdir(), 'evenground-storing-'))
const set = { EVENGROUND_DATA: folder, DATABASE_URL: database.url }
const client = new pg.Client({ connectionString: database.url })
const runs: Run[] = []
const wrong: string[] = []
const begin = async () => {
  const run = await start(set)
  runs.push(run)
  await run.said(/ready/)
  return run
}
try {
  await client.connect()
  const [first, second] = [await begin(), await begin()]
  const { slug, devices } = await setUp(first)
  const [device] = devices
  if (!device) throw new Error('There is nobody who sends a file')
  const group = `/g/${slug}`
  const { day } = await groundOf(device, slug)
  const lines = Array.from({ length: rows }, (_, i) => `${day},Garden ${1 + (i % 5)},carrot,${i + 1} g\n`)
  const file = new Blob([`day,garden,crop,weight\n${lines.join('')}`])
  const sent = await device.upload(`${group}/exchange/rows`, { kind: 'harvests' }, file)
  const address = sent.headers.get('location') ?? ''
  await killedAt('reading', first)
  const there = device.at(second.base)
  await gone(there, address, 'reading')
  const third = await begin()
  const other = device.at(third.base)
  await there.get(address)
  const confirmed = await there.post(`${address}/confirm`, {})
  if (confirmed.status !== 303) wrong.push(`confirming was answered by ${confirmed.status}`)
  await killedAt('storing', second)
  await gone(other, address, 'storing')
  const found = await client.query<{ all: number; each: number }>(
    'select count(*)::int as all, count(distinct marketable_g)::int as each from harvests',
  )
  const { all, each } = found.rows[0] ?? { all: 0, each: 0 }
  console.log(`${rows} rows sent, ${all} stand, ${each} of them different`)
  if (all !== rows || each !== rows) wrong.push('not every row stands once')
} finally {
  for (const run of runs) run.child.kill('SIGKILL')
  await client.end()
  database.remove()
  rmSync(folder, { recursive: true, force: true })
}
for (const line of wrong) console.error(line)
process.exit(wrong.length > 0 ? 1 : 0)

/** Reading, as soon as it says how far it is; storing at once, since that is over in a second. */
async function killedAt(state: string, run: Run): Promise<void> {
  for (;;) {
    const { rows: found } = await client.query<{ state: string; lines: number }>(
      'select state, lines from waiting_files',
    )
    const [at] = found
    if (at && at.state !== state) throw new Error(`It is ${at.state} before it could be killed at ${state}`)
    if (at && (at.lines > 0 || state === 'storing')) {
      run.child.kill('SIGKILL')
      await run.ended
      console.log(`killed at ${state}, ${at.lines} of ${rows} lines on`)
      return
    }
    await wait(20)
  }
}

/** Asked every half second, as the page asks by itself. */
async function gone(visitor: Visitor, address: string, state: string): Promise<void> {
  const since = performance.now()
  for (;;) {
    const { status, text } = await visitor.get(address)
    if (status !== 200) wrong.push(`the page was answered by ${status}`)
    if (status !== 200 || !text.includes('http-equiv="refresh"')) break
    await wait(500)
  }
  const { rows: found } = await client.query<{ state: string }>('select state from waiting_files')
  const became = found[0]?.state
  console.log(`${state} was gone on with: ${became} ${Math.round((performance.now() - since) / 1000)} s after the kill`)
  if (became !== (state === 'reading' ? 'read' : 'stored')) wrong.push(`it became ${became}`)
}
