import type { weekSheet } from './week-sheet.page.ts'

/** Columns of ground that stand side by side on A4. */
const abreast = 5

/** The sheet of a week on paper: the rows, columns and tasks of the screen in their order, and blank lines for more. */
export function sheetPage(sheet: ReturnType<typeof weekSheet>) {
  return {
    week: sheet.week,
    number: sheet.number,
    span: sheet.span,
    weights: inRuns(sheet.columns).map(({ own: columns, from }) => ({
      columns,
      rows: sheet.rows.map((row) => ({
        name: row.name,
        cells: row.cells.slice(from, from + columns.length).map((cell) => ({
          ...cell,
          /** Nothing printed in it: one planting, weighed by its name. */
          bare: cell.fields.every((one) => one.bed === '' && !one.sealed),
        })),
      })),
    })),
    labels: sheet.labels,
    hours: inRuns(sheet.hourColumns).map(({ own: columns, from, last }) => ({
      columns,
      last,
      tasks: sheet.tasks.map((task) => ({
        name: task.name,
        cells: task.cells.slice(from, last ? undefined : from + columns.length),
      })),
    })),
    blankLines: [1, 2, 3],
  }
}

interface Run<T> {
  readonly own: readonly T[]
  readonly from: number
  readonly last: boolean
}

function inRuns<T>(list: readonly T[]): Run<T>[] {
  const runs = Math.max(1, Math.ceil(list.length / abreast))
  return Array.from({ length: runs }, (_, run) => ({
    own: list.slice(run * abreast, (run + 1) * abreast),
    from: run * abreast,
    last: run === runs - 1,
  }))
}
