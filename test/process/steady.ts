/**
 * A long, even load and the memory it takes: `npx tsx test/process/steady.ts [embedded|server] [minutes, 120] [a second, 1]`.
 * A service of its own on a folder of its own, three copies of the example in it; of ten requests seven write a sheet of a week, two
 * read a frozen report behind its link, one opens Compare. Says every few minutes what the process holds and how it answers.
 * Ends with 1 where something was not answered as it should be, or where the last quarter holds half as much again as the second.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { nth } from '../../src/lookups/nth.ts'
import { copyOfExample, type Example, sharedReport, sheetFields } from './example.ts'
import { ownPostgres } from './postgres.ts'
import { freePort, start } from './service.ts'

const [engine = 'embedded', minutes = '120', aSecond = '1'] = process.argv.slice(2)
const copies = 3
const warmUp = Math.min(5, Number(minutes) / 10)
const each = Math.max(0.5, Math.min(5, Number(minutes) / 20))
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const kinds = ['sheet', 'report', 'sheet', 'sheet', 'compare', 'sheet', 'sheet', 'report', 'sheet', 'sheet'] as const
type Kind = (typeof kinds)[number]
const right: Readonly<Record<Kind, number>> = { sheet: 200, report: 200, compare: 200 }

interface Held {
  readonly minute: number
  readonly resident: number
  readonly heap: number
  readonly outside: number
  readonly files: number
}

const database = engine === 'server' ? await ownPostgres() : null
const folder = mkdtempSync(join(tmpdir(), 'evenground-steady-'))
const metricsPort = String(await freePort())
const set = { EVENGROUND_DATA: folder, EVENGROUND_METRICS_PORT: metricsPort }
const run = await start({ ...set, ...(database && { DATABASE_URL: database.url }) })
const took = new Map<Kind, number[]>()
const statuses = new Map<string, number>()
const held: Held[] = []
let wrong = 0
try {
  await run.said(/is ready/)
  const examples: Example[] = []
  for (let i = 0; i < copies; i++) examples.push(await copyOfExample(run.base))
  const report = await sharedReport(nth(examples, 0))
  const began = performance.now()
  const minute = () => (performance.now() - began) / 60_000
  let [asked, told, isWarm] = [0, 0, false]
  const open = new Set<Promise<void>>()
  while (minute() < Number(minutes) + warmUp && run.child.exitCode === null) {
    const one = ask(asked, nth(examples, Math.floor(asked / kinds.length) % copies), report).then(
      () => void open.delete(one),
    )
    open.add(one)
    asked += 1
    if (!isWarm && minute() >= warmUp) [isWarm, told] = [true, await tell(minute(), 'start, warm')]
    else if (isWarm && minute() - told >= each) told = await tell(minute(), `after ${asked} requests`)
    await wait(Math.max(0, (asked / Number(aSecond)) * 1000 - (performance.now() - began)))
  }
  await Promise.all(open)
  await tell(minute(), `end, ${asked} requests`)
} finally {
  const isRunning = run.child.exitCode === null
  run.child.kill('SIGTERM')
  if (!isRunning || (await run.ended) !== 0) console.error(`The service ended by itself: ${run.output().slice(-2000)}`)
  wrong += isRunning ? 0 : 1
  database?.remove()
  rmSync(folder, { recursive: true, force: true })
}
const quarter = (n: number) =>
  median(
    held.slice(Math.floor((held.length * n) / 4), Math.ceil((held.length * (n + 1)) / 4)).map((one) => one.resident),
  )
const grown = quarter(3) / quarter(1)
console.log(
  `${engine}: resident ${held[0]?.resident} MB at the start, ${held.at(-1)?.resident} MB at the end, at most ` +
    `${Math.max(...held.map((one) => one.resident))} MB; the last quarter ${grown.toFixed(2)} times the second; ${wrong} answers were wrong`,
)
process.exit(wrong > 0 || grown > 1.5 ? 1 : 0)

async function ask(n: number, example: Example, report: string): Promise<void> {
  const { visitor, slug, week } = example
  const kind = nth(kinds, n % kinds.length)
  const since = performance.now()
  const status = await (kind === 'sheet'
    ? sheet()
    : visitor.get(kind === 'report' ? report : `/g/${slug}/compare`).then((one) => one.status))
  took.set(kind, [...(took.get(kind) ?? []), performance.now() - since])
  statuses.set(`${kind} ${status}`, (statuses.get(`${kind} ${status}`) ?? 0) + 1)
  wrong += status === right[kind] ? 0 : 1

  /** A sheet that is answered but not stored counts as refused. */
  async function sheet(): Promise<number> {
    const { fields, cells } = sheetFields(example, n)
    const { status: answered, said } = await visitor.send<{ stored: string[] }>(`/g/${slug}/weeks/${week}`, fields)
    return answered === 200 && said?.stored.length !== cells ? 422 : answered
  }
}

async function tell(minute: number, when: string): Promise<number> {
  const metrics = await fetch(`http://127.0.0.1:${metricsPort}/metrics`).then((answer) => answer.text())
  const bytes = (name: string) => Number(new RegExp(`^${name} (\\d+)`, 'm').exec(metrics)?.[1] ?? Number.NaN)
  const mb = (all: number) => Math.round(all / 1e6)
  const status = readFileSync(`/proc/${run.child.pid}/status`, 'utf8')
  const now = {
    minute,
    resident: mb(Number(/VmRSS:\s+(\d+)/.exec(status)?.[1]) * 1024),
    heap: mb(bytes('nodejs_heap_size_used_bytes')),
    outside: mb(bytes('nodejs_external_memory_bytes')),
    files: readdirSync(`/proc/${run.child.pid}/fd`).length,
  }
  held.push(now)
  const times = [...took]
    .map(([kind, ms]) => `${kind} ${Math.round(median(ms))}/${Math.round(at(ms, 0.95))}`)
    .join(', ')
  console.log(
    `${minute.toFixed(1)} min, ${when}: resident ${now.resident} MB, heap ${now.heap} MB, outside it ${now.outside} MB, ` +
      `${now.files} files; ms (median/95th) ${times}; ${[...statuses].map(([name, times]) => `${name} x ${times}`).join(', ')}`,
  )
  took.clear()
  statuses.clear()
  return minute
}

function at(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))] ?? Number.NaN
}

function median(values: readonly number[]): number {
  return at(values, 0.5)
}
