import { catalogue } from '../words/catalogue.ts'
import type { ForeignKey, PackageColumn, PackageTable } from './package-table.ts'
import { isMoney, isQuantity, unitOf } from './units.ts'

export interface GroupDescribed {
  readonly slug: string
  readonly name: string
  readonly currency: string
  readonly timeZone: string
}

export interface WrittenFile {
  readonly table: PackageTable
  readonly bytes: number
  readonly sha256: string
}

/** Raised when what a package holds can no longer be read as before. */
export const packageFormat = 2
/** From this one on a text that a spreadsheet would run as a formula stands behind a quote mark. */
export const formatDefused = 2

/**
 * `datapackage.json` after the Tabular Data Package and Table Schema specifications, version 1
 * (specs.frictionlessdata.io).
 */
export function descriptorOf(
  group: GroupDescribed,
  files: readonly WrittenFile[],
  { changes, sumOfPeople }: { changes: number; sumOfPeople: string },
): object {
  const words = catalogue.exchange.descriptor
  return {
    profile: 'tabular-data-package',
    name: group.slug,
    title: group.name,
    description: words.description,
    evenground: {
      format: packageFormat,
      changes,
      currency: group.currency,
      timeZone: group.timeZone,
      ...(sumOfPeople ? { people: `sha256:${sumOfPeople}` } : {}),
    },
    resources: files.map(({ table, bytes, sha256 }) => ({
      profile: 'tabular-data-resource',
      name: table.name,
      path: pathOf(table.name),
      format: 'csv',
      mediatype: 'text/csv',
      encoding: 'utf-8',
      bytes,
      hash: `sha256:${sha256}`,
      dialect: { delimiter: ',', lineTerminator: '\r\n', quoteChar: '"', doubleQuote: true, header: true },
      schema: schemaOf(table, group.currency),
    })),
  }
}

export const pathOfPeople = 'people.json'
export const pathOfSignature = 'signature.json'
export const pathOf = (table: string) => `data/${table}.csv`

function schemaOf(table: PackageTable, currency: string) {
  return {
    fields: table.columns.map((column) => fieldOf(table.name, column, currency)),
    primaryKey: table.primaryKey,
    ...(table.foreignKeys.length > 0 ? { foreignKeys: table.foreignKeys.map(referenceOf) } : {}),
    missingValues: [''],
  }
}

const referenceOf = (key: ForeignKey) => ({
  fields: key.columns,
  reference: { resource: key.table, fields: key.foreignColumns },
})

function fieldOf(table: string, { name, type, required }: PackageColumn, currency: string) {
  const words = catalogue.exchange.descriptor
  const unit = unitOf(name)
  return {
    name,
    ...typeOf(table, name, type),
    ...(unit ? { unit } : {}),
    ...(isMoney(name) ? { currency, description: words.money } : {}),
    ...(isQuantity(name) ? { description: words.quantity } : {}),
    ...(required ? { constraints: { required: true } } : {}),
  }
}

/** Columns of JSON that hold a list; the others hold an object. */
const lists = ['stocks.log', 'reports.sections', 'reports.pictures']

function typeOf(table: string, name: string, type: string): { type: string; format?: string } {
  switch (type) {
    case 'uuid':
      return { type: 'string', format: 'uuid' }
    case 'bytea':
      return { type: 'string', format: 'binary' }
    case 'integer':
    case 'bigint':
      return { type: 'integer' }
    case 'numeric':
      return { type: 'number' }
    case 'date':
      return { type: 'date' }
    case 'timestamp with time zone':
      return { type: 'datetime', format: '%Y-%m-%dT%H:%M:%S.%fZ' }
    case 'jsonb':
      return { type: lists.includes(`${table}.${name}`) ? 'array' : 'object' }
    case 'text':
      return { type: 'string' }
    default:
      throw new Error(`No type of the Table Schema is known for ${table}.${name}, ${type}.`)
  }
}
