import { sent } from '../lookups/unsaid.ts'
/** A column that a kind of row is read from. */
export interface RowField {
  readonly name: string
  /** What units its heading may end in. */
  readonly measure?: keyof typeof unitsOfMeasure
  readonly required?: boolean
  /** A day: written as ISO 8601 has it, or in the group's own order where the whole column agrees. */
  readonly isDay?: boolean
}

/** Units that a heading may state, as the readers of quantities know them. */
const unitsOfMeasure = {
  weight: ['kg', 'g', 'lb', 'oz'],
  area: ['m2', 'm²', 'ft2'],
  time: ['min', 'minutes', 'h', 'hours'],
  length: ['mm', 'cm', 'in'],
} as const

export interface Heading {
  readonly columns: ReadonlyMap<string, { readonly place: number; readonly unit: string | null }>
  /** How many cells the heading has, and each line with it. */
  readonly width: number
  /** Columns of the file that are not read. */
  readonly unread: readonly string[]
  /** Columns that must be there and are not. */
  readonly missing: readonly string[]
  /** Columns that two headings name. */
  readonly twice: readonly string[]
}

type NamesOfFields = Readonly<Record<string, readonly string[]>>

/**
 * Matches the cells of a heading with the fields by their names; a unit at the end of a heading holds for its column.
 */
export function readHeading(cells: readonly string[], fields: readonly RowField[], names: NamesOfFields): Heading {
  const columns = new Map<string, { place: number; unit: string | null }>()
  const [unread, twice]: [string[], string[]] = [[], []]
  cells.forEach((cell, place) => {
    const found = fieldOf(cell, fields, names)
    if (!found) unread.push(cell)
    else if (columns.has(found.name)) twice.push(cell)
    else columns.set(found.name, { place, unit: found.unit })
  })
  const missing = fields.filter((field) => field.required && !columns.has(field.name)).map((field) => field.name)
  return { columns, width: cells.length, unread, missing, twice }
}

function fieldOf(cell: string, fields: readonly RowField[], names: NamesOfFields) {
  const plain = plainName(cell)
  const named = (name: string) => fields.find((field) => (names[field.name] ?? [field.name]).includes(name))
  const whole = named(plain)
  if (whole) return { name: whole.name, unit: null }
  const { name, unit } = withoutUnit(plain)
  const field = named(name)
  const units: readonly string[] = field?.measure ? unitsOfMeasure[field.measure] : []
  return field && units.includes(unit) ? { name: field.name, unit } : undefined
}

/** "area (m2)", "area m2" and "area [m2]" are an area in m2. */
function withoutUnit(plain: string) {
  const bare = /[)\]]$/.test(plain) ? plain.slice(0, -1) : plain
  const at = Math.max(bare.lastIndexOf(' '), bare.lastIndexOf('('), bare.lastIndexOf('['))
  return { name: bare.slice(0, Math.max(at, 0)).trim(), unit: bare.slice(at + 1) }
}

/** "Harvested_On " and "harvested on" are one name. */
export const plainName = (text: string): string =>
  text
    .replace(/[_\s]+/g, ' ')
    .trim()
    .toLowerCase()

/** The cells of one line by field. A number by itself takes the unit of its heading, or of the column of units. */
export class Cells {
  private readonly record: readonly string[]
  private readonly columns: Heading['columns']

  constructor(record: readonly string[], { columns }: Heading) {
    this.record = record
    this.columns = columns
  }

  /** Whether the file has that column. */
  has(field: string): boolean {
    return this.columns.has(field)
  }

  of(field: string): string {
    const column = this.columns.get(field)
    return column === undefined ? '' : sent(this.record[column.place]).trim()
  }

  withUnit(field: string): string {
    return this.inUnit(field, sent(this.columns.get(field)?.unit) || this.of('unit'))
  }

  /** Where the column of units is of another quantity: the unit of the heading alone. */
  withUnitOfHeading(field: string): string {
    return this.inUnit(field, sent(this.columns.get(field)?.unit))
  }

  private inUnit(field: string, unit: string): string {
    const cell = this.of(field)
    return unit && /^[\d.,\s]+$/.test(cell) ? `${cell} ${unit}` : cell
  }
}

/** What makes a line this line, wherever its columns stand: the values and units of the fields that are read. */
export function contentReader(heading: Heading): (record: readonly string[]) => string {
  const columns = columnsByName(heading)
  return (record) => JSON.stringify(columns.map(({ name, place, unit }) => [name, unit, sent(record[place]).trim()]))
}

/** The columns that are read, sorted once for all lines. */
export const columnsByName = ({ columns }: Heading) =>
  [...columns].map(([name, column]) => ({ name, ...column })).sort((a, b) => (a.name < b.name ? -1 : 1))
