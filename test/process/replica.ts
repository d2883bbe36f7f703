/**
 * A service that reads from a replica: `npm run test:replica`, or `npx tsx test/process/replica.ts [rounds, 40]`. It starts
 * a PostgreSQL of its own and a standby that streams from it, a service with DATABASE_READ_URL and, beside it, one that
 * reads the primary alone: what the first says must be what the second says, to the byte. Tried in step, held back, held
 * and let go while somebody writes, stuck, stopped, promoted beside its primary, and promoted in its place. Ends with 1
 * where something is wrong.
 */
import assert from 'node:assert/strict'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import pg from 'pg'
import { newId } from '../../src/db/new-id.ts'
import { copyOfExample, type Example, sharedReport, sheetFields } from './example.ts'
import { type OwnPostgres, ownPostgres, standbyOf } from './postgres.ts'
import { freePort, type Run, start } from './service.ts'
import type { Visitor } from './visitor.ts'

const rounds = Number(process.argv[2] ?? 40)
const everyStatement = '-c log_statement=all'
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const from = ['replica', 'primary: behind', 'primary: no answer'] as const
type Reads = Record<(typeof from)[number], number>

const primary = await ownPostgres(tmpdir(), everyStatement)
const standby = await standbyOf(primary, everyStatement)
const servers: OwnPostgres[] = [primary, standby]
const folder = mkdtempSync(join(tmpdir(), 'evenground-replica-'))
const metricsPort = await freePort()
const runs: Run[] = []
let n = 0
try {
  const near = await begun(primary.url, {
    DATABASE_READ_URL: standby.url,
    EVENGROUND_METRICS_PORT: String(metricsPort),
  })
  const plain = await begun(primary.url)
  const scene = await sceneAt(near, plain)
  await inStepReadsIt(scene)
  await heldBack(scene)
  await heldAndLetGo(scene)
  await stuck(scene)
  await stopped(scene, near)
  await promotedBeside(scene)
  await promotedInItsPlace(scene)
} finally {
  for (const run of runs) run.child.kill('SIGKILL')
  for (const server of servers) server.remove()
  rmSync(folder, { recursive: true, force: true })
}
console.log('nothing was older than what is written')
process.exit(0)

interface Scene {
  readonly example: Example
  /** The same person at the service that reads the primary alone. */
  readonly plain: Visitor
  readonly base: string
  readonly link: string
  readonly live: string
  /** Addresses whose answers are the same, to the byte, for the same record. */
  readonly files: readonly string[]
  readonly pages: readonly string[]
}

async function sceneAt(near: Run, plain: Run): Promise<Scene> {
  const example = await copyOfExample(near.base)
  const base = `/g/${example.slug}`
  const [link, live] = [await sharedReport(example), await liveReport(example)]
  const method = /method=([\w-]{36})/.exec((await example.visitor.get(`${base}/compare`)).text)?.[1]
  const rows = `${base}/compare/rows`
  return {
    ...{ example, plain: example.visitor.at(plain.base), base, link, live },
    files: [
      ...[`${base}/compare.json?season=all`, `${base}/compare.csv?table=methods&season=all`],
      ...[`${rows}.json?season=all&method=${method}`, `${rows}.csv?season=all&table=weighings&method=${method}`],
      ...[`${base}/reports/${live}.json`, `${base}/reports/${live}.csv`, `${link}.json`],
    ],
    pages: [`${base}/compare`, `${base}/compare/why`, `${rows}?method=${method}`, `${base}/reports/${live}`, link],
  }
}

/** Everything is read from the replica, proved by what the two servers were asked and by what the service counts. */
async function inStepReadsIt(scene: Scene): Promise<void> {
  await write(scene)
  await inStep()
  const [asked, read, began] = [weightsAsked(primary), weightsAsked(standby), await reads()]
  for (const address of [...scene.pages, ...scene.files]) await answered(scene.example.visitor, address)
  const [askedNow, readNow] = [weightsAsked(primary), weightsAsked(standby)]
  assert.equal(askedNow, asked, 'the primary was asked for weights')
  assert.ok(readNow > read, 'the standby was not asked for weights')
  const counted = since(began, await reads())
  assert.deepEqual([counted['primary: behind'], counted['primary: no answer']], [0, 0])
  await all(scene)
  say('in step', counted, `${readNow - read} statements over weights at the standby, none at the primary`)
}

async function heldBack(scene: Scene): Promise<void> {
  await ask(standby, 'select pg_wal_replay_pause()')
  const [old, began] = [await compared(scene), await reads()]
  await write(scene)
  assert.notEqual(await compared(scene), old, 'what was written is not in Compare')
  await all(scene)
  const rows = 'select count(*)::int as found from harvests'
  assert.notEqual(await ask(primary, rows), await ask(standby, rows), 'the standby was not held back')
  await shut(scene)
  const counted = since(began, await reads())
  assert.ok(counted['primary: behind'] > 0)
  await ask(standby, 'select pg_wal_replay_resume()')
  await inStep()
  say('held back', counted, 'what was written is in Compare and in the live report at once, a revoked link is shut')
}

/** A link that is revoked while the standby still holds it as open. */
async function shut({ example, base, live }: Scene): Promise<void> {
  const { visitor } = example
  await visitor.get(`${base}/reports/${live}`)
  const made = await visitor.post(`${base}/reports/${live}/links`, { endsOn: '', passphrase: '' })
  const token = /\/r\/[\w-]+/.exec(made.text)?.[0] ?? ''
  await ask(standby, 'select pg_wal_replay_resume()')
  await inStep()
  await answered(visitor, `${token}.json`)
  await ask(standby, 'select pg_wal_replay_pause()')
  const ending = /reports\/[\w-]{36}\/links\/[\w-]{36}\/revoke/.exec(
    (await visitor.get(`${base}/reports/${live}`)).text,
  )
  assert.equal((await visitor.post(`${base}/${ending?.[0]}`, {})).status, 303)
  const open = 'select count(*)::int as found from share_links where revoked_at is not null'
  assert.deepEqual([await ask(primary, open), await ask(standby, open)], [1, 0])
  for (const address of [token, `${token}.json`, `${token}.csv`])
    assert.equal((await visitor.get(address)).status, 404, 'a revoked link opens')
}

async function heldAndLetGo(scene: Scene): Promise<void> {
  const began = await reads()
  let goes = true
  const toggling = (async () => {
    for (let i = 0; goes; i++) {
      await ask(standby, `select pg_wal_replay_${i % 2 === 0 ? 'pause' : 'resume'}()`)
      await wait(150)
    }
    await ask(standby, 'select pg_wal_replay_resume()')
  })()
  for (let i = 0; i < rounds; i++) {
    await write(scene)
    await compared(scene)
    await same(scene, `${scene.base}/reports/${scene.live}.json`)
    await same(scene, scene.files[2] ?? '')
  }
  goes = false
  await toggling
  await inStep()
  const counted = since(began, await reads())
  assert.ok(counted.replica > 0 && counted['primary: behind'] > 0)
  say(`${rounds} sheets, each read at once while the standby is held and let go`, counted, 'no older figure')
}

async function stuck(scene: Scene): Promise<void> {
  const began = await reads()
  const pids = (await ask(standby, 'select array_agg(pid) as found from pg_stat_activity')) as number[]
  for (const pid of pids) stopProcess(pid, 'SIGSTOP')
  await write(scene)
  await all(scene)
  for (const pid of pids) stopProcess(pid, 'SIGCONT')
  const counted = since(began, await reads())
  assert.ok(counted['primary: no answer'] > 0)
  say('the standby stuck', counted, 'every page came')
  await answersAgain(scene)
}

function stopProcess(pid: number, signal: 'SIGSTOP' | 'SIGCONT'): void {
  try {
    process.kill(pid, signal)
  } catch {
    // It had ended by itself.
  }
}

async function stopped(scene: Scene, near: Run): Promise<void> {
  const began = await reads()
  standby.stop('immediate')
  await write(scene)
  await all(scene)
  say('the standby stopped', since(began, await reads()), 'every page came')
  const told = near.output().match(/"the replica does not answer/g)
  assert.equal(told?.length, 2, 'it is said once each time that the replica does not answer')
  standby.start()
  await answersAgain(scene)
}

/** Two records with counts that go on alike: the one that was promoted is no replica any more. */
async function promotedBeside(scene: Scene): Promise<void> {
  await inStep()
  const last = await compared(scene)
  standby.promote()
  const elsewhere = scene.example.visitor.at((await begun(standby.url)).base)
  assert.equal(await answered(elsewhere, scene.files[0] ?? ''), last)
  await write(scene)
  await write(scene, elsewhere)
  const began = await reads()
  assert.notEqual(await answered(elsewhere, scene.files[0] ?? ''), await compared(scene))
  await all(scene)
  const counted = since(began, await reads())
  assert.equal(counted.replica, 0)
  say('promoted beside its primary, one sheet at each', counted, 'the primary answers')
}

async function promotedInItsPlace(scene: Scene): Promise<void> {
  const second = await standbyOf(primary)
  servers.push(second)
  for (let i = 0; i < 20; i++) await write(scene)
  const [last, rows] = [await compared(scene), 'select count(*)::int as found from harvests']
  const written = await ask(primary, rows)
  await inStep(second)
  primary.kill()
  second.promote()
  const set = { DATABASE_READ_URL: primary.url }
  const next = await begun(second.url, set)
  const visitor = scene.example.visitor.at(next.base)
  assert.equal(await answered(visitor, scene.files[0] ?? ''), last)
  assert.equal(await ask(second, rows), written)
  for (const address of [...scene.pages, ...scene.files]) await answered(visitor, address)
  await write(scene, visitor)
  assert.notEqual(await answered(visitor, scene.files[0] ?? ''), last)
  console.log(
    `the primary killed and a standby promoted in its place: all ${written} weights are there, and one more was written`,
  )
}

async function begun(url: string, more: Record<string, string> = {}): Promise<Run> {
  const run = await start({ EVENGROUND_DATA: folder, DATABASE_URL: url, ...more })
  runs.push(run)
  await run.said(/is ready/)
  return run
}

async function liveReport({ visitor, slug }: Example): Promise<string> {
  const id = newId()
  const fields = {
    id,
    title: 'As it stands',
    words: '',
    season: 'all',
    keeps: 'live',
    step: 'finish',
    rowsAgreed: 'yes',
  }
  await visitor.get(`/g/${slug}/reports`)
  const { status } = await visitor.post(`/g/${slug}/reports`, { ...fields, 'sections[0]': 'gardens' })
  assert.equal(status, 303)
  return id
}

async function answered(visitor: Visitor, address: string): Promise<string> {
  const { status, text } = await visitor.get(address)
  assert.equal(status, 200, `${address} is answered by ${status}`)
  return text
}

async function same({ example, plain }: Scene, address: string): Promise<string> {
  const said = await answered(example.visitor, address)
  assert.equal(said, await answered(plain, address), `${address} is not what the primary says`)
  return said
}

function compared(scene: Scene): Promise<string> {
  return same(scene, scene.files[0] ?? '')
}

async function all(scene: Scene): Promise<void> {
  for (const page of scene.pages) await answered(scene.example.visitor, page)
  for (const file of scene.files) await same(scene, file)
}

async function write({ example, base }: Scene, visitor = example.visitor): Promise<void> {
  n += 1
  const { fields, cells } = sheetFields(example, n)
  const { status, said } = await visitor.send<{ stored: string[] }>(`${base}/weeks/${example.week}`, fields)
  assert.deepEqual([status, said?.stored.length], [200, cells])
}

/** Once what the primary has written down is replayed. */
async function inStep(replica: OwnPostgres = standby): Promise<void> {
  const at = String(await ask(primary, 'select pg_current_wal_lsn()::text as found'))
  for (let tries = 0; tries < 600; tries++) {
    if (await ask(replica, `select pg_last_wal_replay_lsn() >= '${at}'::pg_lsn as found`)) return
    await wait(100)
  }
  throw new Error('The standby never came up to its primary')
}

/** After the rest that it is given. */
async function answersAgain(scene: Scene): Promise<void> {
  await inStep()
  const began = await reads()
  for (let tries = 0; tries < 120; tries++) {
    await compared(scene)
    if (since(began, await reads()).replica > 0) return
    await wait(500)
  }
  throw new Error('The standby is not read again')
}

async function ask(server: OwnPostgres, statement: string): Promise<unknown> {
  const client = new pg.Client({ connectionString: server.url })
  await client.connect()
  const { rows } = await client.query<{ found: unknown }>(statement)
  await client.end()
  return rows[0]?.found
}

/** How many statements over weights a server was asked. */
function weightsAsked(server: OwnPostgres): number {
  return server.log().split('from "harvests"').length - 1
}

async function reads(): Promise<Reads> {
  const text = await (await fetch(`http://127.0.0.1:${metricsPort}/metrics`)).text()
  const count = (one: string) =>
    Number(new RegExp(`evenground_reads_for_replica_total\\{from="${one}"\\} (\\d+)`).exec(text)?.[1] ?? 0)
  return Object.fromEntries(from.map((one) => [one, count(one)])) as Reads
}

function since(before: Reads, now: Reads): Reads {
  return Object.fromEntries(from.map((one) => [one, now[one] - before[one]])) as Reads
}

function say(what: string, counted: Reads, more: string): void {
  console.log(`${what}: ${from.map((one) => `${one} x ${counted[one]}`).join(', ')}; ${more}`)
}
