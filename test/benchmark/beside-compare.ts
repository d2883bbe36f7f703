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
import { besideCompares, type Crowd } from './beside-compares.ts'
import { largeGroup, tenYears } from './large-group.ts'

const [engine = 'embedded', of = 'example'] = process.argv.slice(2)

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
  const { alone, beside, statuses, seconds } = await besideCompares(on, crowds)
  const answered = [...statuses].map(([status, times]) => `${status} x ${times}`).join(', ')
  console.log(`${engine}, ${of}: a hundred Compares at once took ${seconds.toFixed(1)} s (${answered})`)
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

function told(values: readonly number[]): { median: number; said: string } {
  const sorted = [...values].sort((a, b) => a - b)
  const at = (part: number) => nth(sorted, Math.min(sorted.length - 1, Math.floor(sorted.length * part)))
  return { median: at(0.5), said: `${[at(0.5), at(0.95), at(1)].map((ms) => ms.toFixed(0)).join(', ')} ms` }
}
