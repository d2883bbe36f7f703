import { sent } from '../lookups/unsaid.ts'
import { readArea } from '../quantities/areas.ts'
import { readDecimal } from '../quantities/decimals.ts'
import { readWeight } from '../quantities/weights.ts'
import { type DayOrder, dayWritten, type WrittenAs, writtenAs } from '../quantities/written-days.ts'
import { columnsByName, type Heading, type RowField } from './row-cells.ts'

/** How the group reads what a file says. */
interface ReadAs {
  readonly numbersIn: string
  readonly weightUnit: 'kg' | 'lb'
  readonly areaUnit: 'm2' | 'ft2'
}

/** The day columns of a heading, by the place of their cells. */
const dayPlaces = ({ columns }: Heading, fields: readonly RowField[]): number[] =>
  fields.flatMap(({ name, isDay }) => (isDay ? (columns.get(name)?.place ?? []) : []))

/** Gathers the cells of the day columns over a whole file, each once, to find how each column writes its days. */
export class DayColumns {
  private readonly cells = new Map<number, Set<string>>()

  see(record: readonly string[], heading: Heading, fields: readonly RowField[]): void {
    for (const place of dayPlaces(heading, fields)) {
      const seen = this.cells.get(place) ?? new Set()
      for (const cell of record.slice(place, place + 1)) seen.add(cell.trim())
      this.cells.set(place, seen)
    }
  }

  /** By place; a column that does not agree with itself is left out, and its cells stay as they are written. */
  ways(order: DayOrder): ReadonlyMap<number, WrittenAs> {
    return new Map(
      [...this.cells].flatMap(([place, seen]) => {
        const way = writtenAs([...seen], order)
        return way ? [[place, way] as const] : []
      }),
    )
  }
}

/** The cells of a line with each day as ISO 8601 writes it. */
export const withIsoDays = (record: readonly string[], ways: ReadonlyMap<number, WrittenAs>): readonly string[] =>
  record.map((cell, place) => {
    const way = ways.get(place)
    return (way && dayWritten(cell, way)) ?? cell
  })

/**
 * What makes a line this line, whatever letters it is written in: the values of the fields that are read. "1,50 kg",
 * "1.5" under a heading in kg and "1500 g" are one weight, "Lower  terrace" and "lower terrace" one garden.
 */
export function valuesReader(
  heading: Heading,
  { fields, readAs }: { readonly fields: readonly RowField[]; readonly readAs: ReadAs },
): (record: readonly string[]) => string {
  const columns = columnsByName(heading).map((column) => ({
    ...column,
    measure: fields.find((field) => field.name === column.name)?.measure,
    readAs,
  }))
  return (record) => {
    const said: [string, string][] = []
    for (const column of columns) {
      const value = cellSays(sent(record[column.place]).trim(), column)
      if (value !== '') said.push([column.name, value])
    }
    return JSON.stringify(said)
  }
}

interface Cell {
  readonly unit: string | null
  readonly measure: RowField['measure']
  readonly readAs: ReadAs
}

function cellSays(cell: string, { unit, measure, readAs }: Cell): string {
  const plain = cell.replace(/\s+/g, ' ').toLowerCase()
  const bare = /^[\d.,\s]+$/.test(plain)
  const inUnit = bare && unit ? `${plain} ${unit}` : plain
  if (measure === 'weight') {
    const read = readWeight(inUnit, readAs.weightUnit, readAs.numbersIn)
    if (read.kind === 'answer') return `${read.value} g`
  }
  if (measure === 'area') {
    const read = readArea(inUnit, readAs.areaUnit, readAs.numbersIn)
    if (read.kind === 'answer') return `${read.value} cm2`
  }
  const number = bare && plain !== '' ? readDecimal(plain, readAs.numbersIn) : undefined
  return number?.kind === 'answer' ? `${number.value}${unit ? ` ${unit}` : ''}` : inUnit
}
