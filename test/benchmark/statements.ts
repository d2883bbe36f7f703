// How many statements and bytes each page of the example takes, opened twice: with nothing kept of the group, and again;
// its bytes as they are and compressed.
// npm run bench:statements; with BENCHMARK_SERVER another server than the usual one. Writes statements.md.
import { writeFileSync } from 'node:fs'
import pg from 'pg'
import { groups } from '../../src/accounts/accounts.table.ts'
import { addPerson } from '../../src/accounts/members.queries.ts'
import { buildApp } from '../../src/app.ts'
import { newId } from '../../src/db/new-id.ts'
import { openServer } from '../../src/db/server.ts'
import { copyDemo } from '../../src/demo/making.routes.ts'
import { Client } from '../support/app.ts'
import { password } from './large-group.ts'

const server = process.env.BENCHMARK_SERVER ?? 'postgres://root@127.0.0.1:5432/postgres'
const name = `evenground_statements_${process.pid}`
const url = new URL(server)
url.pathname = `/${name}`

await onServer(`create database ${name}`)
const database = await openServer(url.href)
try {
  await database.migrate('migrations')
  await copyDemo(database, await addPerson(database, { name: 'Bo Fen', email: 'bo@example.org', password }))
  const app = await buildApp({ database, root: process.cwd(), secureCookies: false, trustProxy: [], demo: false })
  await app.ready()
  const keeper = new Client(app)
  const home = await keeper.post('/sign-in', { email: 'bo@example.org', password })
  const found = await database.drizzle.select({ slug: groups.slug }).from(groups)
  if (home.status !== 303) throw new Error(`Signing in answers ${home.status}`)
  const base = `/g/${found[0]?.slug}`
  const first = async (of: string) =>
    new RegExp(`/${of}/[0-9a-f-]{36}`).exec((await keeper.get(`${base}/${of}`)).text)?.[0] ?? ''
  const pages: readonly (readonly [string, string])[] = [
    ['Home', ''],
    ['a week', '/weeks/2025-W30'],
    ['its paper sheet', '/weeks/2025-W30/sheet'],
    ['seasons', '/seasons'],
    ['a season', await first('seasons')],
    ["a garden's year", await first('gardens')],
    ['inputs', '/inputs'],
    ['Compare, one season', '/compare'],
    ['Compare, all seasons', '/compare?season=all'],
    ['Compare: why', '/compare/why?season=all'],
    ['`compare.json`, all seasons', '/compare.json?season=all'],
    ['reports', '/reports'],
    ['Decide', '/decide'],
    ['soil', '/soil'],
    ['people', '/people'],
  ]
  let statements = 0
  const original = pg.Client.prototype.query
  Object.defineProperty(pg.Client.prototype, 'query', {
    configurable: true,
    value: function counted(this: pg.Client, ...given: unknown[]) {
      statements += 1
      return Reflect.apply(original, this, given)
    },
  })
  const opened = async (path: string, encoding: 'gzip' | 'identity') => {
    statements = 0
    const headers = { cookie: keeper.cookieHeader().join('; '), 'accept-encoding': encoding }
    const answer = await app.inject({ url: base + path, headers })
    if (answer.statusCode !== 200) throw new Error(`${path} answers ${answer.statusCode}`)
    return { statements, bytes: answer.rawPayload.length }
  }
  const lines: string[] = []
  for (const [label, path] of pages) {
    await database.drizzle.execute('update group_counters set changes = changes + 1')
    const [cold, again] = [await opened(path, 'gzip'), await opened(path, 'gzip')]
    const plain = await opened(path, 'identity')
    const times = (plain.bytes / again.bytes).toFixed(1)
    lines.push(`| ${label} | ${cold.statements} | ${again.statements} | ${plain.bytes} | ${again.bytes} | ${times} |`)
  }
  const sheet = await keeper.get((await keeper.get(`${base}/weeks`)).location)
  const cell = /name="(w\[[\w-]{36}\])\[good\]"/.exec(sheet.text)?.[1]
  const address = new RegExp(`action="(${base}/weeks/[\\dW-]+)"`).exec(sheet.text)?.[1] ?? ''
  /** A weight of its own each time. */
  const saved = async (grams: number) => {
    statements = 0
    const typed = { id: newId(), to: 'save', [`${cell}[good]`]: `${grams} g`, [`${cell}[surely]`]: 'yes' }
    const { status } = await keeper.post(address, typed)
    if (status !== 303) throw new Error(`A sheet is answered ${status}`)
    return statements
  }
  await database.drizzle.execute('update group_counters set changes = changes + 1')
  const firstSheet = await saved(410)
  // The count that was moved by hand has no change: what is kept is kept by the first that follows.
  await saved(420)
  const nextSheet = await saved(430)
  await app.close()
  const text = `# Statements and bytes a page

Written by \`npm run bench:statements\`, on PostgreSQL, over a copy of the example, by its keeper. A statement is
whatever goes to the database for one answer, the beginnings and ends of transactions and their settings among them (three
each); one of them is the guard's. Home, a week, a season, a garden's year and Compare are kept as whole pages. A
browser asks for gzip and gets the compressed bytes.

| page | statements, nothing kept | opened again | bytes | compressed | times fewer |
| --- | --- | --- | --- | --- | --- |
${lines.join('\n')}

A sheet that is saved takes ${firstSheet} statements where nothing is kept and ${nextSheet} after another one, whatever number of rows it has;
these go out in five pieces, each of which waits for the one before.
`
  process.stdout.write(text)
  writeFileSync(new URL('statements.md', import.meta.url), text)
} finally {
  await database.close()
  await onServer(`drop database ${name} with (force)`)
}

async function onServer(statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: server })
  await client.connect()
  await client.query(statement)
  await client.end()
}
