// Sums (SHA-256) of what the pages of Compare say, for each group of one database, so that a change which must not change
// a byte can be held beside what was there before it:
//   npx tsx test/benchmark/same-bytes.ts make postgres://.../a_new_database     the example and four invented groups
//   npx tsx test/benchmark/same-bytes.ts sums postgres://.../that_database      their sums, before and after
// Two of the invented groups are plain and two hold whatever divides, moves or leaves out what is summed (odd-group.ts).
import { createHash } from 'node:crypto'
import pg from 'pg'
import { addPerson } from '../../src/accounts/members.queries.ts'
import { buildApp } from '../../src/app.ts'
import { openServer } from '../../src/db/server.ts'
import { asMember } from '../../src/db/transaction.ts'
import { copyDemo } from '../../src/demo/making.routes.ts'
import { tablesBehind } from '../../src/reports/rows.queries.ts'
import { Client } from '../support/app.ts'
import { parts } from '../support/compare.ts'
import { largeGroup, password } from './large-group.ts'
import { oddGroup } from './odd-group.ts'

const [, , what, address = ''] = process.argv
if (what === 'make') await make()
else await sums()

async function make(): Promise<void> {
  const url = new URL(address)
  const name = url.pathname.slice(1)
  url.pathname = '/postgres'
  const client = new pg.Client({ connectionString: url.href })
  await client.connect()
  await client.query(`create database ${client.escapeIdentifier(name)}`)
  await client.end()
  const database = await openServer(address)
  await database.migrate('migrations')
  await largeGroup(database, { seasons: 3, harvests: 3_000, labour: 2_000 }, 1)
  await largeGroup(database, { seasons: 10, harvests: 20_000, labour: 10_000 }, 2)
  await oddGroup(database, { seasons: 2, harvests: 1_500, labour: 900 }, 3)
  await oddGroup(database, { seasons: 4, harvests: 5_000, labour: 3_000 }, 4)
  await copyDemo(database, await addPerson(database, { name: 'Bo Fen', email: 'large-5@example.org', password }))
  await database.close()
}

async function sums(): Promise<void> {
  const database = await openServer(address)
  const app = await buildApp({ database, root: process.cwd(), secureCookies: false, trustProxy: [], demo: false })
  await app.ready()
  const all = new Map<string, ReturnType<typeof createHash>>()
  for (const number of [1, 2, 3, 4, 5]) {
    const keeper = new Client(app)
    const email = `large-${number}@example.org`
    const { slug, groupId, seasons, methods, beds } = await idsOf(email)
    const base = `/g/${slug}`
    await keeper.post('/sign-in', { email, password })
    const add = (kind: string, text: string) => {
      const sum = all.get(`${number} ${kind}`) ?? createHash('sha256')
      all.set(`${number} ${kind}`, sum.update(text))
    }
    const get = async (kind: string, path: string) => {
      const { status, text } = await keeper.get(base + path)
      add(kind, `${path} ${status} ${text.replace(/name="(_csrf|id)" value="[^"]*"/g, '')}`)
    }
    for (const season of ['all', ...seasons]) await get('compare.json', `/compare.json?season=${season}`)
    for (const choices of chosen(methods)) {
      await get('chosen.json', `/compare.json?season=all&${choices}`)
      await get('otherwise', `/compare/otherwise?season=all&${choices}`)
    }
    for (const season of ['all', seasons.at(-1)]) {
      await get('pages', `/compare?season=${season}`)
      for (const part of parts) await get('pages', `/compare/${part}?season=${season}`)
      for (const method of methods) await get('rows', `/compare/rows.json?season=${season}&method=${method}`)
      await get('rows', `/compare/rows?season=${season}&method=${methods[0]}`)
    }
    await get('rows', `/compare/rows.json?season=all&bed=${beds[0]}`)
    for (const path of ['', '/decide', '/decide/pay-back.json', '/decide/next-season', '/decide/value.json'])
      await get('others', path)
    for (const seasonIds of [seasons, seasons.slice(-1)]) {
      const who = { personId: null, groupId, readOnly: true }
      add(
        'rows of a report',
        JSON.stringify(await asMember(database, who, (tx) => tablesBehind(tx, groupId, seasonIds))),
      )
    }
  }
  for (const [of, sum] of all) process.stdout.write(`${sum.digest('hex')} ${of}\n`)
  await app.close()
  await database.close()
}

function chosen(methods: readonly string[]): string[] {
  return [
    `reference=${methods[1]}&weights=all&mix=equal+parts`,
    'outside=set+left+out&harvestWork=without&by=garden',
    'establishing=spread&area=gross&by=bed',
    'establishing=left+out&ownMade=free&by=crop',
  ]
}

async function idsOf(email: string) {
  const client = new pg.Client({ connectionString: address })
  await client.connect()
  const { rows } = await client.query<{ id: string; slug: string }>(
    `select g.id, g.slug from groups g join members m on m.group_id = g.id join people p on p.id = m.person_id
      where p.email = $1`,
    [email],
  )
  const [group = { id: '', slug: '' }] = rows
  const of = async (table: string, order: string) => {
    const found = await client.query<{ id: string }>(
      `select id from ${table} where group_id = $1 and removed_at is null order by ${order}, id`,
      [group.id],
    )
    return found.rows.map(({ id }) => id)
  }
  const found = { seasons: await of('seasons', 'starts_on'), methods: await of('methods', 'position') }
  const beds = await of('beds', 'position')
  await client.end()
  return { ...found, beds, groupId: group.id, slug: group.slug }
}
