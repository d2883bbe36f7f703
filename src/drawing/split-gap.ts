import { axisBelow, type Write } from './axes.ts'
import {
  type Drawing,
  drawingOf,
  fills,
  frameWidth,
  inset,
  level,
  lookOf,
  type Marks,
  type Rect,
  upright,
} from './drawing.ts'
import { rowText } from './rows.ts'
import { bounded, isKnown, linearScale, type Scale } from './scales.ts'

interface SplitRow {
  readonly label: string
  /** The sum of its parts as it is read. */
  readonly figure: string
  /** Signed, in the order of the parts; null is unknown and draws nothing. */
  readonly parts: readonly (number | null)[]
}

interface SplitGap {
  /** Every part by name with its total: each has a row of its own, where its fill is learned. */
  readonly parts: readonly {
    readonly label: string
    readonly figure: string
    readonly total: number | null
    readonly fill?: number
  }[]
  readonly total: { readonly label: string; readonly figure: string }
  readonly rows: readonly SplitRow[]
  /** What is measured, with its unit. */
  readonly axis: string
  readonly write: Write
}

const bar = 10

/**
 * Parts stacked from zero to either side, a peg at their sum; first the totals part by part, then together, then row by
 * row.
 */
export function drawSplitGap({ parts, total, rows, axis, write }: SplitGap): Drawing {
  const alone = parts.map((part, i) => ({ ...part, parts: parts.map((_, j) => (j === i ? part.total : null)) }))
  const together = { ...total, parts: parts.map((part) => part.total), strong: true }
  const all = [...alone, together, ...rows]
  const scale = linearScale(
    all.flatMap((row) => [0, ...stackOf(row.parts).flatMap((piece) => [piece.start, piece.end])]),
    { from: inset, to: frameWidth - inset, count: 5 },
  )
  const looks = parts.map((part, i) => part.fill ?? lookOf(i, fills))
  let top = 2
  const drawn = all.map((row, i) => {
    const words = rowText(row, top)
    const last = i === parts.length
    top = words.bottom + bar + (last ? 17 : 11)
    const rule = last ? [level(0, frameWidth, top - 5, 'rule')] : []
    return [
      { texts: words.texts, lines: rule },
      barOf(row.parts, { scale, top: words.bottom + 3, withSum: i >= parts.length, looks }),
    ]
  })
  const foot = axisBelow(scale, top, { name: axis, write })
  return drawingOf(foot.bottom, [...drawn.flat(), foot])
}

interface Piece {
  readonly part: number
  readonly start: number
  readonly end: number
}

/** Where each part begins and ends: those above zero to the one side, those below to the other. */
export function stackOf(parts: readonly (number | null)[]): Piece[] {
  const ends = { above: 0, below: 0 }
  return parts.flatMap((value, part) => {
    if (!isKnown(value)) return []
    const side = value < 0 ? 'below' : 'above'
    const start = ends[side]
    ends[side] += bounded(value)
    return [{ part, start, end: ends[side] }]
  })
}

interface Place {
  readonly scale: Scale
  readonly top: number
  readonly withSum: boolean
  readonly looks: readonly number[]
}

function barOf(parts: readonly (number | null)[], { scale, top, withSum, looks }: Place): Marks {
  const pieces = stackOf(parts)
  const rects = pieces.flatMap(({ part, start, end }): Rect[] => {
    const [a, b] = [scale.at(start), scale.at(end)]
    if (start === end) return []
    return [{ x: Math.min(a, b), y: top, width: Math.abs(b - a), height: bar, fill: looks[part] ?? 1 }]
  })
  const sum = pieces.reduce((all, piece) => all + piece.end - piece.start, 0)
  const peg = withSum && pieces.length > 0 ? [upright(scale.at(sum), top + bar / 2, bar / 2 + 3, 'peg')] : []
  return { rects, lines: [upright(scale.at(0), top + bar / 2, bar / 2 + 3, 'axis'), ...peg] }
}
