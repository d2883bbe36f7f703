import type { Database, Tx } from '../db/database.ts'
import { asMember } from '../db/transaction.ts'
import { afterManyRows } from '../db/upkeep.ts'
import { holdClosings } from '../diary/week.queries.ts'
import { numberIn, sent } from '../lookups/unsaid.ts'
import { dayOrderOf, type WrittenAs } from '../quantities/written-days.ts'
import { typedRecords } from '../web/csv-reader.ts'
import { catalogue } from '../words/catalogue.ts'
import { harvestRows } from './harvest-rows.form.ts'
import { inputRows } from './input-rows.form.ts'
import type { KnownRecord } from './known-record.ts'
import { labourRows } from './labour-rows.form.ts'
import { DayColumns, valuesOf, withIsoDays } from './line-values.ts'
import { plantingRows } from './planting-rows.form.ts'
import { cellsOf, contentOf, type Heading, readHeading } from './row-cells.ts'
import { type KindOfRows, type RowKind, type RowRead, type WrongCell, wrongAt } from './row-kind.ts'
import { firstWritten } from './rows-back.queries.ts'
import { alreadyThere, type GroupOfRows, idOfLine, recordKnown, storeRows } from './rows-in.queries.ts'
import { makeSets, setsFor } from './sets-of-file.queries.ts'
import { type SetsBrought, setsBroughtBy } from './sets-of-file.ts'
import { soilRows } from './soil-rows.form.ts'

export const rowKinds: Readonly<Record<KindOfRows, RowKind>> = {
  harvests: harvestRows,
  labour: labourRows,
  plantings: plantingRows,
  inputs: inputRows,
  soil: soilRows,
}

const says = catalogue.rows.refused
const linesAtOnce = 500
const mostLines = 100_000
const shownAtMost = 10
const asksKept = 100
/** Of a cell: the longest field of a page takes fewer. */
const mostLetters = 4_000
/** Wrong cells that are kept to be listed: reading stops there, since a file with more is wrong from its heading on. */
const mostWrong = 20_000

interface WrongLine extends WrongCell {
  readonly line: number
}

/** A file on its way into the record: read and checked first, stored when that is confirmed. */
export interface RowsJob {
  readonly group: GroupOfRows
  readonly personId: string | null
  readonly kind: KindOfRows
  readonly file: string
  /** The locale that the file writes its numbers in. */
  readonly numbersIn: string
  /** What was found so far. */
  found: Found
}

/** What reading a file found. Kept small: no row stays longer than its turn, only what is wrong and the first few. */
interface Found {
  lines: number
  fresh: number
  there: number
  heading: Heading | null
  readonly wrong: WrongLine[]
  readonly preview: (readonly string[])[]
  asked: number
  /** Plantings, whose matched sets are told over the whole file. */
  readonly brought: SetsBrought[]
  unmatched: readonly { readonly line: number; readonly name: string }[]
  readonly asks: { readonly line: number; readonly ask: string }[]
}

const nothingFound = (): Found => ({
  lines: 0,
  fresh: 0,
  there: 0,
  heading: null,
  asked: 0,
  wrong: [],
  preview: [],
  asks: [],
  brought: [],
  unmatched: [],
})

/** Nothing is read yet. */
export const jobOf = (given: Omit<RowsJob, 'found'>): RowsJob => ({ ...given, found: nothingFound() })

/** Reads the file against the record, beside the pages; what it finds stands in the job. */
export async function checkFile(database: Database, job: RowsJob): Promise<void> {
  const who = { personId: job.personId, groupId: job.group.id, readOnly: true }
  const known = await asMember(database, who, (tx) => recordKnown(tx, job.group, job.kind))
  const lookUp = (ids: readonly string[]) =>
    asMember(database, who, (tx) => alreadyThere(tx, job.group.id, job.kind, ids))
  await passOver(job, known, { lookUp, take: async () => undefined })
  const sets = await asMember(database, who, (tx) => setsFor(tx, job.group.id, job.found.brought))
  job.found.unmatched = sets.unmatched.map(({ line, cultivarName: name }) => ({ line, name }))
}

class NoLongerRight extends Error {}

/**
 * Reads the file once more, against the record as it is now, and stores all of it or nothing: what `settle` writes down
 * of it too, which is told the number of its first row in the history. False where the record has changed since the
 * check, so that a line is wrong now.
 */
export async function storeFile(
  database: Database,
  job: RowsJob,
  settle: (tx: Tx, first: number | null) => Promise<void>,
): Promise<boolean> {
  const who = { personId: job.personId, groupId: job.group.id, reason: catalogue.rows.reasonKept }
  const author = { groupId: job.group.id, createdBy: job.personId }
  const all = async (tx: Tx) => {
    job.found = nothingFound()
    await holdClosings(tx, job.group.id)
    const known = await recordKnown(tx, job.group, job.kind)
    const lookUp = (ids: readonly string[]) => alreadyThere(tx, job.group.id, job.kind, ids)
    const setOf = job.kind === 'plantings' ? await setsMade(tx, job, known) : null
    const take = (rows: readonly Row[]) => storeRows(tx, author, job.kind, setOf ? inSets(rows, setOf) : rows)
    await passOver(job, known, { lookUp, take })
    if (job.found.wrong.length > 0) throw new NoLongerRight()
    await settle(tx, await firstWritten(tx, job.group.id, rowKinds[job.kind].table))
  }
  try {
    await asMember(database, who, all)
  } catch (error) {
    if (error instanceof NoLongerRight) return false
    throw error
  }
  await afterManyRows(database)
  return true
}

type Row = Readonly<Record<string, unknown>>

/** The sets of a file's plantings, told over all its lines before the first of them is stored. */
async function setsMade(tx: Tx, job: RowsJob, known: KnownRecord): Promise<ReadonlyMap<string, string>> {
  const lookUp = (ids: readonly string[]) => alreadyThere(tx, job.group.id, job.kind, ids)
  await passOver(job, known, { lookUp, take: async () => undefined })
  const found = await setsFor(tx, job.group.id, job.found.brought)
  const isRight = job.found.wrong.length === 0
  job.found = nothingFound()
  return isRight ? makeSets(tx, { groupId: job.group.id, createdBy: job.personId }, found) : new Map()
}

const inSets = (rows: readonly Row[], setOf: ReadonlyMap<string, string>) =>
  rows.map((row) => ({ ...row, matchedSetId: setOf.get(String(row.id)) ?? null }))

interface Pass {
  readonly lookUp: (ids: readonly string[]) => Promise<ReadonlySet<string>>
  readonly take: (rows: readonly Row[]) => Promise<void>
}

interface Line {
  readonly id: string
  /** The id that it had while lines were known by their letters: rows that were stored then stand under it. */
  readonly idBefore: string
  readonly line: number
  readonly cells: readonly string[]
}

/** Goes over the file some hundred lines at a time. Once a line is wrong, nothing more is taken. */
async function passOver(job: RowsJob, known: KnownRecord, { lookUp, take }: Pass): Promise<void> {
  const { found } = job
  const read = rowKinds[job.kind].reader(known)
  let lines: Line[] = []
  const turn = async () => {
    const there = lines.length > 0 ? await lookUp(lines.flatMap((line) => [line.id, line.idBefore])) : new Set<string>()
    const rows = lines.map((line) => rowOf(line, there, found, read)).filter((row) => row !== undefined)
    if (rows.length > 0 && found.wrong.length === 0) await take(rows)
    lines = []
  }
  for await (const line of linesOf(job)) {
    lines.push(line)
    if (lines.length === linesAtOnce) await turn()
  }
  await turn()
}

/** The lines below the heading, each with the id of its row; up to where the file cannot be read further. */
async function* linesOf(job: RowsJob): AsyncGenerator<Line> {
  const { found, kind } = job
  const { fields } = rowKinds[kind]
  const [seen, seenBefore] = [new Map<string, number>(), new Map<string, number>()]
  const ways = await daysOf(job)
  const how = { fields, readAs: { ...job.group, numbersIn: job.numbersIn } }
  const stop = (line: number, reason: string) => void found.wrong.push({ line, field: '', reason })
  for await (const record of typedRecords(job.file)) {
    if (record.kind === 'refused') return stop(record.line, says.quotes)
    if (!found.heading) {
      found.heading = readHeading(record.cells, fields, namesOf(kind))
      if (found.heading.missing.length > 0 || found.heading.twice.length > 0) return
      continue
    }
    if (found.wrong.length > mostWrong) return stop(record.line, says.tooManyWrong)
    found.lines += 1
    if (found.lines > mostLines) return stop(record.line, says.lines)
    const cells = withIsoDays(record.cells, ways)
    const id = idOfNext(job, valuesOf(cells, found.heading, how), seen)
    const idBefore = idOfNext(job, contentOf(cells, found.heading), seenBefore)
    yield { id, idBefore, line: record.line, cells }
  }
}

/** How each column of days is written, seen over the whole file before its first line is read. */
async function daysOf({ file, kind, group }: RowsJob): Promise<ReadonlyMap<number, WrittenAs>> {
  const { fields } = rowKinds[kind]
  const columns = new DayColumns()
  let heading: Heading | undefined
  for await (const record of typedRecords(file)) {
    if (record.kind === 'refused') break
    if (heading) columns.see(record.cells, heading, fields)
    else heading = readHeading(record.cells, fields, namesOf(kind))
  }
  return columns.ways(dayOrderOf(group.locale))
}

/** Of equal lines the first has occurrence 0, the next 1. Only those that came twice need a count of their own. */
function idOfNext({ group, kind }: RowsJob, content: string, seen: Map<string, number>): string {
  const first = idOfLine(group.id, kind, content, 0)
  const occurrence = numberIn(seen, first)
  seen.set(first, occurrence + 1)
  return occurrence === 0 ? first : idOfLine(group.id, kind, content, occurrence)
}

function rowOf(
  { id, idBefore, line, cells }: Line,
  there: ReadonlySet<string>,
  found: Found,
  read: ReturnType<RowKind['reader']>,
): Row | undefined {
  if (!found.heading) return undefined
  if (there.has(id) || there.has(idBefore)) {
    found.there += 1
    return undefined
  }
  const odd = oddCell(cells, found.heading)
  const answer = odd ?? read(id, cellsOf(cells, found.heading))
  if (answer.kind === 'refused') {
    for (const wrong of answer.wrong) found.wrong.push({ line, ...wrong })
    return undefined
  }
  found.fresh += 1
  if ('setName' in answer.row) found.brought.push(setsBroughtBy(answer.row, line))
  if (found.preview.length < shownAtMost) found.preview.push(answer.shown())
  if (answer.ask) {
    found.asked += 1
    if (found.asks.length < asksKept) found.asks.push({ line, ask: answer.ask })
  }
  return answer.row
}

/** Cells too many or too few, and letters that no text can hold or that were lost when the file was written. */
function oddCell(cells: readonly string[], { columns, width }: Heading): RowRead | undefined {
  if (cells.length !== width) {
    return wrongAt('', says.cells(String(cells.length), String(width)))
  }
  for (const [field, { place }] of columns) {
    const cell = sent(cells[place])
    if (cell.length > mostLetters) return wrongAt(field, catalogue.fields.tooLong(mostLetters))
    if (/[\0\uFFFD]/.test(cell)) return wrongAt(field, says.letters)
  }
  return undefined
}

function namesOf(kind: KindOfRows): Readonly<Record<string, readonly string[]>> {
  const columns: Readonly<Record<string, { readonly names: readonly string[] }>> = catalogue.rows.columns[kind]
  return Object.fromEntries(Object.entries(columns).map(([field, { names }]) => [field, names]))
}
