import { plainRules } from '../comparison/matched/matched-season.ts'
import { harvestTasks } from '../diary/tasks.ts'
import { type FiguresKept, figureTableNames } from './figure-tables.ts'
import { findingsInR } from './recompute-findings.ts'
import { layoutsInR } from './recompute-layouts.ts'
import { matchedInR } from './recompute-matched.ts'
import { mixedModelInR } from './recompute-mixed.ts'
import { openWeeksInR } from './recompute-open-weeks.ts'
import { rowsInR } from './recompute-rows.ts'
import { tellingInR } from './recompute-telling.ts'
import { totalsInR } from './recompute-totals.ts'
import { whyInR } from './recompute-why.ts'

export interface ScriptAsked {
  /** The address of the report, or of the folder that its files were saved in. */
  readonly from: string
  /** What names the edition at the end of each address; empty for the latest. */
  readonly query: string
  readonly contents: FiguresKept
}

/**
 * A script in R without packages that reads the rows behind a report, counts every figure of its tables again, and says table by
 * table how far the report's own figures are from that. It shares no line with the service. Of a report that was frozen before
 * all its figures were kept as tables, and more columns with its rows, it counts the two tables that were.
 */
export function recomputeScript({ from, query, contents }: ScriptAsked): string {
  const { season } = contents.table
  const tables = contents.tables ? figureTableNames(contents) : ['methods', 'matched-crops']
  const settings = [
    `from <- ${JSON.stringify(from)}`,
    `query <- ${JSON.stringify(query)}`,
    `season <- ${season === null ? 'NA' : JSON.stringify(season)}`,
    `tables <- ${texts(tables)}`,
    `harvest_tasks <- ${texts(harvestTasks)}`,
    ...countingOf(contents),
  ]
  const parts = [
    rowsInR,
    totalsInR,
    matchedInR,
    openWeeksInR,
    findingsInR,
    whyInR,
    layoutsInR,
    mixedModelInR,
    tellingInR,
  ]
  return `${head}${settings.join('\n')}\n${parts.join('')}`
}

/** How the report counts: the method that others stand beside, the rules of matched crops, and how sure its intervals are. */
function countingOf({ page, table }: FiguresKept): string[] {
  const { weights, mix, outsideLosses, crops = [] } = page.said?.rules ?? plainRules
  const tested = page.said?.found?.flatMap((one) => ('level' in one ? [one.level] : [])) ?? []
  const reference = page.said?.referenceId ?? table.methods[0]?.methodId ?? ''
  return [
    `reference <- ${JSON.stringify(reference)}`,
    `rules <- c(weights = "${weights}", mix = "${mix}", outside = "${outsideLosses}")`,
    `fixed_crops <- ${crops.length === 0 ? 'character(0)' : texts(crops)}`,
    `level <- ${tested[0] ?? 0.95}`,
  ]
}

const texts = (values: readonly string[]) => `c(${values.map((value) => JSON.stringify(value)).join(', ')})`

const head = `# Counts the figures of one report again from the rows behind it. Needs R alone.
#   Rscript recompute.R            reads from the address below
#   Rscript recompute.R FOLDER     reads seasons.csv, harvests.csv, ... and figures-methods.csv, figures-gaps.csv, ... there
# Writes every figure that it counted to the output, and how far the report's own are from them, table by table, beside it.
`
