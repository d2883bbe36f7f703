import { axisBelow, type Write } from './axes.ts'
import {
  type Drawing,
  drawingOf,
  frameWidth,
  inset,
  type Line,
  level,
  lineHeight,
  type Marks,
  upright,
} from './drawing.ts'
import { block, centred, wrapped } from './labels.ts'
import { rowText } from './rows.ts'
import { isKnown, linearScale, logScale, type Scale } from './scales.ts'

export interface IntervalRow {
  readonly label: string
  /** The figure as it is read, or why there is none. */
  readonly figure: string
  readonly value: number | null
  /** Both left out: no interval. One of them infinite: open to that side. */
  readonly low?: number | null
  readonly high?: number | null
  /** A row that sums up those above it, or one that says what is still to come. */
  readonly kind?: 'single' | 'pooled' | 'predicted'
  readonly strong?: boolean
}

interface Intervals {
  readonly rows: readonly IntervalRow[]
  /** `log` for ratios: twice and half lie equally far from 1. */
  readonly scale: 'linear' | 'log'
  readonly reference: { readonly value: number; readonly label: string } | null
  /** What is measured, with its unit. */
  readonly axis: string
  readonly write: Write
}

const strip = 16

/**
 * One row under the other, its words above its mark: a peg for the value, a line for the interval. A linear scale holds
 * 0.
 */
export function drawIntervals({ rows, scale: kind, reference, axis, write }: Intervals): Drawing {
  const scale = scaleFor(rows, kind, reference?.value ?? null)
  const head = headOf(reference, scale)
  let top = head.bottom
  const parts: Marks[] = [head]
  for (const row of rows) {
    const ruled = row.kind === 'pooled'
    const words = rowText({ ...row, strong: ruled || row.strong === true }, top + (ruled ? 5 : 0))
    const middle = words.bottom + strip / 2
    const rule = ruled ? [level(0, frameWidth, top, 'rule')] : []
    const mark = reference ? [upright(scale.at(reference.value), middle, strip / 2, 'reference')] : []
    parts.push({ texts: words.texts, lines: [...rule, ...mark, ...marksOf(row, scale, middle)] })
    top = middle + strip / 2 + 6
  }
  const foot = axisBelow(scale, top + 2, { name: axis, write })
  return drawingOf(foot.bottom, [...parts, foot])
}

/** An end far outside all values is drawn as open, so that it does not press the others together. */
function scaleFor(rows: readonly IntervalRow[], kind: Intervals['scale'], reference: number | null): Scale {
  const onto = { from: inset, to: frameWidth - inset, count: 5 }
  const values = [...rows.map((row) => row.value), reference].filter(isKnown)
  const ends = rows.flatMap((row) => [row.low, row.high]).filter(isKnown)
  if (kind === 'log') {
    const above = (value: number) => value > 0 && Number.isFinite(value)
    const usable = values.filter(above)
    const base = usable.length > 0 ? usable : ends.filter(above)
    const [least, most] = [Math.min(...base) / 6, Math.max(...base) * 6]
    return logScale([...base, ...ends.filter((end) => end >= least && end <= most)], onto, reference ? [reference] : [])
  }
  const size = Math.max(0, ...(values.length > 0 ? values : ends).filter(Number.isFinite).map(Math.abs))
  return linearScale([0, ...values, ...ends.filter((end) => Math.abs(end) <= 4 * size)], onto)
}

function headOf(reference: Intervals['reference'], scale: Scale) {
  if (!reference) return { texts: [], bottom: 2 }
  const lines = wrapped(reference.label, frameWidth, 'tick')
  const texts =
    lines.length === 1
      ? lines.map((line) => centred(line, scale.at(reference.value), 12, 'tick'))
      : block(lines, { x: 0, top: 0, anchor: 'start', look: 'tick' })
  return { texts, bottom: lineHeight * lines.length + 6 }
}

function marksOf({ value, low, high, kind }: IntervalRow, scale: Scale, y: number): Line[] {
  const open = !isKnown(low) && !isKnown(high)
  const ends: [number, number] = [isKnown(low) ? low : -Infinity, isKnown(high) ? high : Infinity]
  const look = kind === 'pooled' ? 'heavy-span' : kind === 'predicted' ? 'broken-span' : 'span'
  const span = open ? [] : [level(scale.at(ends[0]), scale.at(ends[1]), y, look)]
  const sides = new Set([...(open ? [] : ends), ...(isKnown(value) ? [value] : [])].map((one) => scale.outside(one)))
  const edges = [...sides].filter((side) => side !== 0).flatMap((side) => edge(side, y))
  const within = isKnown(value) && scale.outside(value) === 0
  return [...span, ...edges, ...(within ? [upright(scale.at(value), y, kind === 'pooled' ? 8 : 6, 'peg')] : [])]
}

/** Two short strokes that meet at the side of the frame: it goes on. */
function edge(side: number, y: number): Line[] {
  const x = side < 0 ? inset : frameWidth - inset
  return [-4, 4].map((dy) => ({ x1: x - side * 6, y1: y + dy, x2: x, y2: y, look: 'edge' }))
}
