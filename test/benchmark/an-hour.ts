// An hour of many groups: npm run bench:hour, or npx tsx test/benchmark/an-hour.ts [minutes, 60] [groups, 2000]
// [visits of a group in an hour, 3] [replica: Compare and reports are read from a standby]. A
// PostgreSQL and a service of its own, one process; as many copies of one group as asked, its history with them. Visits come
// by chance and wait for nobody: three a group in an hour, of ten visits seven enter a sheet, two read a report, one
// opens Compare. Writes an-hour.md with what was measured, by table and by request, and the plan that is counted from it.
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { newId } from '../../src/db/new-id.ts'
import { openServer } from '../../src/db/server.ts'
import { nth } from '../../src/lookups/nth.ts'
import { dayIn } from '../../src/quantities/dates.ts'
import { daysOf, weekOf } from '../../src/quantities/iso-week.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { chanceFrom } from '../../src/statistics/chance-from.ts'
import { type OwnPostgres, type OwnStandby, ownPostgres, standbyOf } from '../process/postgres.ts'
import { type Run, start } from '../process/service.ts'
import { Visitor } from '../process/visitor.ts'
import { bytesOf, type Grown, sizesOf } from './bytes-by-table.ts'
import { copyGroup, ending, endingOf, tokenOf } from './copied-groups.ts'
import { type Figures, hourTold } from './hour-told.ts'
import { largeGroup, password } from './large-group.ts'
import { processorOf, residentOf, shareOf } from './processor.ts'

const minutes = Number(process.argv[2] ?? 60)
const groups = Number(process.argv[3] ?? 2000)
const visitsOfGroup = Number(process.argv[4] ?? 3)
const withReplica = process.argv[5] === 'replica'
const zone = 'Europe/Berlin'
const seed = 20_261_129
const [weighed, worked] = [6, 3]
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

const database = await ownPostgres()
const folder = mkdtempSync(join(tmpdir(), 'evenground-hour-'))
const took = new Map<string, number[]>()
const wrong = new Map<string, number>()
const loads: number[] = []
let run: Run | null = null
let standby: OwnStandby | null = null
try {
  const others = minutes >= 30 ? await sizesOf(database) : new Map<string, Grown>()
  const groupId = await model(database)
  const server = await openServer(database.url)
  const before = await bytesOf(server)
  const copying = performance.now()
  await copyGroup(server, groupId, groups)
  console.log(`${groups} copies in ${Math.round((performance.now() - copying) / 1000)} s`)
  const after = await bytesOf(server)
  if (withReplica) standby = await standbyOf(database)
  run = await begun()
  const address = run.base
  const at = { service: Number(run.child.pid), database: database.pid() }
  const read = () => (standby === null ? 0 : processorOf(standby.pid()))
  const began = {
    read: read(),
    service: processorOf(at.service),
    database: processorOf(at.database),
    own: process.cpuUsage(),
    wal: await walAt(server),
    resident: residentOf(at.service),
  }
  const [visits, most] = [await anHour(address, () => residentOf(at.service)), residentOf(at.service)]
  const own = process.cpuUsage(began.own)
  const figures: Figures = {
    minutes,
    groups,
    visitsOfGroup,
    visits,
    took,
    wrong,
    model: { before, after },
    others,
    processor: {
      service: processorOf(at.service) - began.service,
      database: processorOf(at.database) - began.database,
      replica: read() - began.read,
      own: (own.user + own.system) / 1e6,
    },
    wal: (await walAt(server)) - began.wal,
    resident: { start: began.resident, end: most, database: shareOf(at.database) },
    loads,
    perEntry: weighed + worked,
  }
  await server.close()
  const text = hourTold(figures)
  process.stdout.write(text)
  if (minutes >= 30 && !withReplica) writeFileSync(new URL('an-hour.md', import.meta.url), text)
} finally {
  run?.child.kill('SIGKILL')
  standby?.remove()
  database.remove()
  rmSync(folder, { recursive: true, force: true })
}
process.exit(0)

async function begun(): Promise<Run> {
  const reading = standby === null ? {} : { DATABASE_READ_URL: standby.url }
  const started = await start({ EVENGROUND_DATA: folder, DATABASE_URL: database.url, ...reading })
  await started.said(/is ready/)
  return started
}

/** Three gardens, two seasons of which one runs, and two reports of it made by its pages: one frozen, one live. */
async function model(postgres: OwnPostgres): Promise<string> {
  const server = await openServer(postgres.url)
  await server.migrate('migrations')
  const size = { seasons: 2, harvests: 800, labour: 400, gardens: 3, crops: 10, last: 2026, runs: true }
  const { groupId, personId } = await largeGroup(server, { ...size, idsEnd: ending })
  const [slug, email] = [`hour-${ending}`, `hour-${ending}@example.org`]
  await server.drizzle.execute(`update groups set slug = '${slug}', name = 'Growers ${ending}' where id = '${groupId}'`)
  await server.drizzle.execute(`update people set email = '${email}' where id = '${personId}'`)
  await server.close()
  const service = await begun()
  const keeper = new Visitor(service.base)
  await keeper.get('/sign-in')
  await keeper.post('/sign-in', { email, password })
  for (const keeps of ['frozen', 'live']) {
    await keeper.get(`/g/${slug}/reports`)
    const made = await keeper.post(`/g/${slug}/reports`, {
      ...{ id: newId().slice(0, -8) + ending, title: 'Two seasons', words: '', season: 'all', keeps, step: 'finish' },
      ...Object.fromEntries(sectionKeys.map((key, i) => [`sections[${i}]`, key])),
    })
    if (made.status !== 303) throw new Error(`A ${keeps} report was answered by ${made.status}`)
  }
  service.child.kill('SIGTERM')
  await service.ended
  return groupId
}

/** Every visit at its moment, whether or not those before it are answered; gives how many there were. */
async function anHour(base: string, resident: () => number): Promise<number> {
  const draw = chanceFrom(seed)
  const visitors = Array.from({ length: groups }, (_, i) => {
    return new Visitor(base, new Map([['evenground', tokenOf('session', i + 1)]]))
  })
  const began = performance.now()
  const perMs = (groups * visitsOfGroup) / 3_600_000
  const open = new Set<Promise<void>>()
  let [visits, due, told] = [0, 0, 0]
  for (;;) {
    due += -Math.log(1 - draw.uniform()) / perMs
    if (due > minutes * 60_000) break
    while (performance.now() - began < due) {
      await wait(Math.min(1000, Math.max(1, due - (performance.now() - began))))
      const minute = Math.floor((performance.now() - began) / 60_000)
      if (minute > told) {
        told = minute
        loads.push(nth(loadavg(), 0))
        console.log(
          `${minute} min: ${visits} visits, ${open.size} open, ${resident()} MB, load ${nth(loads, told - 1)}`,
        )
      }
    }
    visits += 1
    const number = 1 + draw.below(groups)
    const one = visit(nth(visitors, number - 1), number, { kind: draw.uniform(), since: began + due }).then(
      () => void open.delete(one),
    )
    open.add(one)
  }
  await Promise.all(open)
  return visits
}

async function visit(
  visitor: Visitor,
  number: number,
  { kind, since }: { kind: number; since: number },
): Promise<void> {
  const base = `/g/hour-${endingOf(number)}`
  if (kind < 0.7) return entry(visitor, base, since)
  const reading = [
    ['a frozen report, by its link', `/r/${tokenOf('frozen', number)}`],
    ['a live report, by its link', `/r/${tokenOf('live', number)}`],
    ['Compare', `${base}/compare`],
  ] as const
  const [name, address] = nth(reading, kind < 0.8 ? 0 : kind < 0.9 ? 1 : 2)
  const { status, text } = await visitor.get(address)
  counted(name, since, status === 200 && text.includes('</html>') ? 'right' : String(status))
}

/** The week is opened, then a sheet is sent as a device sends it: a token first. */
async function entry(visitor: Visitor, base: string, since: number): Promise<void> {
  const today = dayIn(zone, new Date())
  const week = weekOf(today)
  const { status, text } = await visitor.get(`${base}/weeks/${week}?rows=all`)
  const all = (pattern: RegExp) => [...new Set([...text.matchAll(pattern)].map((found) => found[1] ?? ''))]
  const plantings = all(/name="w\[([\w-]{36})\]\[good\]"/g)
  const hours = all(/name="(h\[[\w-]{36}\]\[\w+\])\[time\]"/g)
  counted('the week opened', since, status === 200 && plantings.length > 0 ? 'right' : String(status))
  if (plantings.length === 0) return
  const [monday = ''] = daysOf(week)
  const grams = (i: number) => `${300 + (((since * 7 + i * 131) % 977) | 0)} g`
  const cells = [
    ...Array.from({ length: weighed }, (_, i) => nth(plantings, (i * 5) % plantings.length)).flatMap((id, i) => [
      [`w[${id}][good]`, grams(i)],
      [`w[${id}][surely]`, 'yes'],
    ]),
    ...Array.from({ length: worked }, (_, i) => nth(hours, (i * 7) % hours.length)).flatMap((name, i) => [
      [`${name}[time]`, `${20 + i * 10} min`],
      [`${name}[surely]`, 'yes'],
    ]),
  ]
  const sent = performance.now()
  const fields = { id: newId(), day: monday, to: 'save', ...Object.fromEntries(cells) }
  const { status: answered, said } = await visitor.send<{ stored: string[] }>(`${base}/weeks/${week}`, fields)
  const isStored = answered === 200 && said?.stored.length === weighed + worked
  counted('a sheet sent, with its token', sent, isStored ? 'right' : `${answered}, ${said?.stored?.length} stored`)
  counted('an entry, the week and the sheet', since, isStored ? 'right' : 'not stored')
}

function counted(name: string, since: number, became: string): void {
  const before = took.get(name)
  if (before) before.push(performance.now() - since)
  else took.set(name, [performance.now() - since])
  if (became !== 'right') wrong.set(`${name}: ${became}`, (wrong.get(`${name}: ${became}`) ?? 0) + 1)
}

async function walAt(server: Awaited<ReturnType<typeof openServer>>): Promise<number> {
  const asked = "select pg_wal_lsn_diff(pg_current_wal_lsn(), '0/0')::float8 as at"
  const { rows } = (await server.drizzle.execute(asked)) as unknown as { rows: { at: number }[] }
  return Number(rows[0]?.at)
}
