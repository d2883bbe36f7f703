import type { Finding } from '../comparison/findings/findings.ts'
import { sideKeys, sideMeasures } from '../comparison/findings/side-by-side.ts'
import { widest } from '../comparison/findings/summary.ts'
import { times } from '../comparison/findings/summary-told.page.ts'
import type { FigureKey } from '../comparison/totals/figures.ts'
import { methodMark } from '../drawing/method-marks.ts'
import { type RatioLine, ratioLine } from '../drawing/ratio-line.ts'
import { asShown } from '../lookups/unsaid.ts'
import type { Contents } from './report.page.ts'

/** The measures that stand side by side on the first sheet. */
const measuresBeside = sideKeys.map((key) => sideMeasures[key])
type MeasureBeside = (typeof measuresBeside)[number]

interface CellBeside {
  readonly key: MeasureBeside
  readonly figure: string | null
  readonly limit: string | null
  /** How it stands beside the reference; null at the reference itself and where nothing can be held beside it. */
  readonly ratio: string | null
  readonly range: readonly [string, string] | null
  readonly line: RatioLine
  /** Told apart by a question fixed beforehand, told in looking around, not told; or nothing to tell. */
  readonly mark: 'told' | 'exploratory' | 'untold' | 'unsayable' | 'reference' | 'none' | 'one season'
}

interface RowBeside {
  /** As the sentences call it: the garden where each method lies on one of its own, else the method; and the other. */
  readonly name: string
  readonly under: string
  readonly place: number
  readonly path: string
  readonly isReference: boolean
  readonly cells: readonly CellBeside[]
}

/**
 * The table that is the picture of a report's first sheet: from the figures that it keeps, also of one frozen earlier.
 */
export function firstSheet(contents: Contents) {
  return { rows: rowsBeside(contents), measures: measuresBeside, byGarden: oneGardenEach(contents) }
}

const gardensOf = ({ told }: Contents, method: string): string[] =>
  told?.gardens.filter((one) => one.methods.includes(method)).map((one) => one.garden) ?? []

function oneGardenEach(contents: Contents): boolean {
  const gardens = contents.table.methods.map(({ method }) => gardensOf(contents, method))
  return gardens.every((own) => own.length === 1) && new Set(gardens.flat()).size === gardens.length
}

function rowsBeside(contents: Contents): RowBeside[] {
  const { page, table, locale, summary, seasons } = contents
  const byGarden = oneGardenEach(contents)
  const found = page.said?.found ?? []
  const reference = asShown(page.said?.reference ?? table.methods[0]?.method)
  const locked = page.said?.questionLocked === true
  const none = seasons?.length === 1 ? 'one season' : 'none'
  return table.methods.map(({ method }, place) => {
    const isReference = method === reference
    const own = found.filter((one) => one.methodB === method)
    const gardens = gardensOf(contents, method).join(', ')
    // Reports of earlier releases knew no pairs of a question: all of it was asked, or nothing.
    const asked = page.said?.others?.find((one) => one.name === method)?.asked ?? locked
    return {
      name: byGarden ? gardens : method,
      under: byGarden ? method : gardens,
      place,
      isReference,
      path: methodMark(place, { x: 8, y: 8, reach: 5.5 }),
      cells: measuresBeside.map((key): CellBeside => {
        const cell = page.rows.find((row) => row.key === key)?.cells[place]
        const names = [method, gardens]
        const beside = isReference ? null : (besideIn(own, key) ?? describedIn(summary, key, names))
        const { ratio = null, low = null, high = null } = beside ?? {}
        return {
          key,
          figure: cell === undefined || isBare(cell) ? null : cell.figure,
          limit: cell?.limit ?? null,
          ratio: ratio === null ? null : times(ratio, locale),
          range: low === null || high === null ? null : [times(low, locale), times(high, locale)],
          line: ratioLine({ ratio, low, high }),
          mark: isReference ? 'reference' : !beside ? none : markOf(beside, !asked),
        }
      }),
    }
  })
}

/** While weeks are open, a sum of nothing is what nobody has written yet, and no nought. */
const isBare = ({ figure, limit }: { figure: string | null; limit: string | null }) =>
  figure !== null && limit !== null && !/[1-9]/.test(figure)

interface Ratio {
  readonly ratio: number
  readonly low: number | null
  readonly high: number | null
  /** As the finding says it: open weeks can leave it not told though its range leaves out 1. */
  readonly told: boolean
}

function markOf({ low, high, told }: Ratio, exploratory: boolean): CellBeside['mark'] {
  if (low !== null && high !== null && high / low > widest) return 'unsayable'
  return told ? (exploratory ? 'exploratory' : 'told') : 'untold'
}

/** The ratio of one measure with its interval; weights are of matched crops. */
function besideIn(own: readonly Finding[], key: FigureKey): Ratio | null {
  for (const one of own) {
    const isKey = key === 'marketablePerBed' ? weightCodes.has(one.code) : 'burden' in one && one.burden === key
    if (!isKey || !('ratio' in one) || one.ratio === null || !(one.ratio > 0)) continue
    if (!('low' in one) || !('level' in one)) return { ratio: one.ratio, low: null, high: null, told: false }
    const told = one.code.endsWith('seen') && !one.code.endsWith('not seen')
    return { ratio: one.ratio, low: one.low, high: one.high, told }
  }
  return null
}

/** What the sentences say of a single season, which has no finding with an interval. */
function describedIn(summary: Contents['summary'], key: MeasureBeside, names: readonly string[]): Ratio | null {
  const said = summary?.measures.find((one) => described[one.measure] === key)?.described
  const ratio = said?.find((one) => names.includes(one.name))?.ratio
  return ratio === undefined ? null : { ratio, low: null, high: null, told: false }
}

const described: Readonly<Record<string, MeasureBeside>> = { work: 'hoursPerBed', cost: 'costPerKg' }

const weightCodes = new Set<Finding['code']>(['method seen', 'method not seen', 'seen', 'not seen', 'one season'])
