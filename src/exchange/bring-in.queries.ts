import { randomBytes } from 'node:crypto'
import { type SQL, sql } from 'drizzle-orm'
import { members } from '../accounts/accounts.table.ts'
import { awaitPeople, type PersonMoved } from '../accounts/awaited.queries.ts'
import { codeOf, constraintOf } from '../db/constraint.ts'
import type { Database, Tx } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { sent } from '../lookups/unsaid.ts'
import { inOrderOfReference, type PackageColumn, type PackageTable } from './package-table.ts'
import { packageTables, rowsAnswered, staysHere } from './package-tables.queries.ts'
import { RefusedPackage } from './refused-package.ts'
import type { Seal } from './seal.ts'
import { keepOrigin } from './signing.queries.ts'

export type BroughtRow = Readonly<Record<string, string | null>>

export interface BroughtTable {
  readonly name: string
  readonly columns: readonly string[]
  readonly pages: () => AsyncIterable<BroughtRow[]>
}

export interface Package {
  readonly changes: number
  readonly tables: readonly BroughtTable[]
  readonly seal: Seal
  /** Who was in the group where it comes from, where it moved with them. */
  readonly people: readonly PersonMoved[]
}

interface Bringing {
  readonly personId: string
  /** The group's own row, its settings found to be right. */
  readonly group: BroughtRow
  /** Whether what a frozen report kept can be shown. */
  readonly isReport: (contents: unknown, rows: unknown) => boolean
}

/**
 * Brings a whole group back, in one transaction: all of it or nothing. The person becomes its keeper; answers its
 * address.
 */
export function bringIn(
  database: Database,
  brought: Package,
  { personId, group, isReport }: Bringing,
): Promise<string> {
  const groupId = sent(group.id)
  let at = 'groups'
  return asMember(database, { personId, groupId }, async (tx) => {
    const ours = await packageTables(tx)
    checkKnown(brought.tables, ours)
    const slug = await begin(tx, group)
    for (const table of inOrderOfReference(ours)) {
      const file = brought.tables.find((one) => one.name === table.name)
      if (!file) continue
      at = table.name
      const columns = table.columns.filter((column) => file.columns.includes(column.name))
      for await (const page of file.pages()) {
        if (table.name === 'groups' && page.length !== 1) throw new RefusedPackage('noGroup')
        const rows = table.name === 'groups' ? page.map((row) => ({ ...row, slug })) : page
        checkOwn(rows, table, groupId)
        if (table.name === 'changes') checkHistory(rows)
        if (table.name === 'reports') checkReports(rows, isReport)
        await tx.execute(
          table.name === 'changes' ? insertHistory(rows.map(withoutWhatStays)) : insert(table.name, columns, rows),
        )
      }
    }
    await tx.insert(members).values({ groupId, personId, role: 'keeper' })
    await keepOrigin(tx, groupId, brought.seal)
    await awaitPeople(tx, groupId, personId, brought.people)
    await tx.execute(sql`select public.end_bringing_in(${brought.changes}::bigint)`)
    return slug
  }).catch((error: unknown) => {
    throw refusalOf(error, at) ?? error
  })
}

/** An older export told of single members and of links in its history, and in tables that are passed over. */
const withoutWhatStays = (row: BroughtRow): BroughtRow =>
  staysHere.includes(sent(row.table_name)) ? { ...row, before: null, after: null, reason: null } : row

/** A table or column of a later version would be lost without a word. */
function checkKnown(brought: readonly BroughtTable[], ours: readonly PackageTable[]): void {
  for (const { name, columns } of brought.filter((one) => !staysHere.includes(one.name))) {
    const table = ours.find((one) => one.name === name)
    if (!table) throw new RefusedPackage('unknownTable', name)
    const unknown = columns.find((column) => !table.columns.some((one) => one.name === column))
    if (unknown) throw new RefusedPackage('unknownColumn', `${name}.${unknown}`)
  }
}

function checkOwn(rows: readonly BroughtRow[], table: PackageTable, groupId: string): void {
  const column = table.name === 'groups' ? 'id' : 'group_id'
  if (rows.some((row) => row[column] !== groupId)) throw new RefusedPackage('notItsGroup', table.name)
}

/** What a row was and is are documents of columns, and the instant is one: the pages of history read them. */
function checkHistory(rows: readonly BroughtRow[]): void {
  const isDocument = (text: string | null | undefined) => {
    if (text === null || text === undefined) return true
    const doc = parsed(text)
    return typeof doc === 'object' && doc !== null && !Array.isArray(doc)
  }
  const sound = (row: BroughtRow) =>
    isDocument(row.before) && isDocument(row.after) && Number.isFinite(Date.parse(sent(row.changed_at)))
  if (!rows.every(sound)) throw new RefusedPackage('againstRules', 'changes')
}

function checkReports(rows: readonly BroughtRow[], isReport: Bringing['isReport']): void {
  const sound = ({ state, contents, rows: behind }: BroughtRow) =>
    state !== 'frozen' || isReport(parsed(sent(contents)), behind ? parsed(behind) : null)
  if (!rows.every(sound)) throw new RefusedPackage('againstRules', 'reports')
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return undefined
  }
}

/** The address that the group had, with four letters more where another group has it here. */
async function begin(tx: Tx, { id, slug }: BroughtRow): Promise<string> {
  const wanted = /^[a-z0-9-]{1,60}$/.test(sent(slug)) ? sent(slug) : 'group'
  const [begun] = await rowsAnswered<{ taken: boolean }>(
    tx.execute(sql`select public.begin_bringing_in(${id}::uuid, ${wanted}) as taken`),
  )
  return begun?.taken ? `${wanted}-${randomBytes(2).toString('hex')}` : wanted
}

/** Every value travels as text and is read by the database itself, so that none is rounded on its way. */
function insert(table: string, columns: readonly PackageColumn[], rows: readonly BroughtRow[]): SQL {
  const names = columns.map(({ name }) => sql.identifier(name))
  const values = columns.map(({ name, type }) => readAs(sql`r.${sql.identifier(name)}`, type))
  const texts = columns.map(({ name }) => sql`${sql.identifier(name)} text`)
  return sql`insert into public.${sql.identifier(table)} (${sql.join(names, sql`, `)})
    select ${sql.join(values, sql`, `)}
    from jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) as r(${sql.join(texts, sql`, `)})`
}

const readAs = (text: SQL, type: string): SQL =>
  type === 'bytea' ? sql`decode(${text}, 'base64')` : sql`${text}::${sql.raw(type)}`

const insertHistory = (rows: readonly BroughtRow[]) =>
  sql`select public.bring_in_history(${JSON.stringify(rows)}::jsonb)`

/** What the database refuses: the group is here, a rule of the record speaks against it, or a value is none. */
function refusalOf(error: unknown, at: string): RefusedPackage | undefined {
  const constraint = constraintOf(error)
  if (constraint === 'group_is_here_already' || constraint === 'groups_pkey') return new RefusedPackage('hereAlready')
  if (constraint) return new RefusedPackage('againstRules', constraint)
  // Class 22 are values that cannot be read, class 23 those that the record's rules refuse.
  return /^(22|23)/.test(codeOf(error)) ? new RefusedPackage('againstRules', at) : undefined
}
