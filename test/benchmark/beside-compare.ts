/**
 * How signing in is answered beside a hundred Compares at once: `npx tsx test/benchmark/beside-compare.ts [embedded|server]
 * [example|large]`. Each Compare is under choices of its own, so that none is answered by what another has made, and the service
 * has just started, so that nothing is kept. Three copies of the example, or one group of ten years and 90,000 entries. The
 * page of sign-in and a sign-in with its password are asked for again and again, alone and beside. Ends with 1 where the median
 * beside is ten times the median alone or more.
 */
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { openEmbedded } from '../../src/db/embedded.ts'
import { openServer } from '../../src/db/server.ts'
import { nth } from '../../src/lookups/nth.ts'
import { copyOfExample } from '../process/example.ts'
import { ownPostgres } from '../process/postgres.ts'
import { type Run, start } from '../process/service.ts'
import { Visitor } from '../process/visitor.ts'
import { largeGroup, tenYears } from './large-group.ts'

const [engine = 'embedded', of = 'example'] = process.argv.slice(2)
const compares = 100
const wait = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))

interface Crowd {
  readonly visitor: Visitor
  readonly slug: string
}

const server = engine === 'server' ? await ownPostgres() : null
const folder = mkdtempSync(join(tmpdir(), 'evenground-beside-'))
const set = { EVENGROUND_DATA: folder, ...(server && { DATABASE_URL: server.url }) }
let run: Run | null = null
let failed = false
try {
  const known = of === 'large' ? await madeLarge() : null
  run = await begin()
  if (known === null) await asMany(run, await copies(run))
  else {
    const visitor = new Visitor(run.base)
    await visitor.signIn(known.email)
    await asMany(run, [{ visitor, slug: known.slug }])
  }
} finally {
  run?.child.kill('SIGTERM')
  await run?.ended
  server?.remove()
  rmSync(folder, { recursive: true, force: true })
}
process.exit(failed ? 1 : 0)

async function begin(): Promise<Run> {
  const begun = await start(set)
  await begun.said(/is ready/)
  return begun
}

async function madeLarge() {
  const first = await begin()
  first.child.kill('SIGTERM')
  await first.ended
  const database = server ? await openServer(server.url) : await openEmbedded(join(folder, 'database'))
  const made = await largeGroup(database, tenYears)
  await database.close()
  return made
}

async function copies(on: Run): Promise<Crowd[]> {
  const made: Crowd[] = []
  for (let i = 0; i < 3; i++) made.push(await copyOfExample(on.base))
  return made
}

async function asMany(on: Run, crowds: readonly Crowd[]): Promise<void> {
  const email = 'newcomer@example.org'
  await new Visitor(on.base).signUp(email)
  const alone = await whileAsked(on, email, wait(8000))
  const statuses = new Map<number, number>()
  const since = performance.now()
  const all = Promise.all(
    Array.from({ length: compares }, async (_, i) => {
      const { visitor, slug } = nth(crowds, i % crowds.length)
      const { status } = await visitor.get(`/g/${slug}/compare?${choices(i)}`)
      statuses.set(status, (statuses.get(status) ?? 0) + 1)
    }),
  )
  const beside = await whileAsked(on, email, all)
  const took = ((performance.now() - since) / 1000).toFixed(1)
  console.log(
    `${engine}, ${of}: ${compares} Compares at once took ${took} s ` +
      `(${[...statuses].map(([status, times]) => `${status} x ${times}`).join(', ')})`,
  )
  for (const what of ['page', 'password'] as const) {
    const [own, crowded] = [told(alone[what]), told(beside[what])]
    const times = crowded.median / own.median
    console.log(
      `  ${what}: alone ${own.said}; beside ${crowded.said} (median, 95th, most; ${beside[what].length} asked); ` +
        `${times.toFixed(1)} times`,
    )
    failed ||= times >= 10
  }
}

function choices(i: number): URLSearchParams {
  const pick = (values: readonly string[], by: number) => nth(values, Math.floor(i / by) % values.length)
  return new URLSearchParams({
    season: 'all',
    by: pick(['method', 'garden', 'bed', 'crop'], 1),
    establishing: pick(['counted', 'left out', 'spread'], 4),
    area: pick(['bed', 'gross'], 12),
    harvestWork: pick(['with', 'without'], 24),
    weights: pick(['marketable', 'all'], 48),
    outside: pick(['counted', 'set left out'], 96),
  })
}

interface Asked {
  readonly page: number[]
  readonly password: number[]
}

/** Signs in one time after another until something else is over. */
async function whileAsked(on: Run, email: string, other: Promise<unknown>): Promise<Asked> {
  const took: Asked = { page: [], password: [] }
  let over = false
  void other.finally(() => (over = true))
  while (!over) {
    const visitor = new Visitor(on.base)
    const began = performance.now()
    const page = await visitor.get('/sign-in')
    const shown = performance.now()
    const answer = await visitor.post('/sign-in', { email, password: 'long enough to keep' })
    took.page.push(shown - began)
    took.password.push(performance.now() - shown)
    if (page.status !== 200 || answer.status !== 303) throw new Error(`Signing in: ${page.status}, ${answer.status}`)
    await wait(20)
  }
  return took
}

function told(values: readonly number[]): { median: number; said: string } {
  const sorted = [...values].sort((a, b) => a - b)
  const at = (part: number) => nth(sorted, Math.min(sorted.length - 1, Math.floor(sorted.length * part)))
  return { median: at(0.5), said: `${[at(0.5), at(0.95), at(1)].map((ms) => ms.toFixed(0)).join(', ')} ms` }
}
