// What the pages of a group of ten years cost, each beside what it is measured against, turn about in one process on one
// PostgreSQL. npm run bench; with BENCHMARK_SERVER another server than the usual one. Writes speed.md beside this file.
import { readFileSync, writeFileSync } from 'node:fs'
import { Agent, request } from 'node:http'
import { cpus, loadavg } from 'node:os'
import pg from 'pg'
import { buildApp } from '../../src/app.ts'
import { everyWay } from '../../src/comparison/matched/every-way.ts'
import { overSeasons } from '../../src/comparison/matched/over-seasons.ts'
import { trialRecord } from '../../src/comparison/record/trial-record.queries.ts'
import { openServer } from '../../src/db/server.ts'
import { asMember } from '../../src/db/transaction.ts'
import { Client } from '../support/app.ts'
import { largeGroup, password, type Size, tenYears } from './large-group.ts'

const server = process.env.BENCHMARK_SERVER ?? 'postgres://root@127.0.0.1:5432/postgres'
const rounds = Number(process.env.BENCHMARK_ROUNDS ?? 7)
const name = `evenground_speed_${process.pid}`
const url = new URL(server)
url.pathname = `/${name}`

interface Taken {
  readonly ms: number
  /** Of this process, the database aside. */
  readonly processor: number
}

interface Line {
  readonly work: string
  readonly against: string
  readonly most: number
  readonly one: Taken
  readonly other: Taken
}

await onServer(`create database ${name}`)
const database = await openServer(url.href)
try {
  await database.migrate('migrations')
  const app = await buildApp({
    database,
    root: process.cwd(),
    secureCookies: false,
    trustProxy: ['127.0.0.1'],
    demo: true,
  })
  app.get('/g/:group/empty', { config: { access: 'reader' } }, (_request, reply) =>
    reply.page('reports/draft', { title: 'Empty', form: null }, { title: 'Empty', bare: true }),
  )
  await app.listen({ host: '127.0.0.1', port: 0 })
  const { port } = app.server.address() as { port: number }
  const group = await largeGroup(database, tenYears)
  const keeper = new Client(app)
  await keeper.post('/sign-in', { email: group.email, password })
  const guest = new Client(app)
  await guest.post('/sign-up', { name: 'Bo Fen', email: 'bo@example.org', password })
  const example = (await guest.post('/demo/copy')).location
  const agent = new Agent({ keepAlive: true })
  const page = (who: Client, path: string) => () => opened(port, agent, path, who.cookieHeader().join('; '))
  const fresh = (work: () => Promise<unknown>) => async () => {
    await database.drizzle.execute('update group_counters set changes = changes + 1')
    return work()
  }
  const bare = await bareSums(group.groupId)
  const base = `/g/${group.slug}`
  const record = () =>
    asMember(database, { personId: group.personId, groupId: group.groupId, readOnly: true }, (tx) =>
      trialRecord(tx, group.groupId, 'sums'),
    )
  const empty = page(keeper, `${base}/empty`)
  const compare = page(keeper, `${base}/compare?season=all`)
  const garden = (await keeper.get(`${base}/gardens`)).text.match(/\/gardens\/[0-9a-f-]{36}/)?.[0] ?? ''
  const season = (await keeper.get(`${base}/seasons`)).text.match(/\/seasons\/[0-9a-f-]{36}/)?.[0] ?? ''
  const lines: Line[] = []
  const beside = async (
    work: string,
    against: string,
    most: number,
    one: () => Promise<unknown>,
    other: () => Promise<unknown>,
  ) => {
    const line = { work, against, most, ...(await turnAbout(one, other)) }
    lines.push(line)
    process.stdout.write(`${row(line)}\n`)
  }
  await beside('the record read, ten years', 'bare SQL sums', 1.5, record, bare.run)
  await beside('Compare, nothing kept, ten years', 'bare SQL sums', 6, fresh(compare), bare.run)
  await beside(
    '`compare.json`, nothing kept, ten years',
    'bare SQL sums',
    6,
    fresh(page(keeper, `${base}/compare.json?season=all`)),
    bare.run,
  )
  await beside(
    'Compare of the example, nothing kept',
    'an empty page',
    6,
    fresh(page(guest, `${example}/compare?season=all`)),
    page(guest, `${example}/empty`),
  )
  await beside('Compare again, nothing changed', 'an empty page', 2, compare, empty)
  const read = await record()
  const seasonIds = read.seasons.map((one) => one.id)
  const [methodA = '', methodB = ''] = read.methods.map((one) => one.id)
  // Another object each time: what was reckoned of the one before is kept with it.
  const counted = (work: typeof everyWay | typeof overSeasons) => async () =>
    void work({ ...read, plantings: [...read.plantings], assignments: [...read.assignments] }, seasonIds, {
      methodA,
      methodB,
    })
  await beside('all ways of counting', 'one way', 3, counted(everyWay), counted(overSeasons))
  await beside('Week', 'an empty page', 4, page(keeper, `${base}/weeks/2025-W30`), empty)
  await beside('Home', 'an empty page', 3, page(keeper, base), empty)
  await beside('Season', 'an empty page', 4, page(keeper, `${base}${season}`), empty)
  await beside("a garden's year", 'an empty page', 5, page(keeper, `${base}${garden}`), empty)
  await bare.close()
  await app.close()
  write(lines, await growth())
} finally {
  await database.close()
  await onServer(`drop database ${name} with (force)`)
}

/** Medians of both, taken turn about; a first turn of each is not counted. */
async function turnAbout(one: () => Promise<unknown>, other: () => Promise<unknown>) {
  const taken: { one: Taken[]; other: Taken[] } = { one: [], other: [] }
  for (let round = 0; round <= rounds; round++) {
    for (const [key, work] of [
      ['one', one],
      ['other', other],
    ] as const) {
      const found = await timed(work)
      if (round > 0) taken[key].push(found)
    }
  }
  return { one: middle(taken.one), other: middle(taken.other) }
}

async function timed(work: () => Promise<unknown>): Promise<Taken> {
  global.gc?.()
  const [before, from] = [process.cpuUsage(), performance.now()]
  await work()
  const ms = performance.now() - from
  const { user, system } = process.cpuUsage(before)
  return { ms, processor: (user + system) / 1000 }
}

function middle(taken: readonly Taken[]): Taken {
  const of = (key: keyof Taken) => taken.map((one) => one[key]).sort((a, b) => a - b)[Math.floor(taken.length / 2)] ?? 0
  return { ms: of('ms'), processor: of('processor') }
}

function opened(port: number, agent: Agent, path: string, cookie: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const asked = request(
      { host: '127.0.0.1', port, path, agent, headers: { cookie, 'x-forwarded-for': '10.9.9.9' } },
      (answer) => {
        if (answer.statusCode !== 200) reject(new Error(`${path}: ${answer.statusCode}`))
        answer.on('data', () => undefined).on('end', resolve)
      },
    )
    asked.on('error', reject).end()
  })
}

/** The kept file of sums through the driver alone, its rows fetched. */
async function bareSums(groupId: string) {
  const client = new pg.Client({ connectionString: url.href })
  await client.connect()
  const statements = readFileSync(new URL('summed.sql', import.meta.url), 'utf8')
    .split(/;\n/)
    .filter((one) => one.includes('select'))
  return {
    run: async () => {
      for (const text of statements) await client.query({ text, values: [groupId], rowMode: 'array' })
    },
    close: () => client.end(),
  }
}

/** Processor time of Compare, nothing kept, as a group grows tenfold and again: the slope of each step on log scales. */
async function growth(): Promise<string[]> {
  const sizes: Size[] = [600, 6_667, 60_000].map((harvests) => ({
    seasons: 10,
    harvests,
    labour: Math.round(harvests / 2),
  }))
  const found: { rows: number; taken: Taken }[] = []
  for (const [i, size] of sizes.entries()) {
    const group = await largeGroup(database, size, 10 + i)
    const app = await buildApp({
      database,
      root: process.cwd(),
      secureCookies: false,
      trustProxy: ['127.0.0.1'],
      demo: false,
    })
    await app.listen({ host: '127.0.0.1', port: 0 })
    const { port } = app.server.address() as { port: number }
    const keeper = new Client(app)
    await keeper.post('/sign-in', { email: group.email, password })
    const agent = new Agent({ keepAlive: true })
    const taken: Taken[] = []
    for (let round = 0; round <= Math.min(rounds, 4); round++) {
      await database.drizzle.execute('update group_counters set changes = changes + 1')
      const one = await timed(() =>
        opened(port, agent, `/g/${group.slug}/compare?season=all`, keeper.cookieHeader().join('; ')),
      )
      if (round > 0) taken.push(one)
    }
    found.push({ rows: size.harvests + size.labour, taken: middle(taken) })
    await app.close()
  }
  return found.map(({ rows, taken }, i) => {
    const before = found[i - 1]
    const slope = before ? Math.log(taken.processor / before.taken.processor) / Math.log(rows / before.rows) : null
    return `| ${rows} | ${taken.ms.toFixed(0)} | ${taken.processor.toFixed(0)} | ${slope === null ? '-' : slope.toFixed(2)} |`
  })
}

function row({ work, against, most, one, other }: Line): string {
  const ratio = one.ms / other.ms
  const reached = ratio <= most ? 'yes' : 'no'
  const took = [one.ms.toFixed(1), other.ms.toFixed(1), one.processor.toFixed(0), other.processor.toFixed(0)]
  return `| ${[work, against, most, ratio.toFixed(1), reached, ...took].join(' | ')} |`
}

function write(lines: readonly Line[], grown: readonly string[]): void {
  const [cpu] = cpus()
  const text = [
    '# What the pages of ten years cost',
    '',
    'Written by `npm run bench`. Six gardens, ten seasons, 1,800 plantings, 60,000 weighings and 30,000 entries of hours, invented',
    `(large-group.ts), on PostgreSQL on the same machine; medians of ${rounds} rounds taken turn about in one process, which the`,
    'database is not part of. "At most" is what is wished for, not what is reached; the bare sums stand in summed.sql.',
    '',
    '| work | against | at most | ratio | reached | ms | ms of the other | processor, ms | of the other |',
    '| --- | --- | --- | --- | --- | --- | --- | --- | --- |',
    ...lines.map(row),
    '',
    'Compare, nothing kept, by the rows of weighings and hours (1,800 plantings each); a slope of 1 is in step with them:',
    '',
    '| rows | ms | processor, ms | slope |',
    '| --- | --- | --- | --- |',
    ...grown,
    '',
    `${new Date().toISOString().slice(0, 10)}; Node ${process.version}; ${cpus().length} cores (${cpu?.model}); load ${loadavg()[0]?.toFixed(1)} when it ended.`,
    '',
  ]
  writeFileSync(new URL('speed.md', import.meta.url), text.join('\n'))
}

async function onServer(statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: server })
  await client.connect()
  await client.query(statement)
  await client.end()
}
