import { nth } from '../lookups/nth.ts'
import { type Block, leftSide, type NamedTick, namesBelow, rulesAcross, type Write } from './axes.ts'
import {
  type Drawing,
  dashes,
  drawingOf,
  frameWidth,
  inset,
  type Line,
  level,
  lineHeight,
  lookOf,
  type Marks,
  type Path,
  type Point,
  type Text,
  upright,
} from './drawing.ts'
import { block, spread, wrapped } from './labels.ts'
import { isKnown, linearScale, plainScale, type Scale } from './scales.ts'
import { textWidth } from './text-width.ts'

export interface CoursePoint {
  readonly x: number
  /** null is unknown: the line has a gap there. */
  readonly y: number | null
  /** false where the true value may lie higher: drawn fainter. */
  readonly sure?: boolean
}

interface Course {
  readonly series: readonly { readonly label: string; readonly points: readonly CoursePoint[] }[]
  readonly ticks: readonly NamedTick[]
  /** What is measured, with its unit. */
  readonly axis: string
  readonly write: Write
  /** Whether the scale holds 0, and whether every value has a peg of its own. */
  readonly fromZero?: boolean
  readonly pegs?: boolean
  /** Places to look at: an upright with a letter, and its words under the picture. */
  readonly notes?: readonly { readonly x: number; readonly text: string }[]
}

const height = 170

/** Each name begins with a piece of its line. */
const sample = 24

/** Values over time, a line a series with its name at its end. */
export function drawCourse(course: Course): Drawing {
  const { series, ticks, axis, write, notes = [], fromZero = false, pegs = false } = course
  const name = block(wrapped(axis, frameWidth, 'tick'), { x: 0, top: 0, anchor: 'start', look: 'tick' })
  const names = series.map(({ label }) => wrapped(label, 0.28 * frameWidth, 'label'))
  const tall = Math.max(height, names.flat().length * lineHeight)
  const top = lineHeight * name.length + 8 + (notes.length > 0 ? lineHeight : 0)
  const values = series.flatMap(({ points }) => points.map((point) => point.y)).filter(isKnown)
  const up = linearScale([...values, ...(fromZero ? [0] : [])], { from: top + tall, to: top, count: 5 })
  const side = Math.max(0, ...names.flat().map((line) => textWidth(line, 'label')))
  const plot = { left: leftSide(up, write), right: frameWidth - side - 14 - sample }
  const places = series.flatMap(({ points }) => points.map((point) => point.x))
  const along = plainScale([...places, ...ticks.map((tick) => tick.at)].filter(Number.isFinite), {
    from: plot.left + 3,
    to: plot.right - 3,
  })
  const below = namesBelow(ticks, along, top + tall)
  const noted = notesOf(notes, along, { top, foot: top + tall, under: below.bottom })
  const parts: Marks[] = [
    { texts: name },
    rulesAcross(up, plot, write),
    noted,
    { lines: [level(plot.left, plot.right, top + tall, 'axis')] },
    ...series.map(({ points }, i) => linesOf(points, { along, up, pegs, dash: lookOf(i, dashes) })),
    endNames(series, names, { along, up, x: plot.right + 14, top, foot: top + tall }),
    below,
  ]
  return drawingOf(noted.bottom + 2, parts)
}

interface Drawn {
  readonly along: Scale
  readonly up: Scale
  readonly pegs: boolean
  readonly dash: number
}

function linesOf(points: readonly CoursePoint[], { along, up, pegs, dash }: Drawn): Marks {
  const runs: { points: Point[]; sure: boolean }[] = []
  let before: Point | null = null
  for (const { x, y, sure = true } of points) {
    const here: Point | null = isKnown(y) && isKnown(x) ? [along.at(x), up.at(y)] : null
    const run = runs.at(-1)
    if (here && before && run?.sure === sure) run.points.push(here)
    else if (here) runs.push({ points: before ? [before, here] : [here], sure })
    before = here
  }
  const paths = runs.filter((run) => run.points.length > 1).map((run): Path => ({ ...run, dash }))
  const single = runs.filter((run) => run.points.length === 1)
  const pegged = pegs ? runs.flatMap((run) => run.points) : single.flatMap((run) => run.points)
  return { paths, lines: pegged.map(([x, y]) => upright(x, y, 4, 'small-peg')) }
}

interface Ends {
  readonly along: Scale
  readonly up: Scale
  readonly x: number
  readonly top: number
  readonly foot: number
}

/** The name of each series beside its last known value; one without any has none. */
function endNames(series: Course['series'], names: readonly string[][], { along, up, x, top, foot }: Ends): Marks {
  const ends = series.flatMap(({ points }, i) => {
    const last = points.findLast((point) => isKnown(point.y) && isKnown(point.x))
    const lines = names[i] ?? []
    return last && isKnown(last.y)
      ? [{ from: [along.at(last.x), up.at(last.y)] as const, lines, dash: lookOf(i, dashes) }]
      : []
  })
  const middles = spread(
    ends.map(({ from, lines }) => ({ at: from[1], size: lineHeight * lines.length })),
    top - 6,
    foot + 6,
  )
  const texts = ends.flatMap(({ lines }, i): Text[] => {
    const first = nth(middles, i) - (lineHeight * lines.length) / 2
    return block(lines, { x: x + sample, top: first, anchor: 'start', look: 'label' })
  })
  const leaders = ends.map(({ from }, i): Line => {
    return { x1: from[0] + 2, y1: from[1], x2: x - 1, y2: nth(middles, i), look: 'leader' }
  })
  const samples = ends.map(({ dash }, i): Path => {
    const y = nth(middles, i)
    return {
      points: [
        [x, y],
        [x + sample - 5, y],
      ],
      dash,
      sure: true,
    }
  })
  return { texts, lines: leaders, paths: samples }
}

/** Letters over the plot, apart from each other, and their words under it. */
function notesOf(
  notes: NonNullable<Course['notes']>,
  along: Scale,
  { top, foot, under }: { top: number; foot: number; under: number },
): Block {
  const placed = notes.filter((note) => isKnown(note.x))
  const xs = spread(
    placed.map((note) => ({ at: along.at(note.x), size: 14 })),
    inset,
    frameWidth - inset,
  )
  const letters = placed.map((_, i): Text => {
    return { x: nth(xs, i), y: top - 9, text: letterOf(i), anchor: 'middle', look: 'strong' }
  })
  const lines = placed.flatMap((note, i): Line[] => {
    const x = along.at(note.x)
    return [
      { x1: nth(xs, i), y1: top - 5, x2: x, y2: top, look: 'reference' },
      { x1: x, y1: top, x2: x, y2: foot, look: 'reference' },
    ]
  })
  let next = under
  const words = placed.flatMap((note, i): Text[] => {
    const rest = block(wrapped(note.text, frameWidth - 16, 'label'), {
      x: 16,
      top: next,
      anchor: 'start',
      look: 'label',
    })
    const letter = block([letterOf(i)], { x: 0, top: next, anchor: 'start', look: 'strong' })
    next += lineHeight * Math.max(1, rest.length)
    return [...letter, ...rest]
  })
  return { lines, texts: [...letters, ...words], bottom: next }
}

const letterOf = (i: number) => String.fromCharCode(97 + (i % 26))
