/** A table of figures as it goes into a file: the names of the columns first; nothing is rounded. */
export type FigureRows = readonly (readonly (string | number | null)[])[]

/** What a figure is of, what it is called, its unit in UCUM codes, and the figure. */
export type FigureRow = readonly [...of: string[], figure: string, unit: string, value: number | null | undefined]

/** The tables by the names that addresses give them. */
export type FigureTables = Readonly<Record<string, FigureRows>>

/** Rows under their columns, without those that have no figure; null where none is left. */
export function figureTable(of: readonly string[], rows: readonly FigureRow[]): FigureRows | null {
  const known = rows.filter((row) => typeof row.at(-1) === 'number') as unknown as FigureRows
  return known.length === 0 ? null : [[...of, 'figure', 'unit', 'value'], ...known]
}

/** The rows of several figures of one thing. */
export const rowsOf = (
  of: readonly string[],
  unit: string,
  figures: Readonly<Record<string, number | null | undefined>>,
): FigureRow[] => Object.entries(figures).map(([figure, value]) => [...of, figure, unit, value])
