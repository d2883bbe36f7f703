import { and, eq, getTableColumns, isNotNull, isNull, not, type SQLChunk, sql } from 'drizzle-orm'
import { changesCounted } from '../accounts/saved.queries.ts'
import type { Tx } from '../db/database.ts'
import { idOf, newId } from '../db/new-id.ts'
import { harvests, labourEntries } from '../diary/diary.table.ts'
import { whollyLost } from '../diary/first-picked.queries.ts'
import { lotsOf } from '../diary/lots.queries.ts'
import { labelsOf } from '../diary/sealed.queries.ts'
import { standingClosings } from '../diary/week.queries.ts'
import { type Author, bedsOf, gardensOf, sitesOf } from '../gardens/gardens.queries.ts'
import { deliveries, inputs } from '../inputs/inputs.table.ts'
import { held } from '../lookups/held.ts'
import { dayIn } from '../quantities/dates.ts'
import { assignmentsOf, cropsOf, plantingsOf, seasonsOf } from '../seasons/seasons.queries.ts'
import { cultivars, plantings } from '../seasons/seasons.table.ts'
import { soilTests } from '../soil/soil.table.ts'
import { type KnownRecord, knownRecord } from './known-record.ts'
import type { KindOfRows } from './row-kind.ts'
import { takenBackMark } from './rows-back.queries.ts'

export interface GroupOfRows {
  readonly id: string
  readonly currency: string
  readonly timeZone: string
  readonly locale: string
  readonly weightUnit: 'kg' | 'lb'
  readonly areaUnit: 'm2' | 'ft2'
}

/** What the lines of a file are read against, of one moment. */
export async function recordKnown(tx: Tx, group: GroupOfRows, kind: KindOfRows): Promise<KnownRecord> {
  const { id, locale, currency, weightUnit, areaUnit } = group
  return knownRecord({
    today: dayIn(group.timeZone, new Date()),
    locale,
    currency,
    weightUnit,
    areaUnit,
    sites: await sitesOf(tx, id),
    gardens: await gardensOf(tx, id),
    beds: await bedsOf(tx, id),
    seasons: await seasonsOf(tx, id),
    crops: await cropsOf(tx, id),
    plantings: await plantingsOf(tx, id),
    assignments: await assignmentsOf(tx, id),
    inputs: await inputsOf(tx, id),
    weighed: kind === 'harvests' ? await weightsOf(tx, id) : new Set(),
    lots: kind === 'harvests' ? await lotsOf(tx, id) : new Map(),
    sealed: kind === 'harvests' ? await sealedWeeks(tx, id) : new Set(),
    gone: kind === 'harvests' ? await whollyLost(tx, id) : [],
    closings: await standingClosings(tx, id),
  })
}

/** All that the lines of a file are read against, said shortly: as long as it is the same they become the same rows. */
export async function readAgainst(tx: Tx, group: GroupOfRows, numbersIn: string): Promise<string> {
  const { id, locale, currency, timeZone, weightUnit, areaUnit } = group
  const settings = [locale, currency, timeZone, weightUnit, areaUnit, numbersIn]
  return JSON.stringify([await changesCounted(tx, id), dayIn(timeZone, new Date()), ...settings])
}

async function weightsOf(tx: Tx, groupId: string): Promise<ReadonlySet<string>> {
  const rows = await tx
    .select({
      weighing: sql<string>`concat_ws(' ', ${harvests.plantingId}, ${harvests.harvestedOn},
        ${harvests.marketableG}, ${harvests.unmarketableG})`,
    })
    .from(harvests)
    .where(and(eq(harvests.groupId, groupId), isNull(harvests.removedAt), isNotNull(harvests.plantingId)))
  return new Set(rows.map((row) => row.weighing))
}

async function sealedWeeks(tx: Tx, groupId: string): Promise<ReadonlySet<string>> {
  const labels = await labelsOf(tx, groupId)
  return new Set(labels.filter((one) => one.sealed).map((one) => `${one.plantingId} ${one.isoWeek}`))
}

const inputsOf = (tx: Tx, groupId: string) =>
  tx
    .select({ id: inputs.id, name: inputs.name, unit: inputs.unit })
    .from(inputs)
    .where(and(eq(inputs.groupId, groupId), isNull(inputs.removedAt)))

/** The id of a row that a file brings, made from what its line says; of equal lines in one file each has its own. */
export const idOfLine = (groupId: string, kind: KindOfRows, content: string, occurrence: number): string =>
  idOf(groupId, kind, content, occurrence)

const tables = { harvests, labour: labourEntries, plantings, inputs: deliveries, soil: soilTests }

/**
 * Which of these rows stand in the record already, also those that were removed since; not those taken back with their
 * file.
 */
export async function alreadyThere(tx: Tx, groupId: string, kind: KindOfRows, ids: readonly string[]) {
  const table = tables[kind]
  const found = await tx
    .select({ id: table.id })
    .from(table)
    // One list, and not a thousand parameters.
    .where(
      and(eq(table.groupId, groupId), sql`${table.id} = any(${`{${ids.join(',')}}`}::uuid[])`, not(takenBack(table))),
    )
  return new Set(found.map((row) => row.id))
}

type Row = Readonly<Record<string, unknown>>

const takenBack = (table: (typeof tables)[KindOfRows]) =>
  sql`coalesce(starts_with(${table.removedReason}, ${takenBackMark}), false)`

/** Kinds whose rows name what may have to be added before them. */
export const namesOthers = (kind: KindOfRows): boolean => kind === 'plantings' || kind === 'inputs'

/**
 * Stores rows whose names are ids by now; those taken back with their file are put back, others that are there stay.
 */
export async function storeRows(tx: Tx, author: Author, kind: KindOfRows, rows: readonly Row[]): Promise<void> {
  for (const own of rowsAlike(kind, await withIds(tx, author, kind, rows))) await storeAlike(tx, author, kind, own)
}

/** Rows that have the same columns, as JSON: they go to the database as one value. */
export interface RowsAlike {
  /** Of the columns, as the code calls them. */
  readonly names: readonly string[]
  readonly count: number
  readonly json: string
}

export function rowsAlike(kind: KindOfRows, rows: readonly Row[]): RowsAlike[] {
  const columns = getTableColumns(tables[kind])
  const alike = new Map<string, Row[]>()
  for (const row of rows) {
    const names = Object.keys(row).filter((name) => name in columns && row[name] !== undefined)
    const key = names.join(' ')
    const same = alike.get(key)
    if (same) same.push(row)
    else alike.set(key, [row])
  }
  return [...alike].map(([key, own]) => ({ names: key.split(' '), count: own.length, json: JSON.stringify(own) }))
}

/** To name each cell by itself took as long as all else of the storing. */
export async function storeAlike(tx: Tx, author: Author, kind: KindOfRows, { names, json }: RowsAlike): Promise<void> {
  const table = tables[kind]
  const columns = new Map(Object.entries(getTableColumns(table)))
  const own = names.filter((name) => !(name in author)).map((name) => ({ name, column: held(columns, name) }))
  const list = (parts: readonly SQLChunk[]) => sql.join([...parts], sql`, `)
  const into = list(own.map(({ column }) => sql.identifier(column.name)))
  const given = list(own.map(({ name }) => sql.identifier(name)))
  const typed = list(own.map(({ name, column }) => sql`${sql.identifier(name)} ${sql.raw(column.getSQLType())}`))
  const set = [...columns.values()].flatMap(({ name }) => {
    if (keptForGood.includes(name)) return []
    const column = sql.identifier(name)
    return [name === 'version' ? sql`${column} = ${table.version} + 1` : sql`${column} = excluded.${column}`]
  })
  const { groupId, createdBy } = author
  await tx.execute(sql`insert into ${table} (group_id, created_by, ${into})
    select ${groupId}::uuid, ${createdBy}::uuid, ${given} from json_to_recordset(${json}::json) as given (${typed})
    on conflict (group_id, id) do update set ${list(set)} where ${takenBack(table)}`)
}

/** Every other column becomes as the line has it. */
const keptForGood: readonly string[] = ['group_id', 'id', 'created_at', 'created_by']

/** Cultivars and inputs that a line names and the group does not have yet are added, each once. */
async function withIds(tx: Tx, author: Author, kind: KindOfRows, rows: readonly Row[]): Promise<readonly Row[]> {
  if (kind === 'plantings') {
    const ids = await cultivarIds(tx, author, rows)
    return rows.map(({ cropId, cultivar, setName: _set, ...row }) => ({
      ...row,
      cultivarId: ids.get(`${cropId} ${cultivar}`),
    }))
  }
  if (kind !== 'inputs') return rows
  const ids = new Map((await inputsOf(tx, author.groupId)).map((one) => [one.name.toLowerCase(), one.id]))
  const added: (typeof inputs.$inferInsert)[] = []
  for (const { input } of rows as readonly { input: Omit<typeof inputs.$inferInsert, keyof Author | 'id'> }[]) {
    if (ids.has(input.name.toLowerCase())) continue
    const id = newId()
    ids.set(input.name.toLowerCase(), id)
    added.push({ ...author, ...input, id })
  }
  if (added.length > 0) await tx.insert(inputs).values(added)
  return rows.map(({ input, ...row }) => ({ ...row, inputId: ids.get((input as { name: string }).name.toLowerCase()) }))
}

async function cultivarIds(tx: Tx, author: Author, rows: readonly Row[]): Promise<ReadonlyMap<string, string>> {
  const found = await tx
    .select({ id: cultivars.id, cropId: cultivars.cropId, name: cultivars.name })
    .from(cultivars)
    .where(and(eq(cultivars.groupId, author.groupId), isNull(cultivars.removedAt)))
  const ids = new Map(found.map((one) => [`${one.cropId} ${one.name}`, one.id]))
  const added: (typeof cultivars.$inferInsert)[] = []
  for (const { cropId, cultivar } of rows as readonly { cropId: string; cultivar: string }[]) {
    if (ids.has(`${cropId} ${cultivar}`)) continue
    const id = newId()
    ids.set(`${cropId} ${cultivar}`, id)
    added.push({ ...author, id, cropId, name: cultivar })
  }
  if (added.length > 0) await tx.insert(cultivars).values(added)
  return ids
}
