import { createHash } from 'node:crypto'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { broughtFrom } from '../../src/exchange/bring-in.routes.ts'
import { RefusedPackage } from '../../src/exchange/refused-package.ts'
import { exactLine } from '../../src/web/csv.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { setUpTrial } from '../support/trial.ts'
import { packed, rowsIn, unpacked } from './unpacked.ts'

interface Resource {
  name: string
  path: string
  hash: string
  schema: { fields: { name: string; type: string; format?: string }[] }
}
interface Descriptor {
  evenground: { format: number; changes: number }
  resources: Resource[]
}

let place: Place
let person: Client
let personId: string
let files: Map<string, Buffer>
let described: string
/** The tables that have rows, by path. */
const parsed = new Map<string, Record<string, string>[]>()
let theirs: string
let folder: string
beforeAll(async () => {
  const old = await openPlace()
  const trial = await setUpTrial(old)
  const week = `${trial.base}/weeks/2026-W05`
  const planting = Object.values(trial.plantings)[0]
  await trial.keeper.post(`${week}/harvests`, {
    id: newId(),
    plantingId: planting,
    pickedOn: '2026-01-28',
    weight: '2 kg',
  })
  await trial.keeper.post(`${trial.base}/gardens/sites`, { id: newId(), name: 'Far Acre' })
  files = await unpacked(await trial.keeper.download(`${trial.base}/exchange/export.zip`))
  described = files.get('datapackage.json')?.toString() ?? ''
  for (const [path, bytes] of files) {
    const table = path.endsWith('.csv') ? rowsIn(bytes) : []
    if (table.length > 0) parsed.set(path, table)
  }
  await old.close()
  place = await openPlace()
  const neighbour = await place.keeper()
  theirs = await idOf(`select id from groups where slug = '${neighbour.slug}'`)
  person = await place.person()
  personId = await idOf(`select id from people where email = '${person.email}'`)
  folder = mkdtempSync(join(tmpdir(), 'evenground-forged-'))
})
afterAll(async () => {
  rmSync(folder, { recursive: true, force: true })
  await place.close()
})

async function rows<T>(query: string): Promise<T[]> {
  return ((await place.database.drizzle.execute(sql.raw(query))) as unknown as { rows: T[] }).rows
}
const idOf = async (query: string) => (await rows<{ id: string }>(query))[0]?.id ?? ''

/** The same numbers each time (a linear congruence, Numerical Recipes, 2nd edition, page 284). */
let state = 20_261_129
function below(most: number): number {
  state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
  return Math.floor((state / 2 ** 32) * most)
}
const oneOf = <T>(list: readonly T[]): T => list[below(list.length)] as T

const texts = [
  ...['', ' ', '\0', "'; DROP TABLE groups; --", '<script>alert(1)</script>', '=HYPERLINK("x")', '../../etc/passwd'],
  ...['${7*7}', '%s%n', '\u202egnp', 'x'.repeat(70_000), '🌱'.repeat(2000), 'NaN', 'null', '{}', '[]', '"', '\r\n'],
]
const numbers = [
  '-1',
  '0',
  '2147483648',
  '9223372036854775807',
  '99999999999999999999',
  '1e9',
  '0.5',
  'NaN',
  'Infinity',
  '',
]
const days = ['0000-01-01', '9999-12-31', '2026-02-30', 'infinity', '-infinity', 'now', '1900-01-01', '']
const documents = [
  '',
  '{',
  'null',
  '[]',
  '{}',
  '1',
  '"x"',
  `${'['.repeat(5000)}${']'.repeat(5000)}`,
  '{"__proto__":{"a":1}}',
]

function hostile({ type, format, name }: Resource['schema']['fields'][number]): string {
  if (format === 'uuid') return oneOf([newId(), theirs, personId, '', 'abc', '00000000-0000-0000-0000-000000000000'])
  if (format === 'binary') return oneOf(['', 'x', '====', 'AAAA'.repeat(50_000)])
  if (type === 'integer' || type === 'number') return oneOf(numbers)
  if (type === 'date' || type === 'datetime') return oneOf(days)
  if (type === 'object' || type === 'array') return oneOf(documents)
  return name === 'slug' ? oneOf(['', '../x', 'a'.repeat(500), ...texts]) : oneOf(texts)
}

type Forged = { what: string; made: Map<string, Buffer> }

/** One thing of an export made otherwise, its sum set right, so that nothing but the rules can refuse it. */
function forged(): Forged {
  const descriptor = JSON.parse(described) as Descriptor
  const one = oneOf(descriptor.resources.filter(({ path }) => parsed.has(path)))
  const made = new Map(files)
  const table = structuredClone(parsed.get(one.path) ?? [])
  const at = below(table.length)
  const row = table[at] as Record<string, string>
  const field = oneOf(one.schema.fields)
  let what = `${one.name}.${field.name}`
  switch (below(12)) {
    case 0:
      table.push({ ...row })
      what = `${one.name} twice`
      break
    case 1:
      table.push({ ...row, ...(row.id ? { id: newId() } : {}) })
      what = `${one.name} with another id`
      break
    case 2:
      table.splice(at, 1)
      what = `${one.name} without a row`
      break
    case 3:
      for (const each of table) each[one.name === 'groups' ? 'id' : 'group_id'] = theirs
      what = `${one.name} of another group`
      break
    case 4:
      one.schema.fields = one.schema.fields.filter((each) => each !== field)
      what += ' left out'
      break
    case 5:
      descriptor.evenground.changes = oneOf([0, 1, 2 ** 53 - 1, 2 ** 40])
      what = 'the count of changes'
      break
    default:
      row[field.name] = hostile(field)
      what += ` = ${JSON.stringify(row[field.name]).slice(0, 40)}`
  }
  const names = one.schema.fields.map(({ name }) => name)
  const text = [names, ...table.map((each) => names.map((name) => each[name] || null))].map(exactLine).join('')
  made.set(one.path, Buffer.from(text))
  one.hash = `sha256:${createHash('sha256').update(text).digest('hex')}`
  made.set('datapackage.json', Buffer.from(JSON.stringify(descriptor)))
  return { what, made }
}

/** All rows that stand in this installation but for those of one group, told by a sum a table. */
async function standing(but: string): Promise<string> {
  const tables = await rows<{ name: string }>(`select c.relname::text as name from pg_class c join pg_attribute a
    on a.attrelid = c.oid and a.attname = 'group_id' where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace`)
  const sums = tables.map(
    ({
      name,
    }) => `select '${name}' as name, count(*) || ' ' || coalesce(sum(hashtext(t::text)), 0) as sum from ${name} t
      where group_id <> '${but}'`,
  )
  return JSON.stringify(
    await rows(`${sums.join(' union all ')} union all select 'groups', count(*)::text || ' ' ||
    coalesce(sum(hashtext(g::text)), 0) from groups g where id <> '${but}' order by name`),
  )
}

async function forget(group: string): Promise<void> {
  const tables = await rows<{ name: string }>(`select c.relname::text as name from pg_class c join pg_attribute a
    on a.attrelid = c.oid and a.attname = 'group_id' where c.relkind in ('r', 'p') and c.relnamespace = 'public'::regnamespace`)
  const all = tables.map(({ name }) => `delete from ${name} where group_id = '${group}';`)
  await rows(`do $$ begin set local session_replication_role = replica; ${all.join(' ')}
    delete from groups where id = '${group}'; end $$`)
}

const pages = ['', '/weeks', '/compare', '/seasons', '/gardens', '/crops', '/history', '/exchange', '/people']
const pagesOpened = 10
/** In every run a sample, the first of the same five hundred; `npm run test:forged` makes all of them. */
const packages = Number(process.env.FORGED_PACKAGES ?? 100)

it('forged packages, field by field: each is refused with a reason or does no harm', async () => {
  const group = rowsIn(files.get('data/groups.csv'))[0]?.id ?? ''
  const before = await standing(group)
  const counted = { refused: 0, broughtIn: 0 }
  const broken: string[] = []
  for (let i = 0; i < packages; i++) {
    const { what, made } = forged()
    const file = join(folder, 'export.zip')
    writeFileSync(file, await packed(made, false))
    try {
      const { slug } = await broughtFrom(place.database, file, personId)
      counted.broughtIn += 1
      if (counted.broughtIn <= pagesOpened) {
        for (const page of pages) {
          const { status } = await person.get(`/g/${slug}${page}`)
          if (status >= 500) broken.push(`${what}: ${page} ${status}`)
        }
      }
      const brought = await idOf(`select id from groups where slug = '${slug}'`)
      if (brought !== group) broken.push(`${what}: another group came in`)
      await forget(brought)
    } catch (error) {
      if (error instanceof RefusedPackage) counted.refused += 1
      else
        broken.push(
          `${what}: ${String(error).slice(0, 200)} ${String((error as { cause?: unknown }).cause).slice(0, 200)}`,
        )
    }
  }
  expect(broken).toEqual([])
  expect(counted.refused + counted.broughtIn).toBe(packages)
  expect(Math.min(counted.refused, counted.broughtIn)).toBeGreaterThan(packages / 10)
  expect(await standing(group)).toBe(before)
}, 400_000)
