import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { Agent, request } from 'node:http'
import { cpus, loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { buildApp } from '../../src/app.ts'
import { openEmbedded } from '../../src/db/embedded.ts'
import { newId } from '../../src/db/new-id.ts'
import { openServer } from '../../src/db/server.ts'
import { sectionKeys } from '../../src/reports/sections.ts'
import { Client } from '../support/app.ts'

/**
 * How many shared reports a second, opened by 200 connections at once, beside an empty page through the same layout of the same
 * server in the same run, turn about. Writes shared-report.md. Runs on the embedded engine, or on the server that
 * BENCHMARK_DATABASE_URL names (a database that may be filled).
 */
const connections = 200
const seconds = 8
const rounds = 3

const folder = mkdtempSync(join(tmpdir(), 'evenground-benchmark-'))
const url = process.env.BENCHMARK_DATABASE_URL
const database = url ? await openServer(url) : await openEmbedded(join(folder, 'database'))
await database.migrate('migrations')
const app = await buildApp({
  database,
  root: process.cwd(),
  secureCookies: false,
  trustProxy: ['127.0.0.1'],
  demo: true,
})
app.get('/empty', { config: { access: 'public' } }, (_request, reply) =>
  reply.page('reports/draft', { title: 'Empty', form: null }, { title: 'Empty', bare: true }),
)
await app.listen({ host: '127.0.0.1', port: 0 })
const { port } = app.server.address() as { port: number }

const pages = await sharedReports()
const lines: Record<string, number[]> = { empty: [], frozen: [], live: [] }
for (let round = 0; round < rounds; round++) {
  for (const [name, path] of [['empty', '/empty'], ...Object.entries(pages)] as const) {
    await load(path, 1)
    lines[name]?.push(await load(path, seconds))
  }
}
await app.close()
await database.close()
rmSync(folder, { recursive: true, force: true })
write()

/** The demo of three seasons and five gardens, with every part on the report. */
async function sharedReports(): Promise<{ frozen: string; live: string }> {
  const keeper = new Client(app)
  await keeper.post('/sign-up', { name: 'Ada Rook', email: `${newId()}@example.org`, password: 'long enough to keep' })
  const base = (await keeper.post('/demo/copy')).location
  const share = async (keeps: string) => {
    const id = newId()
    const fields = { title: 'Three seasons', words: '', season: 'all', sections: [...sectionKeys], step: 'finish' }
    await keeper.post(`${base}/reports`, { id, keeps, ...fields })
    const page = await keeper.post(`${base}/reports/${id}/links`, { endsOn: '', passphrase: '' })
    return /\/r\/[\w-]+/.exec(page.text)?.[0] ?? ''
  }
  return { frozen: await share('frozen'), live: await share('live') }
}

/** Whole answers with status 200 a second; any other ends the run. */
async function load(path: string, during: number): Promise<number> {
  const agent = new Agent({ keepAlive: true, maxSockets: connections })
  const ends = Date.now() + during * 1000
  let done = 0
  const one = () =>
    new Promise<void>((resolve, reject) => {
      const asked = request({ host: '127.0.0.1', port, path, agent }, (answer) => {
        if (answer.statusCode !== 200) reject(new Error(`${path}: ${answer.statusCode}`))
        answer.on('data', () => undefined).on('end', resolve)
      })
      asked.setHeader('accept-encoding', 'gzip')
      asked.on('error', reject).end()
    })
  const worker = async () => {
    while (Date.now() < ends) {
      await one()
      done += 1
    }
  }
  const from = Date.now()
  await Promise.all(Array.from({ length: connections }, worker))
  const took = (Date.now() - from) / 1000
  agent.destroy()
  return done / took
}

function write(): void {
  const middle = (name: string) => [...(lines[name] ?? [])].sort((a, b) => a - b)[Math.floor(rounds / 2)] ?? 0
  const ratio = (name: string) => (middle(name) / middle('empty')).toFixed(2)
  const row = (name: string, label: string) =>
    `| ${label} | ${(lines[name] ?? []).map((one) => one.toFixed(0)).join(', ')} | ${middle(name).toFixed(0)} | ${ratio(name)} |`
  const text = `# A shared report under load

Made by \`npx tsx test/benchmark/shared-report.ts\`: ${connections} connections at once, ${seconds} s a page and round, ${rounds} rounds turn about, server and
load in one process, with gzip as a browser asks. Engine: ${database.kind}. Machine: ${cpus().length} x ${cpus()[0]?.model ?? ''}; Node ${process.version};
load average when it ended ${loadavg()[0]?.toFixed(1)} (others at work on the machine are in it). The report is the demo's (three seasons, five
gardens, every part on it). What holds across machines is the ratio, not the number of pages.

| page | answers a second, each round | middle | beside the empty page |
| --- | --- | --- | --- |
${row('empty', 'an empty page through the same layout')}
${row('frozen', 'a frozen report')}
${row('live', 'a live report')}
`
  writeFileSync('test/benchmark/shared-report.md', text)
  process.stdout.write(text)
}
