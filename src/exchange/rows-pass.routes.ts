import { numberIn, sent } from '../lookups/unsaid.ts'
import { dayOrderOf, type WrittenAs } from '../quantities/written-days.ts'
import { type TypedRecord, typedRecords } from '../web/csv-reader.ts'
import { catalogue } from '../words/catalogue.ts'
import { harvestRows } from './harvest-rows.form.ts'
import { inputRows } from './input-rows.form.ts'
import type { KnownRecord } from './known-record.ts'
import { labourRows } from './labour-rows.form.ts'
import { DayColumns, valuesReader, withIsoDays } from './line-values.ts'
import { plantingRows } from './planting-rows.form.ts'
import { Cells, contentReader, type Heading, readHeading } from './row-cells.ts'
import { type KindOfRows, type RowKind, type RowRead, type WrongCell, wrongAt } from './row-kind.ts'
import { type GroupOfRows, idOfLine } from './rows-in.queries.ts'
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
const linesLookedUp = 2_500
/** What is read of them without a pause: the pages of others are answered between. */
const linesAtOnce = 500
/** By one statement: while one runs in it, the built-in engine answers nobody. */
const rowsTaken = 1_000
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

/** A file of rows, and how it is to be read. */
export interface FileOfRows {
  readonly group: GroupOfRows
  readonly kind: KindOfRows
  readonly file: string
  /** The locale that the file writes its numbers in. */
  readonly numbersIn: string
}

/** What reading a file found. Kept small: no row stays longer than its turn, only what is wrong and the first few. */
export interface Found {
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

export const nothingFound = (): Found => ({
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

type Row = Readonly<Record<string, unknown>>

interface Pass {
  readonly found: Found
  readonly known: KnownRecord
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

/** Goes over the file some thousand lines at a time. Once a line is wrong, nothing more is taken. */
export async function passOver(of: FileOfRows, { found, known, lookUp, take }: Pass): Promise<void> {
  const read = rowKinds[of.kind].reader(known)
  let lines: Line[] = []
  const turn = async () => {
    const there = lines.length > 0 ? await lookUp(lines.flatMap((line) => [line.id, line.idBefore])) : new Set<string>()
    const rows: Row[] = []
    for (const [i, line] of lines.entries()) {
      if (i % linesAtOnce === linesAtOnce - 1) await othersAnswered()
      const row = rowOf(line, there, found, read)
      if (row) rows.push(row)
    }
    if (found.wrong.length === 0)
      for (let from = 0; from < rows.length; from += rowsTaken) await take(rows.slice(from, from + rowsTaken))
    lines = []
  }
  for await (const more of linesOf(of, found)) {
    for (const line of more) {
      lines.push(line)
      if (lines.length === linesLookedUp) await turn()
    }
  }
  await turn()
}

const othersAnswered = () => new Promise<void>((done) => setImmediate(done))

/** The lines below the heading, each with the id of its row; up to where the file cannot be read further. */
async function* linesOf(of: FileOfRows, found: Found): AsyncGenerator<readonly Line[]> {
  const { fields } = rowKinds[of.kind]
  const ways = await daysOf(of)
  let lineOf: ReturnType<typeof lineReader> | undefined
  for await (const records of typedRecords(of.file)) {
    const lines: Line[] = []
    for (const record of records) {
      if (record.kind === 'answer' && !lineOf) {
        found.heading = readHeading(record.cells, fields, namesOf(of.kind))
        if (found.heading.missing.length > 0 || found.heading.twice.length > 0) return
        lineOf = lineReader(of, found.heading, ways)
        continue
      }
      const reason = whyNoFurther(record, found)
      if (reason !== undefined || record.kind === 'refused' || !lineOf) {
        yield lines
        return void found.wrong.push({ line: record.line, field: '', reason: reason ?? says.quotes })
      }
      lines.push(lineOf(record.line, record.cells))
    }
    yield lines
  }
}

function lineReader(of: FileOfRows, heading: Heading, ways: ReadonlyMap<number, WrittenAs>) {
  const readAs = { ...of.group, numbersIn: of.numbersIn }
  const values = valuesReader(heading, { fields: rowKinds[of.kind].fields, readAs })
  const content = contentReader(heading)
  const [seen, seenBefore] = [new Map<string, number>(), new Map<string, number>()]
  return (line: number, record: readonly string[]): Line => {
    const cells = withIsoDays(record, ways)
    const id = idOfNext(of, values(cells), seen)
    const idBefore = idOfNext(of, content(cells), seenBefore)
    return { id, idBefore, line, cells }
  }
}

function whyNoFurther({ kind }: TypedRecord, found: Found): string | undefined {
  if (kind === 'refused') return says.quotes
  if (found.wrong.length > mostWrong) return says.tooManyWrong
  found.lines += 1
  return found.lines > mostLines ? says.lines : undefined
}

/** How each column of days is written, seen over the whole file before its first line is read. */
async function daysOf({ file, kind, group }: FileOfRows): Promise<ReadonlyMap<number, WrittenAs>> {
  const { fields } = rowKinds[kind]
  const columns = new DayColumns()
  let heading: Heading | undefined
  for await (const records of typedRecords(file)) {
    for (const record of records) {
      if (record.kind === 'refused') break
      if (heading) columns.see(record.cells, heading, fields)
      else heading = readHeading(record.cells, fields, namesOf(kind))
    }
  }
  return columns.ways(dayOrderOf(group.locale))
}

/** Of equal lines the first has occurrence 0, the next 1. Only those that came twice need a count of their own. */
function idOfNext({ group, kind }: FileOfRows, content: string, seen: Map<string, number>): string {
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
  const answer = odd ?? read(id, new Cells(cells, found.heading))
  if (answer.kind === 'refused') {
    for (const wrong of answer.wrong) found.wrong.push({ line, ...wrong })
    return undefined
  }
  found.fresh += 1
  if ('setName' in answer.row) found.brought.push(setsBroughtBy(answer.row, line))
  if (found.preview.length < shownAtMost) found.preview.push(answer.shown())
  if (answer.ask) {
    found.asked += 1
    if (found.asks.length < asksKept) found.asks.push({ line, ask: answer.ask() })
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
