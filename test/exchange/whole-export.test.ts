import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { Ajv } from 'ajv'
import { sql } from 'drizzle-orm'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { newId } from '../../src/db/new-id.ts'
import { asMember } from '../../src/db/transaction.ts'
import { packageTables } from '../../src/exchange/package-tables.queries.ts'
import { isMoney, isQuantity, unitOf, withoutUnit } from '../../src/exchange/units.ts'
import { type Client, openPlace, type Place } from '../support/app.ts'
import { rowsIn, unpacked } from './unpacked.ts'

interface Field {
  name: string
  type: string
  unit?: string
  currency?: string
  constraints?: { required: boolean }
}
interface Resource {
  name: string
  path: string
  bytes: number
  hash: string
  schema: {
    fields: Field[]
    primaryKey: string[]
    foreignKeys?: { fields: string[]; reference: { resource: string; fields: string[] } }[]
  }
}
interface Descriptor {
  evenground: { format: number; changes: number }
  resources: Resource[]
}

const staysHere = [
  ...['members', 'invitations', 'group_counters', 'group_endings'],
  ...['package_origins', 'awaited_people'],
  ...['guesses', 'name_agreements'],
  ...['share_links', 'link_openings'],
  'waiting_files',
  'season_sums',
]

let place: Place
let keeper: Client
let slug: string
let bytes: Buffer
let files: Map<string, Buffer>
let descriptor: Descriptor

beforeAll(async () => {
  place = await openPlace()
  keeper = await place.person()
  slug = (await keeper.post('/demo/copy')).location.split('/')[2] ?? ''
  bytes = await keeper.download(`/g/${slug}/exchange/export.zip`)
  files = await unpacked(bytes)
  descriptor = JSON.parse(files.get('datapackage.json')?.toString('utf8') ?? '{}') as Descriptor
})
afterAll(() => place.close())

const resource = (name: string) => descriptor.resources.find((one) => one.name === name) as Resource
const rows = (name: string) => rowsIn(files.get(resource(name).path))

it('holds every table of a group, but not who may come in', async () => {
  const found = (await asMember(place.database, { personId: null, groupId: newId() }, (tx) =>
    tx.execute(sql`select distinct table_name::text as name from information_schema.columns
      where table_schema = 'public' and column_name = 'group_id'`),
  )) as unknown as { rows: { name: string }[] }
  const names = found.rows.map((row) => row.name).filter((name) => !staysHere.includes(name))
  expect(descriptor.resources.map((one) => one.name)).toEqual([...names, 'groups'].sort())
  const paths = descriptor.resources.map((one) => one.path)
  expect([...files.keys()]).toEqual([...paths, 'datapackage.json', 'signature.json'])
  expect(rows('harvests').length).toBeGreaterThan(400)
})

describe('is what the published profiles of the Frictionless specifications (version 1) call', () => {
  const profile = (name: string) => {
    const { $schema: _draft, ...schema } = JSON.parse(readFileSync(`test/exchange/profiles/${name}.json`, 'utf8'))
    // The profiles are of draft 4; what this reader knows under newer drafts is the same for all that they say.
    return new Ajv({ strict: false, validateFormats: false }).compile(schema as object)
  }

  it('a Tabular Data Package', () => {
    const valid = profile('tabular-data-package')
    expect([valid(descriptor), valid.errors]).toEqual([true, null])
    expect(valid({ ...descriptor, profile: 'data-package' })).toBe(false)
    const [first, ...others] = descriptor.resources
    expect(valid({ ...descriptor, resources: [{ ...first, name: 'Beds & more' }, ...others] })).toBe(false)
  })

  it('Table Schemas', () => {
    const valid = profile('table-schema')
    for (const { name, schema } of descriptor.resources)
      expect([name, valid(schema), valid.errors]).toEqual([name, true, null])
    const { schema } = resource('beds')
    expect(valid({ ...schema, fields: [{ name: 'area_cm2', type: 'area' }] })).toBe(false)
  })
})

it('says of every file how long it is, and its SHA-256', () => {
  for (const { path, bytes: length, hash } of descriptor.resources) {
    const file = files.get(path) ?? Buffer.alloc(0)
    expect([path, length, hash]).toEqual([
      path,
      file.length,
      `sha256:${createHash('sha256').update(file).digest('hex')}`,
    ])
  }
})

it('has values of the types that it says, keys that are unique and references that are met', () => {
  const pattern: Record<string, RegExp> = {
    integer: /^-?\d+$/,
    number: /^-?\d+(\.\d+)?$/,
    date: /^\d{4}-\d\d-\d\d$/,
    datetime: /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z$/,
    object: /^\{.*\}$/s,
    array: /^\[.*\]$/s,
    string: /^/,
  }
  const wrong: string[] = []
  let [values, references] = [0, 0]
  for (const { name, schema } of descriptor.resources) {
    const found = rows(name)
    const key = (row: Record<string, string>, fields: string[]) => fields.map((field) => row[field]).join(' ')
    if (new Set(found.map((row) => key(row, schema.primaryKey))).size !== found.length) wrong.push(`${name}: key`)
    for (const row of found)
      for (const { name: field, type, constraints } of schema.fields) {
        const value = row[field] ?? ''
        values += 1
        if (value === '' ? constraints?.required : !pattern[type]?.test(value)) wrong.push(`${name}.${field}: ${value}`)
      }
    for (const { fields, reference } of schema.foreignKeys ?? []) {
      const there = new Set(rows(reference.resource).map((row) => key(row, reference.fields)))
      const here = found.filter((row) => fields.every((field) => row[field] !== ''))
      references += here.length
      for (const row of here) if (!there.has(key(row, fields))) wrong.push(`${name}: ${fields.join()}`)
    }
  }
  expect(wrong).toEqual([])
  expect(values).toBeGreaterThan(10_000)
  expect(references).toBeGreaterThan(5_000)
})

it('names the unit of every whole number, or is on the list of those that have none', async () => {
  const tables = await asMember(place.database, { personId: null, groupId: newId() }, packageTables)
  const numbers = tables.flatMap(({ name, columns }) =>
    columns
      .filter(({ type }) => ['integer', 'bigint', 'numeric'].includes(type))
      .map((column) => [name, column.name] as const),
  )
  expect(numbers.length).toBeGreaterThan(40)
  const nameless = numbers.filter(
    ([, column]) => !unitOf(column) && !isMoney(column) && !isQuantity(column) && !withoutUnit.has(column),
  )
  expect(nameless).toEqual([])
  const field = (table: string, name: string) => resource(table).schema.fields.find((one) => one.name === name)
  expect(field('harvests', 'marketable_g')?.unit).toBe('g')
  expect(field('beds', 'area_cm2')?.unit).toBe('cm2')
  expect(field('labour_entries', 'person_minutes')?.unit).toBe('min')
  expect(field('crops', 'usual_yield_g_per_m2')?.unit).toBe('g/m2')
  expect(field('deliveries', 'price_minor')?.currency).toBe('NZD')
})

it('names no member and no address, and holds the whole history', async () => {
  const all = [...files.values()].map((file) => file.toString('utf8')).join('\n')
  expect(all).not.toContain('Ada Rook')
  expect(all).not.toContain('@example.org')
  const history = rows('changes')
  expect(history.map((row) => row.number)).toEqual(
    Array.from({ length: descriptor.evenground.changes }, (_, place) => String(place + 1)),
  )
  expect(history.filter((row) => row.table_name === 'harvests').length).toBeGreaterThanOrEqual(rows('harvests').length)
})

it('is the same file, byte for byte, from the same record', async () => {
  const again = await keeper.download(`/g/${slug}/exchange/export.zip`)
  expect(again.equals(bytes)).toBe(true)
  await keeper.post(`/g/${slug}/gardens/sites`, { id: newId(), name: 'Far Field' })
  const later = await unpacked(await keeper.download(`/g/${slug}/exchange/export.zip`))
  expect(later.get('data/sites.csv')?.equals(files.get('data/sites.csv') ?? Buffer.alloc(0))).toBe(false)
  expect(later.get('data/harvests.csv')?.equals(files.get('data/harvests.csv') ?? Buffer.alloc(0))).toBe(true)
})

it('keeps text exactly: commas, quote marks, line breaks, a formula, letters of any script', async () => {
  const name = 'Bank, "upper"\r\n=1+1 – Øst 畑'
  const typed = await keeper.post(`/g/${slug}/gardens/methods`, { id: newId(), name: 'Mown hay', workingRules: name })
  expect(typed.status).toBe(303)
  const later = await unpacked(await keeper.download(`/g/${slug}/exchange/export.zip`))
  expect(rowsIn(later.get('data/methods.csv')).find((row) => row.name === 'Mown hay')?.working_rules).toBe(name)
})

it('says on its page what is in it, to a keeper with the way to it', async () => {
  const page = await keeper.get(`/g/${slug}/exchange`)
  expect(page.text).toContain('export.zip')
  expect(page.text).toContain('no names of members')
})
