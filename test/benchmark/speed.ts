// What the work on a group of ten years costs, each beside what it is measured against, turn about in one process on one
// PostgreSQL. npm run bench writes speed.md beside this file; npm run bench -- csv sheet takes these lines alone and writes
// nothing. With BENCHMARK_SERVER another server than the usual one, with BENCHMARK_ROUNDS more rounds or fewer.
import { writeFileSync } from 'node:fs'
import { cpus, loadavg } from 'node:os'
import { csv } from './lines/csv.ts'
import { bareClient, type Ground, openGround, server } from './lines/ground.ts'
import { growth } from './lines/growth.ts'
import { manyGroups } from './lines/many-groups.ts'
import { mixedModel, signingIn } from './lines/others.ts'
import { pages, withEmptyPage } from './lines/pages.ts'
import { freezing, shared, withBareLink } from './lines/reports.ts'
import { manyRequests } from './lines/requests.ts'
import { sheet } from './lines/sheet.ts'
import { memory, rounds, row, type Tell } from './lines/taken.ts'

/** By the word that asks for it, in the order in which they are taken: those that write more come later. */
const lines: Readonly<Record<string, (ground: Ground, tell: Tell) => Promise<void>>> = {
  pages,
  groups: manyGroups,
  freezing,
  shared,
  sheet,
  csv,
  model: mixedModel,
  signing: signingIn,
}
const tables: Readonly<Record<string, (ground: Ground) => Promise<readonly string[]>>> = {
  requests: manyRequests,
  growth,
}

const asked = process.argv.slice(2)
const unknown = asked.filter((word) => !(word in lines) && !(word in tables))
if (unknown.length > 0) {
  process.stderr.write(`There are ${[...Object.keys(lines), ...Object.keys(tables)].join(', ')}.\n`)
  process.exit(1)
}
const isAsked = (word: string) => asked.length === 0 || asked.includes(word)

const began = performance.now()
const ground = await openGround('speed', (app) => {
  withEmptyPage(app)
  withBareLink(app)
})
try {
  const rows: string[] = []
  const tell: Tell = (line) => {
    const told = `${row(line)} ${memory()} |`
    rows.push(told)
    process.stdout.write(`${told}\n`)
  }
  for (const [word, take] of Object.entries(lines)) if (isAsked(word)) await take(ground, tell)
  const under: Record<string, readonly string[]> = {}
  for (const [word, take] of Object.entries(tables)) {
    if (!isAsked(word)) continue
    under[word] = await take(ground)
    process.stdout.write(`${word}\n${under[word].join('\n')}\n`)
  }
  if (asked.length === 0) await write(rows, under)
} finally {
  await ground.drop()
}

async function write(rows: readonly string[], { requests, growth: grown }: Record<string, readonly string[]>) {
  const [cpu] = cpus()
  const client = await bareClient(server)
  const { rows: found } = await client.query<{ server_version: string }>('show server_version')
  await client.end()
  const minutes = ((performance.now() - began) / 60_000).toFixed(0)
  const text = [
    '# What the work on ten years costs',
    '',
    'Written by `npm run bench`. Six gardens, ten seasons, 1,800 plantings, 60,000 weighings and 30,000 entries of hours, invented',
    `(large-group.ts), on PostgreSQL on the same machine; medians of ${rounds} rounds taken turn about in one process, which the`,
    'database is not part of. "At most" is what is wished for, not what is reached; the bare sums stand in summed.sql. The two lines',
    'of `/sign-in` are of a service that is a process of its own, asked in a row and not turn about. Memory is of the process after',
    'the line, everything that nobody holds thrown away: it holds whoever asks beside the service that answers. Between the turns no',
    'collection of garbage is forced. "Nothing kept" is of the process; the sums of closed seasons stand in the database, as they',
    'do after the first reading of a group, except where the line says that they are not kept either.',
    '',
    '| work | against | at most | ratio | reached | ms | ms of the other | processor, ms | of the other | memory, MB | heap, MB |',
    '| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |',
    ...rows,
    '',
    'Memory of that process around 30,000 requests by 50 connections, of which one in a hundred opens Compare and one Home:',
    '',
    '| requests | memory, MB | heap, MB |',
    '| --- | --- | --- |',
    ...(requests ?? []),
    '',
    'Compare, nothing kept, by the rows of weighings and hours (1,800 plantings each); a slope of 1 is in step with them:',
    '',
    '| rows | ms | processor, ms | slope |',
    '| --- | --- | --- | --- |',
    ...(grown ?? []),
    '',
    `${new Date().toISOString().slice(0, 10)}, in ${minutes} minutes; Node ${process.version}, PostgreSQL ${found[0]?.server_version};` +
      ` ${cpus().length} cores (${cpu?.model}); load ${loadavg()[0]?.toFixed(1)} when it ended.`,
    '',
  ]
  writeFileSync(new URL('speed.md', import.meta.url), text.join('\n'))
}
