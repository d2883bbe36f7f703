import { nth } from '../lookups/nth.ts'
import { leftSide, type NamedTick, namesBelow, rulesAcross, type Write } from './axes.ts'
import { type Drawing, drawingOf, frameWidth, type Line, level, lineHeight, type Marks, type Point } from './drawing.ts'
import { block, spread, wrapped } from './labels.ts'
import { linearScale, plainScale } from './scales.ts'
import { textWidth } from './text-width.ts'

interface BandedPoint {
  readonly x: number
  readonly low: number
  readonly middle: number
  readonly high: number
}

interface BandedCourses {
  /** At most two: bands lie over each other. */
  readonly series: readonly { readonly label: string; readonly points: readonly BandedPoint[] }[]
  /** Single values beside the courses, each a small cross. */
  readonly crosses?: readonly { readonly x: number; readonly y: number }[]
  readonly ticks: readonly NamedTick[]
  readonly axis: string
  readonly write: Write
}

const height = 180
const fillOf = [3, 4] as const

/** Lines with the band that holds most of their draws, each named at its end. */
export function drawBandedCourses({ series, crosses = [], ticks, axis, write }: BandedCourses): Drawing {
  const name = block(wrapped(axis, frameWidth, 'tick'), { x: 0, top: 0, anchor: 'start', look: 'tick' })
  const top = lineHeight * name.length + 8
  const ends = [
    ...series.flatMap(({ points }) => points.flatMap(({ low, high }) => [low, high])),
    ...crosses.map(({ y }) => y),
  ]
  const up = linearScale([...ends, 0], { from: top + height, to: top, count: 5 })
  const side = Math.max(0, ...series.map(({ label }) => textWidth(label, 'label')))
  const plot = { left: leftSide(up, write), right: frameWidth - side - 12 }
  const places = series.flatMap(({ points }) => points.map((point) => point.x))
  const along = plainScale([...places, ...ticks.map((tick) => tick.at)], { from: plot.left + 3, to: plot.right - 3 })
  const below = namesBelow(ticks, along, top + height)
  const at = (x: number, y: number): Point => [along.at(x), up.at(y)]
  const marks = series.map(({ points }, i): Marks => {
    const over = points.map((point) => at(point.x, point.high))
    const under = points.map((point) => at(point.x, point.low)).reverse()
    return {
      areas: [{ points: [...over, ...under], fill: fillOf[i] ?? 5 }],
      paths: [{ points: points.map((point) => at(point.x, point.middle)), dash: i + 1, sure: true }],
    }
  })
  return drawingOf(below.bottom + 2, [
    { texts: name },
    rulesAcross(up, plot, write),
    ...marks,
    { lines: [level(plot.left, plot.right, up.at(0), 'axis')] },
    { lines: crosses.flatMap((one) => crossAt(at(one.x, one.y))) },
    { texts: names(series, (y) => up.at(y), plot.right + 6) },
    below,
  ])
}

const arm = 4
const crossAt = ([x, y]: Point): Line[] => [
  { x1: x - arm, x2: x + arm, y1: y, y2: y, look: 'small-peg' },
  { x1: x, x2: x, y1: y - arm, y2: y + arm, look: 'small-peg' },
]

function names(series: BandedCourses['series'], up: (y: number) => number, x: number) {
  // A course without points has its name at the foot.
  const lasts = series.map(({ label, points }) => ({ label, y: up(points.at(-1)?.middle ?? 0) }))
  const middles = spread(
    lasts.map(({ y }) => ({ at: y, size: lineHeight })),
    0,
    Number.POSITIVE_INFINITY,
  )
  return lasts.flatMap(({ label }, i) =>
    block([label], { x, top: nth(middles, i) - lineHeight / 2, anchor: 'start', look: 'label' }),
  )
}
