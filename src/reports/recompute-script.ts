import { plainRules } from '../comparison/matched/matched-season.ts'
import { harvestTasks } from '../diary/tasks.ts'
import { linkOf } from '../lookups/unsaid.ts'
import { type FiguresKept, figureTableNames } from './figure-tables.ts'
import { rNumber, rText, rTexts } from './r-literal.ts'

interface ScriptAsked {
  /** The address of the report, or of the folder that its files were saved in. */
  readonly from: string
  /** What names the edition at the end of each address; empty for the latest. */
  readonly query: string
  readonly contents: FiguresKept
  /** The kept files of the script, in their order; they are the same for every report. */
  readonly parts: readonly string[]
}

/**
 * A script in R without packages that reads the rows behind a report, counts every figure of its tables again, and says
 * table by table how far the report's own figures are from that. It shares no line with the service: what counts are
 * the kept files, and all that a report puts before them are values. Of a report that was frozen before all its figures
 * were kept as tables, and more columns with its rows, it counts the two tables that were.
 */
export function recomputeScript({ from, query, contents, parts }: ScriptAsked): string {
  const { season } = contents.table
  const tables = contents.tables ? figureTableNames(contents) : ['methods', 'matched-crops']
  const settings = [
    `from <- ${rText(from)}`,
    `query <- ${rText(query)}`,
    `season <- ${season === null ? 'NA_character_' : rText(season)}`,
    `tables <- ${rTexts(tables)}`,
    `figures <- ${rTexts(contents.table.methods[0]?.figures.map((one) => one.key) ?? [])}`,
    `harvest_tasks <- ${rTexts(harvestTasks)}`,
    ...countingOf(contents),
  ]
  return [head, `${settings.join('\n')}\n`, ...parts.map((part) => `\n${part}`)].join('')
}

/**
 * How the report counts: the method that others stand beside, the rules of matched crops, and how sure its intervals
 * are.
 */
function countingOf({ page, table }: FiguresKept): string[] {
  const { weights, mix, outsideLosses, crops = [] } = page.said?.rules ?? plainRules
  const tested = page.said?.found?.flatMap((one) => ('level' in one ? [one.level] : [])) ?? []
  const reference = linkOf(page.said?.referenceId ?? table.methods[0]?.methodId)
  return [
    `reference <- ${rText(reference)}`,
    `rules <- c(weights = ${rText(weights)}, mix = ${rText(mix)}, outside = ${rText(outsideLosses)})`,
    `fixed_crops <- ${rTexts(crops)}`,
    ...levelsOf(page, tested[0] ?? 0.95),
  ]
}

/** How sure the interval of each method beside the reference is; older reports kept one level for all. */
function levelsOf({ said }: FiguresKept['page'], all: number): string[] {
  const others = said?.others ?? []
  const levels = others.map(({ comparisons }) => (comparisons === undefined ? all : 1 - 0.05 / comparisons))
  return [
    `level_of <- ${rTexts(others.map((one) => one.id))}`,
    `level_values <- c(${(levels.length > 0 ? levels : [all]).map(rNumber).join(', ')})`,
  ]
}

const head = [
  '# Counts the figures of one report again from the rows behind it. Needs R alone.',
  '#   Rscript recompute.R            reads from the address below',
  '#   Rscript recompute.R FOLDER     reads seasons.csv, harvests.csv, ... and figures-methods.csv, ' +
    'figures-gaps.csv, ... there',
  "# Writes every figure that it counted to the output, and how far the report's own are from them, " +
    'table by table, beside it.',
  '# Of the report itself only these values are in it; all that follows them is the same for every report.',
  '',
].join('\n')
