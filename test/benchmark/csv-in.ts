// What a file of harvest weights costs: peak memory and seconds for reading it and storing it, by the number of rows; and
// then for taking the whole group out and bringing it into another database.
// npm run benchmark:csv-in. Each line is a process of its own, so that its peak is its own; the table stands in csv-in.md
// beside this file. With TEST_DATABASE_URL the same on a server. The file lies on disk, as an upload is written there first.
import { spawnSync } from 'node:child_process'
import { createWriteStream, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { cpus, tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import pg from 'pg'
import { groups } from '../../src/accounts/accounts.table.ts'
import { addPerson } from '../../src/accounts/members.queries.ts'
import type { Database } from '../../src/db/database.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { openServer } from '../../src/db/server.ts'
import { asMember } from '../../src/db/transaction.ts'
import { copyDemo } from '../../src/demo/making.routes.ts'
import { broughtFrom } from '../../src/exchange/bring-in.routes.ts'
import { entriesOf } from '../../src/exchange/exchange.routes.ts'
import type { GroupOfRows } from '../../src/exchange/rows-in.queries.ts'
import { checkFile, jobOf, storeFile } from '../../src/exchange/rows-job.routes.ts'
import { bedsOf, gardensOf } from '../../src/gardens/gardens.queries.ts'
import { addDays } from '../../src/quantities/dates.ts'
import { plantingsOf } from '../../src/seasons/seasons.queries.ts'
import { writeZip } from '../../src/web/zip.ts'

const server = process.env.TEST_DATABASE_URL
const mb = (bytes: number) => Math.round(bytes / 1024 / 1024)

interface Measured {
  readonly engine: string
  readonly rows: number
  readonly fileMb: number
  readonly before: number
  readonly reading: { readonly seconds: number; readonly peak: number }
  readonly storing: { readonly seconds: number; readonly peak: number }
  readonly out: { readonly seconds: number; readonly peak: number }
  readonly back: { readonly seconds: number; readonly peak: number }
}

async function measure(engine: string, rows: number): Promise<Measured> {
  const folder = mkdtempSync(join(tmpdir(), 'evenground-benchmark-'))
  const { database, drop } = engine === 'embedded' ? await embedded(folder) : await onServer()
  try {
    const person = { name: 'Ada Rook', email: 'ada@example.org', password: 'long enough to keep' }
    const personId = await addPerson(database, person)
    await copyDemo(database, personId)
    await database.drizzle.execute(sql`update week_closings set reopened_at = now(), reopened_reason = 'measured'`)
    const [group] = (await database.drizzle.select().from(groups)) as GroupOfRows[]
    if (!group) throw new Error('There is no group.')
    const file = join(folder, 'weights.csv')
    const fileMb = await writeWeights(database, group.id, file, rows)
    global.gc?.()
    const before = mb(process.memoryUsage().rss)
    const job = jobOf({ group, personId, kind: 'harvests', file, numbersIn: 'en' })
    const reading = await watched(checkFile(database, job))
    if (job.found.fresh !== rows) throw new Error(JSON.stringify(job.found.wrong.slice(0, 3)))
    const storing = await watched(storeFile(database, job, async () => undefined))
    if (job.found.fresh !== rows) throw new Error(`Only ${job.found.fresh} rows were stored.`)
    const zip = join(folder, 'export.zip')
    const who = { personId: null, groupId: group.id, readOnly: true, snapshot: true }
    const out = await watched(
      asMember(database, who, async (tx) => writeZip(zip, await entriesOf((part) => part(tx), group as never))),
    )
    const other = await (engine === 'embedded' ? embedded(join(folder, 'other')) : onServer('_other'))
    try {
      const back = await watched(broughtFrom(other.database, zip, await addPerson(other.database, person)))
      return { engine, rows, fileMb, before, reading, storing, out, back }
    } finally {
      await other.drop()
    }
  } finally {
    await drop()
    rmSync(folder, { recursive: true, force: true })
  }
}

/** Weights of a few plantings of the demo on the days on which they stood, no two lines alike. */
async function writeWeights(database: Database, groupId: string, file: string, rows: number): Promise<number> {
  const places = await asMember(database, { personId: null, groupId, readOnly: true }, async (tx) => {
    const gardens = new Map((await gardensOf(tx, groupId)).map((garden) => [garden.id, garden.name]))
    const beds = new Map((await bedsOf(tx, groupId)).map((bed) => [bed.id, bed]))
    return (await plantingsOf(tx, groupId)).flatMap((planting) => {
      const bed = beds.get(planting.bedId)
      const day = planting.clearedOn ? addDays(planting.clearedOn, -3) : ''
      return bed && day
        ? [`${day},"${gardens.get(bed.gardenId)}","${bed.name}","${planting.crop}","${planting.cultivar}"`]
        : []
    })
  })
  const output = createWriteStream(file)
  output.write('day,garden,bed,crop,cultivar,marketable g,unmarketable g,why\n')
  for (let row = 0; row < rows; row++) {
    output.write(`${places[row % places.length]},${100 + row},${row % 10},${row % 10 === 0 ? '' : 'slugs'}\n`)
  }
  await new Promise((done) => output.end(done))
  return Math.round((10 * output.bytesWritten) / 1024 / 1024) / 10
}

/** Seconds until the work is done, and the largest memory that was seen meanwhile, looked at every 20 ms. */
async function watched(work: Promise<unknown>): Promise<{ seconds: number; peak: number }> {
  let peak = process.memoryUsage().rss
  const look = setInterval(() => {
    peak = Math.max(peak, process.memoryUsage().rss)
  }, 20)
  const from = performance.now()
  await work
  clearInterval(look)
  const seconds = Math.round((performance.now() - from) / 100) / 10
  return { seconds, peak: mb(Math.max(peak, process.memoryUsage().rss)) }
}

async function embedded(folder: string) {
  const database = await openEmbedded(join(folder, 'database'))
  await database.migrate('migrations')
  return { database, drop: () => database.close() }
}

async function onServer(which = '') {
  const name = `evenground_benchmark_${process.pid}${which}`
  const run = async (statement: string) => {
    const client = new pg.Client({ connectionString: server })
    await client.connect()
    await client.query(statement)
    await client.end()
  }
  await run(`create database ${name}`)
  const url = new URL(server ?? '')
  url.pathname = `/${name}`
  const database = await openServer(url.href)
  await database.migrate('migrations')
  return {
    database,
    drop: async () => {
      await database.close()
      await run(`drop database ${name}`)
    },
  }
}

function report(): void {
  const lines = (server ? ['embedded', 'server'] : ['embedded']).flatMap((engine) =>
    [500, 5_000, 50_000].map((rows) => {
      const args = ['--expose-gc', '--import', 'tsx', import.meta.filename, engine, String(rows)]
      const child = spawnSync(process.execPath, args, { encoding: 'utf8', env: process.env })
      if (child.status !== 0) throw new Error(child.stderr)
      process.stdout.write(child.stdout)
      return JSON.parse(child.stdout) as Measured
    }),
  )
  const head = [
    'engine',
    'rows',
    'file, MB',
    'memory before, MB',
    'peak while reading, MB',
    'reading, s',
    'peak while storing, MB',
    'storing, s',
    'peak while taking out, MB',
    'taking out, s',
    'peak while bringing back, MB',
    'bringing back, s',
  ]
  const cells = lines.map((line) =>
    [
      ...[line.engine, line.rows, line.fileMb, line.before],
      ...[line.reading.peak, line.reading.seconds, line.storing.peak, line.storing.seconds],
      ...[line.out.peak, line.out.seconds, line.back.peak, line.back.seconds],
    ].join(' | '),
  )
  const table = [head.join(' | '), head.map(() => '---').join(' | '), ...cells].map((row) => `| ${row} |`).join('\n')
  const where = `Node ${process.version}, ${cpus().length} cores (${cpus()[0]?.model.trim()}).`
  writeFileSync(new URL('./csv-in.md', import.meta.url), `${about}\n\n${table}\n\n${where}\n`)
}

const about = `# A file of harvest weights: memory and time

Written by \`npm run benchmark:csv-in\` (\`csv-in.ts\`). Each line is a process of its own with a copy of the demo. Memory is the whole process (RSS), on the embedded engine the database with it; it is looked at every 20 ms. Reading checks every line; storing writes the rows that came of it in one transaction with their history, as they were read, since nothing has changed between. Then the whole group is taken out as one file and brought back into another database of the same engine, in the same process: on the embedded engine two databases are open then. On the embedded engine the pages of all groups wait while it stores, since it has one connection. Seconds depend on what else the machine does: they were taken while others worked on it.`

const [, , engine, wanted] = process.argv
if (engine && wanted) process.stdout.write(`${JSON.stringify(await measure(engine, Number(wanted)))}\n`)
else report()
