/**
 * Starts services behind pgbouncer in transaction mode: `npx tsx test/process/behind-a-pooler.ts`. Two start at once on an
 * empty database, and one person sends a sheet and a file of rows to both; then one holds the lock of a start and is killed
 * (kill -9), and another one starts. Ends with 1 where a start does not come to an end, what was written is not there, or a
 * lock stays behind. It needs Debian's pgbouncer and starts a PostgreSQL of its own.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { ownPostgres } from './postgres.ts'
import { freePort, type Run, start } from './service.ts'
import { groundOf, setUp, sheetOf, weightsOfSheet } from './sheets.ts'
import { Visitor } from './visitor.ts'

const database = await ownPostgres()
const folder = mkdtempSync(join(tmpdir(), 'evenground-pooler-'))
const pooler = await poolerBefore(database.port)
const wrong: string[] = []
const runs: Run[] = []
const begin = async () => {
  const data = mkdtempSync(join(folder, 'data-'))
  const run = await start({ EVENGROUND_DATA: data, DATABASE_URL: pooler.url })
  runs.push(run)
  return run
}
try {
  const [first, second] = [await begin(), await begin()]
  await Promise.all([first.said(/ready/), second.said(/ready/)])
  console.log(
    `two starts at once on an empty database: both ready; waited in words: ${waited(first) || waited(second)}`,
  )
  const visitor = new Visitor(first.base)
  const answer = await visitor.signUp('rook@example.org')
  const seen = (await visitor.get('/groups/new')).status
  console.log(`sign-up through the pooler: ${answer}, next page: ${seen}, locks left: ${await locks()}`)
  if (answer !== 303 || seen !== 200) wrong.push('nothing can be written behind the pooler')
  if ((await locks()) !== 0) wrong.push('a lock stayed behind after two starts')
  await writtenAtBoth(first, second)
  await killedWhileItWaits()
} finally {
  for (const run of runs) run.child.kill('SIGKILL')
  pooler.child.kill('SIGTERM')
  database.remove()
  rmSync(folder, { recursive: true, force: true })
}
for (const line of wrong) console.error(line)
process.exit(wrong.length > 0 ? 1 : 0)

/** A sheet goes to one and again to the other, a file of rows to one, and is confirmed at both. */
async function writtenAtBoth(first: Run, second: Run): Promise<void> {
  const { slug, devices } = await setUp(first)
  const [here] = devices
  if (!here) throw new Error('There is nobody who writes')
  const there = here.at(second.base)
  const ground = await groundOf(here, slug)
  const { week, fields } = sheetOf(1, ground)
  const sheets = [here, there].map((visitor) => visitor.send(`/g/${slug}/weeks/${week}`, fields))
  const answers = (await Promise.all(sheets)).map(({ status }) => status)
  const rows = Array.from({ length: 500 }, (_, i) => `${ground.day},Garden 1,carrot,${10_000 + i} g\n`)
  const file = new Blob([`day,garden,crop,weight\n${rows.join('')}`])
  const sent = await here.upload(`/g/${slug}/exchange/rows`, { kind: 'harvests' }, file)
  const address = sent.headers.get('location') ?? ''
  const done = async () => {
    while ((await there.get(address)).text.includes('http-equiv="refresh"'))
      await new Promise((resolve) => setTimeout(resolve, 100))
  }
  await done()
  await Promise.all([here, there].map((visitor) => visitor.post(`${address}/confirm`, {})))
  await done()
  const stored = await counted('select count(*)::int as count from harvests')
  console.log(
    `a sheet sent to both: ${answers.join(', ')}; it and a file of ${rows.length} rows: ${stored} weights stand`,
  )
  if (answers.some((status) => status !== 200)) wrong.push('a sheet was not taken')
  if (stored !== rows.length + weightsOfSheet) wrong.push('not every weight stands once')
}

/** One start holds the lock, a second waits for it and is killed, the first is let go: a third comes through. */
async function killedWhileItWaits(): Promise<void> {
  const holder = new pg.Client({ connectionString: database.url })
  await holder.connect()
  await holder.query('begin')
  await holder.query('select pg_advisory_xact_lock(720616284)')
  const waiting = await begin()
  await waiting.said(/Waiting for another start/)
  waiting.child.kill('SIGKILL')
  await waiting.ended
  const third = await begin()
  await third.said(/Waiting for another start/)
  const since = performance.now()
  await holder.query('commit')
  await holder.end()
  await third.said(/ready/)
  const took = Math.round(performance.now() - since)
  console.log(`a start killed while it waited, then one more: ready ${took} ms after the lock was free`)
  await new Promise((resolve) => setTimeout(resolve, 1000))
  const left = await locks()
  console.log(`locks of a start left at the end: ${left}`)
  if (left !== 0) wrong.push('a lock stayed behind after a start that was killed')
}

function waited(run: Run): boolean {
  return /Waiting for another start/.test(run.output())
}

function locks(): Promise<number> {
  return counted("select count(*)::int as count from pg_locks where locktype = 'advisory' and objid = 720616284")
}

async function counted(statement: string): Promise<number> {
  const client = new pg.Client({ connectionString: database.url })
  await client.connect()
  const found = await client.query<{ count: number }>(statement)
  await client.end()
  return found.rows[0]?.count ?? -1
}

async function poolerBefore(serverPort: number): Promise<{ readonly url: string; readonly child: ChildProcess }> {
  const port = await freePort()
  const settings = join(folder, 'pgbouncer.ini')
  const users = join(folder, 'users.txt')
  writeFileSync(users, '"evenground" ""\n')
  writeFileSync(
    settings,
    ['[databases]', `evenground = host=127.0.0.1 port=${serverPort}`, '[pgbouncer]', 'pool_mode = transaction']
      .concat('listen_addr = 127.0.0.1', `listen_port = ${port}`, 'auth_type = trust', `auth_file = ${users}`)
      .concat('unix_socket_dir =', 'default_pool_size = 5', 'ignore_startup_parameters = extra_float_digits', '')
      .join('\n'),
  )
  chmodSync(folder, 0o755)
  // It refuses to be run by root: then it is run as "nobody".
  const id = (flag: string) => Number(spawnSync('id', [flag, 'nobody']).stdout.toString())
  const as = process.getuid?.() === 0 ? { uid: id('-u'), gid: id('-g') } : {}
  const child = spawn(process.env.PGBOUNCER ?? '/usr/sbin/pgbouncer', [settings], { ...as, stdio: 'ignore' })
  const url = `postgres://evenground@127.0.0.1:${port}/evenground`
  for (let tries = 1; ; tries++) {
    const client = new pg.Client({ connectionString: url })
    try {
      await client.connect()
      await client.end()
      return { url, child }
    } catch (error) {
      if (tries === 40) throw error
      await new Promise((resolve) => setTimeout(resolve, 250))
    }
  }
}
