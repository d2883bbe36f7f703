import type { Block } from './axes.ts'
import { type Drawing, drawingOf, frameWidth, level, lineHeight, type Marks, type Rect, upright } from './drawing.ts'
import { block, wrapped } from './labels.ts'
import { isKnown, plainScale, type Scale } from './scales.ts'
import { textWidth } from './text-width.ts'

export interface BarRow {
  readonly label: string
  /** The figure as it is read; of an unknown one, why. */
  readonly figure: string
  readonly value: number | null
  /** 1 to 5; 1 where it is left out. */
  readonly fill?: number
}

interface BarLedger {
  readonly groups: readonly { readonly heading: string; readonly rows: readonly BarRow[] }[]
}

/** Under each heading a row a line: label, bar from zero, figure. All bars on one scale. */
export function drawBarLedger({ groups }: BarLedger): Drawing {
  const all = groups.flatMap((group) => group.rows)
  let top = 2
  const parts = groups.map(({ heading, rows }, i): Marks[] => {
    const rule = i > 0 ? [level(0, frameWidth, top, 'rule')] : []
    const words = block(wrapped(heading, frameWidth, 'strong'), {
      x: 0,
      top: top + (i > 0 ? 4 : 0),
      anchor: 'start',
      look: 'strong',
    })
    const bars = barRows(rows, top + lineHeight * words.length + (i > 0 ? 6 : 2), all)
    top = bars.bottom + 6
    return [{ lines: rule, texts: words }, bars]
  })
  return drawingOf(top, parts.flat())
}

/** Rows of bars from `top` on; columns and scale fit all the rows that are named last. */
export function barRows(rows: readonly BarRow[], top: number, all: readonly BarRow[] = rows): Block {
  const widest = (words: readonly string[], most: number) =>
    Math.min(most, Math.max(0, ...words.map((one) => textWidth(one, 'label'))))
  const labels = widest(
    all.map((row) => row.label),
    0.46 * frameWidth,
  )
  const figures = widest(
    all.map((row) => row.figure),
    0.3 * frameWidth,
  )
  const values = all.map((row) => row.value).filter(isKnown)
  const scale = plainScale([0, ...(values.some((value) => value !== 0) ? values : [1])], {
    from: labels + 8,
    to: frameWidth - figures - 8,
  })
  let next = top
  const drawn = rows.map((row): Marks => {
    const name = block(wrapped(row.label, labels + 0.01, 'label'), { x: 0, top: next, anchor: 'start', look: 'label' })
    const figure = block(wrapped(row.figure, figures + 0.01, 'label'), {
      x: frameWidth,
      top: next,
      anchor: 'end',
      look: 'label',
    })
    const middle = next + 8
    next += lineHeight * Math.max(1, name.length, figure.length) + 3
    const lines = isKnown(row.value) ? [upright(scale.at(0), middle, 7, 'axis')] : []
    return { texts: [...name, ...figure], lines, rects: barOf(row, scale, middle) }
  })
  return {
    lines: drawn.flatMap((one) => one.lines ?? []),
    rects: drawn.flatMap((one) => one.rects ?? []),
    texts: drawn.flatMap((one) => one.texts ?? []),
    bottom: next,
  }
}

function barOf({ value, fill = 1 }: BarRow, scale: Scale, middle: number): Rect[] {
  if (!isKnown(value) || value === 0) return []
  const [a, b] = [scale.at(0), scale.at(value)]
  return [{ x: Math.min(a, b), y: middle - 4.5, width: Math.abs(b - a), height: 9, fill }]
}
