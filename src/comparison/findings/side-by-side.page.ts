import { methodMark } from '../../drawing/method-marks.ts'
import { drawRatio, type RatioDrawn, ratioCell, ratioTicks, ratioX } from '../../drawing/ratio-cell.ts'
import { asShown } from '../../lookups/unsaid.ts'
import { formatNumber } from '../../quantities/formatting.ts'
import { wordsFor } from '../../words/locales.ts'
import { figureWritten } from '../totals/figure-written.page.ts'
import { unitOfFigure } from '../totals/figures.ts'
import {
  type SideBySide,
  type SideCell,
  type SideMeasure,
  type SideRow,
  sideKeys,
  sideMeasures,
} from './side-by-side.ts'
import { widest } from './summary.ts'
import { times as timesSaid } from './summary-told.page.ts'

interface SideCellShown {
  readonly key: SideMeasure
  readonly figure: string
  readonly value: number | null
  /** The rows behind it; null in a report. */
  readonly address: string | null
  readonly atLeast: string | null
  /** Ratio and interval in words, or why there is none. */
  readonly said: string
  readonly drawn: RatioDrawn | null
}

interface SideRowShown {
  readonly method: string
  readonly gardens: string
  /** The garden where each method lies on one, as the summary calls it; else the method. */
  readonly name: string
  /** The other of the two. */
  readonly under: string
  readonly place: number
  readonly path: string
  readonly isReference: boolean
  readonly cells: readonly SideCellShown[]
}

interface Telling {
  readonly locale: string
  readonly currency: string
  /** From a method and a section to the rows behind a figure; a report has none. */
  readonly to?: (method: string, section: string) => string | undefined
  readonly sectionOf?: Readonly<Record<string, string>>
}

/**
 * The table that is the picture: every cell a figure and, on the one scale of all columns, its mark beside the
 * reference.
 */
export function sideBySideShown(side: SideBySide, telling: Telling) {
  const { locale, currency } = telling
  const words = wordsFor(locale).side
  const rows = side.rows.map((row) => rowShown(row, side, telling))
  const drawn = rows.flatMap((row) => row.cells.flatMap((one) => one.drawn ?? []))
  const looks = new Set(side.rows.flatMap((row) => sideKeys.map((key) => row.cells[key].told)))
  return {
    head: oneGardenEach(side) ? words.garden : words.method,
    title: words.title(asShown(side.seasons[0]), side.seasons.length > 1 ? (side.seasons.at(-1) ?? null) : null),
    columns: sideKeys.map((key, place) => {
      const limit = limitOfAll(rows.map((row) => row.cells[place]))
      return { key, name: words.names[key], unit: words.units[key](currency), limit }
    }),
    rows,
    axis: {
      said: words.axis(referenceNamed(side)),
      ticks: ratioTicks.map((ratio) => ({ x: ratioX(ratio), label: tickLabels[String(ratio)] ?? null })),
      one: ratioX(1),
    },
    cell: ratioCell,
    key: {
      told: looks.has('told') ? words.keyTold : null,
      exploratory: looks.has('exploratory') ? words.keyExploratory : null,
      ring: looks.has('not told') ? words.keyRing : null,
      seasons: drawn.some((one) => one.ticks.length > 0) ? words.keySeasons : null,
      open: drawn.some((one) => one.openEnd) ? words.keyOpen : null,
      ticks: words.keyTicks,
      line: words.keyLine(
        levelSaid(side.level, locale),
        side.levelUnasked === undefined ? null : levelSaid(side.levelUnasked, locale),
      ),
      text: words.keyText,
      more: words.keyMore,
      path: (reach: number) => methodMark(0, { x: 8, y: 8, reach }),
    },
  }
}

const levelSaid = (level: number, locale: string) => formatNumber(100 * level, locale, level > 0.951 ? 1 : 0)

export type SideBySideShown = ReturnType<typeof sideBySideShown>

/** Every second step has its figure. */
const tickLabels: Readonly<Record<string, string>> = { '0.25': '¼', '1': '1', '4': '4', '16': '16' }

/** "So far" or "at least" where it holds of every figure of a column: it is said once, at its head. */
function limitOfAll(cells: readonly (SideCellShown | undefined)[]): string | null {
  const written = cells.filter((cell) => cell !== undefined && cell.value !== null)
  const limits = new Set(written.map((cell) => cell?.atLeast ?? null))
  const [only = null] = limits
  return limits.size === 1 ? only : null
}

const oneGardenEach = ({ rows }: SideBySide) =>
  rows.every((row) => row.gardens.length === 1) && new Set(rows.flatMap((row) => row.gardens)).size === rows.length

/** By its garden where it alone stands there, else by its method. */
function referenceNamed({ rows, referenceId }: SideBySide): string {
  const reference = rows.find((row) => row.methodId === referenceId)
  const [garden = '', ...more] = reference?.gardens ?? []
  const shared = rows.some((row) => row.methodId !== referenceId && row.gardens.includes(garden))
  return more.length > 0 || shared ? asShown(reference?.method) : garden
}

function rowShown(row: SideRow, side: SideBySide, telling: Telling): SideRowShown {
  return {
    method: row.method,
    name: oneGardenEach(side) ? row.gardens.join(', ') : row.method,
    under: oneGardenEach(side) ? row.method : row.gardens.join(', '),
    gardens: row.gardens.join(', '),
    place: row.place,
    path: methodMark(row.place, { x: 8, y: 8, reach: 5.5 }),
    isReference: row.methodId === side.referenceId,
    cells: sideKeys.map((key) => cellShown(row, key, telling)),
  }
}

function cellShown(row: SideRow, key: SideMeasure, { locale, currency, to, sectionOf }: Telling): SideCellShown {
  const words = wordsFor(locale)
  const cell = row.cells[key]
  const { figure } = cell
  const value = figure?.value ?? null
  const limited = figure !== null && value !== null && figure.limit !== null
  // Where weeks are open, a sum of nothing is what nobody has written yet, and no nought.
  const bare = limited && value === 0
  const section = sectionOf?.[sideMeasures[key]]
  return {
    key,
    value,
    figure:
      value === null || bare
        ? words.comparison.nothing
        : figureWritten(value, unitOfFigure(sideMeasures[key]), { locale, currency }),
    address: section === undefined ? null : (to?.(row.method, section) ?? null),
    atLeast: !limited || bare ? null : figure.limit === 'at least' ? words.side.atLeast : words.comparison.soFar,
    said: saidOf(cell, locale),
    drawn:
      // A mark with a line over the whole scale would look like an answer.
      cell.ratio === null || saysNothing(cell)
        ? null
        : drawRatio({ ...cell, ratio: cell.ratio, openEnd: limited && figure.limit === 'at least', place: row.place }),
  }
}

const saysNothing = ({ low, high }: SideCell) => low !== null && high !== null && high / low > widest

function saidOf(cell: SideCell, locale: string): string {
  const words = wordsFor(locale).side
  if (cell.ratio === null) return cell.none === null ? '' : asShown(words.none[cell.none])
  const times = (ratio: number) => timesSaid(ratio, locale)
  if (cell.low === null || cell.high === null) return words.timesAlone(times(cell.ratio))
  return saysNothing(cell) ? words.saysNothing : words.times(times(cell.ratio), times(cell.low), times(cell.high))
}
