/** The tables that stand behind a report, in the order in which they are listed on it. */
export const rowTableNames = [
  ...(['seasons', 'methods', 'gardens', 'beds', 'assignments', 'plantings', 'harvests', 'losses', 'labour'] as const),
  ...(['spreadings', 'closings'] as const),
] as const

export type RowTableName = (typeof rowTableNames)[number]

type Cells = readonly (string | number | null)[]

/** The names of the columns first, then the rows. */
export type RowTables = Readonly<Record<RowTableName, readonly Cells[]>>

export const isRowTable = (name: unknown): name is RowTableName =>
  (rowTableNames as readonly string[]).includes(String(name))
