/** A table of the record as an export carries it. */
export interface PackageTable {
  readonly name: string
  readonly columns: readonly PackageColumn[]
  readonly primaryKey: readonly string[]
  readonly foreignKeys: readonly ForeignKey[]
}

export interface PackageColumn {
  readonly name: string
  /** As the database names it: "uuid", "text", "integer", "timestamp with time zone". */
  readonly type: string
  readonly required: boolean
}

export interface ForeignKey {
  readonly columns: readonly string[]
  readonly table: string
  readonly foreignColumns: readonly string[]
}

/** The column by which rows are read and sorted; within a group it names the row. */
export const keyOf = (table: PackageTable): string => table.primaryKey.find((name) => name !== 'group_id') ?? 'id'

/** Each table after those that it refers to; of equal ones the first by name. */
export function inOrderOfReference(tables: readonly PackageTable[]): PackageTable[] {
  const placed: PackageTable[] = []
  const waiting = [...tables].sort((a, b) => (a.name < b.name ? -1 : 1))
  while (waiting.length > 0) {
    const names = new Set(waiting.map((table) => table.name))
    const next = waiting.findIndex((table) =>
      table.foreignKeys.every((key) => key.table === table.name || !names.has(key.table)),
    )
    if (next < 0) throw new Error(`These tables refer to each other in a ring: ${[...names].join(', ')}.`)
    placed.push(...waiting.splice(next, 1))
  }
  return placed
}
