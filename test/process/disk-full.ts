/**
 * Fills the disk under a service that sheets are sent to, on the built-in database and on a PostgreSQL of its own, and frees it
 * again: `npx tsx test/process/disk-full.ts [refusals waited for, 400]` (as root, on Linux: it mounts a small disk in memory). Ends with 1 where
 * something answered as saved is missing, a sheet is there in part, a refusal is not said, or nothing is written again.
 */
import { execFileSync } from 'node:child_process'
import { mkdtempSync, readdirSync, rmSync, statfsSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { firstOf } from '../../src/lookups/nth.ts'
import { ownPostgres } from './postgres.ts'
import { freePort, type Run, start } from './service.ts'
import { checked, groundOf, perSheet, setUp, sheetOf, storedIn } from './sheets.ts'
import type { Visitor } from './visitor.ts'

const sizeMb = 320
const leftMb = 1
const sheetsBefore = 20
const refusalsWaited = Number(process.argv[2] ?? 400)
const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms))
const wrong: string[] = []

for (const engine of ['the built-in database', 'a PostgreSQL server']) await filled(engine)
for (const line of wrong) console.error(line)
process.exit(wrong.length > 0 ? 1 : 0)

async function filled(engine: string): Promise<void> {
  const onServer = engine === 'a PostgreSQL server'
  const disk = mkdtempSync(join(tmpdir(), 'evenground-disk-'))
  execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${sizeMb}m,mode=755`, 'tmpfs', disk])
  const server = onServer ? await ownPostgres(disk) : null
  const port = String(await freePort())
  const folder = join(disk, 'data')
  const begin = async () => {
    const run = await start({ EVENGROUND_DATA: folder, PORT: port, ...(server && { DATABASE_URL: server.url }) })
    await run.said(/is ready/)
    return run
  }
  let run = await begin()
  try {
    const { slug, devices } = await setUp(run)
    const device = firstOf(devices)
    const ground = await groundOf(device, slug)
    const acknowledged = new Set<number>()
    const unsure = new Set<number>()
    const refusals = new Map<string, number>()
    let next = 0
    const sheet = async () => {
      const number = next++
      const { week, fields } = sheetOf(number, ground)
      const answer = await sent(device, `/g/${slug}/weeks/${week}`, fields)
      const isSaved = answer.status === 200 && answer.stored === perSheet
      ;(isSaved ? acknowledged : unsure).add(number)
      return { ...answer, isSaved }
    }
    for (let i = 0; i < sheetsBefore; i++) await sheet()
    const before = acknowledged.size
    fill(join(disk, 'filler'), leftMb)
    const isOver = () => run.child.exitCode !== null || run.child.signalCode !== null
    for (let refused = 0; refused < refusalsWaited && !isOver(); ) {
      const { status, said, isSaved } = await sheet()
      if (isSaved) continue
      refused += 1
      refusals.set(`${status} ${said}`, (refusals.get(`${status} ${said}`) ?? 0) + 1)
      // What little was given back meanwhile is taken again, so that nothing can grow.
      if (refused % 25 === 0) fill(join(disk, `filler-${refused}`), 0)
    }
    const reading = await device.get('/sign-in')
    const whileFull = acknowledged.size - before
    for (const file of readdirSync(disk)) if (file.startsWith('filler')) rmSync(join(disk, file))
    const freed = performance.now()
    const ended = isOver()
    const how = ended ? `ended with ${run.child.exitCode ?? run.child.signalCode}` : 'went on'
    if (ended) run = await begin()
    const again = await until(async () => (await sheet()).isSaved)
    const took = Math.round(performance.now() - freed)
    if (!again)
      wrong.push(`${engine}: nothing was written within 60 s of the disk being free: ${run.output().slice(-2000)}`)
    for (let i = 0; i < sheetsBefore; i++) await sheet()
    run.child.kill('SIGTERM')
    const code = await run.ended
    const stored = await storedIn(server?.url, folder)
    const there = checked({ sheets: next, stored, acknowledged, abandoned: unsure, wrong })
    console.log(
      `${engine}: ${acknowledged.size} sheets acknowledged (${whileFull} after the disk was all but full) and there whole; ` +
        `${unsure.size} refused or cut off, ${there} of them there whole; while it was full ` +
        `${[...refusals].map(([said, times]) => `${said} x ${times}`).join('; ')}; a page that reads ${reading.status}; ` +
        `the service ${how}, wrote again ${took} ms after the disk was free, and ended with ${code}`,
    )
    if (refusals.size === 0) wrong.push(`${engine}: the disk was never full`)
  } finally {
    await over(run)
    server?.remove()
    execFileSync('umount', ['-l', disk])
    rmSync(disk, { recursive: true, force: true })
  }
}

async function over(run: Run): Promise<void> {
  run.child.kill('SIGKILL')
  await run.ended
}

/** What a sheet was answered by: 0 where there was no answer. */
async function sent(device: Visitor, address: string, fields: Record<string, string>) {
  try {
    const { status, said } = await device.send<{ stored?: string[]; said?: string }>(address, fields)
    return { status, stored: said?.stored?.length ?? 0, said: said?.said ?? '' }
  } catch (error) {
    return { status: -1, stored: 0, said: String(error) }
  }
}

async function until(done: () => Promise<boolean>): Promise<boolean> {
  for (const ends = performance.now() + 60_000; performance.now() < ends; await pause(200))
    if (await done()) return true
  return false
}

/** Takes all of a disk but a little. */
function fill(file: string, leftMb: number): void {
  const { bavail, bsize } = statfsSync(join(file, '..'))
  writeFileSync(file, Buffer.alloc(Math.max(0, bavail * bsize - leftMb * 1_000_000)))
}
