import type { Finding } from '../comparison/findings/findings.ts'
import type { FirstTable } from '../comparison/matched/first-table.ts'
import type { CountingRules } from '../comparison/matched/matched-season.ts'
import type { FigureRows, FigureTables } from '../comparison/rows/figure-rows.ts'
import { figureRows, findingsAsFigures } from '../comparison/rows/figures-csv.ts'

/** What a report keeps of its figures; one that was frozen earlier may lack the later parts. */
export interface FiguresKept {
  readonly table: FirstTable
  readonly tables?: FigureTables
  readonly page: {
    readonly said?: {
      readonly referenceId?: string
      readonly rules?: CountingRules
      readonly found?: readonly Finding[]
      /** Reports of earlier releases kept one level for all. */
      readonly others?: readonly { readonly id: string; readonly comparisons?: number }[]
    }
  }
}

/**
 * Every figure of a report as tables, by their names: as they were kept with it. Of a report that was frozen before all
 * of them were, those alone that follow from figures it does hold; none is counted again from the record of today.
 */
export function figureTablesIn({ table, tables, page }: FiguresKept): ReadonlyMap<string, FigureRows> {
  const first = ['methods', 'matched-crops', 'totals'].map((name) => [name, figureRows(table, name)] as const)
  const found = tables ? Object.entries(tables) : [['findings', findingsAsFigures(page.said?.found ?? [])] as const]
  return new Map([...first, ...found].flatMap(([name, rows]) => (rows ? [[name, rows] as const] : [])))
}

export const figureTableNames = (kept: FiguresKept) => [...figureTablesIn(kept).keys()]
