import { nth } from '../lookups/nth.ts'
import { leftSide, type NamedTick, namesBelow, rulesAcross, type Write } from './axes.ts'
import { type BarRow, barRows } from './bar-ledger.ts'
import {
  type Area,
  type Drawing,
  drawingOf,
  fills,
  frameWidth,
  inset,
  level,
  lineHeight,
  lookOf,
  type Marks,
  type Point,
} from './drawing.ts'
import { block, wrapped } from './labels.ts'
import { bounded, linearScale, plainScale, type Scale } from './scales.ts'

export interface StackedSteps {
  readonly groups: readonly {
    readonly label: string
    /** The total as it is read. */
    readonly figure: string
    /** One a step, 0 or more; null, below zero or not a number is unknown. */
    readonly values: readonly (number | null)[]
    /** 1 to 5; by its place where it is left out. */
    readonly fill?: number
  }[]
  /** Named steps, counted from 0. */
  readonly ticks: readonly NamedTick[]
  /** What is stacked, with its unit. */
  readonly axis: string
  /** Said where the line at the foot is broken. */
  readonly unknown: string
  readonly write: Write
  /** The highest step and the totals of other drawings, so that all can be read side by side. */
  readonly beside?: { readonly step: number; readonly totals: readonly BarRow[] }
}

const height = 130

/**
 * First every group's total with its fill, then all of them stacked step by step. A step unknown in one group is a gap
 * in all.
 */
export function drawStackedSteps({ groups, ticks, axis, unknown, write, beside }: StackedSteps): Drawing {
  const steps = Math.max(0, ...groups.map((group) => group.values.length))
  const known = Array.from({ length: steps }, (_, step) => groups.every(({ values }) => usable(values[step])))
  const looks = groups.map((group, i) => group.fill ?? lookOf(i, fills))
  const totals = groups.map((group, i) => ({
    label: group.label,
    figure: group.figure,
    fill: looks[i] ?? 1,
    value: group.values.reduce<number>((sum, value) => sum + (usable(value) ? bounded(value) : 0), 0),
  }))
  const bars = barRows(totals, 2, [...totals, ...(beside?.totals ?? [])])
  const name = block(wrapped(axis, frameWidth, 'tick'), { x: 0, top: bars.bottom + 6, anchor: 'start', look: 'tick' })
  const top = bars.bottom + 6 + lineHeight * name.length + 8
  const tops = stackedTops(groups, known)
  // Without a mark beside it the scale begins at nothing as well.
  const upScale = linearScale([0, beside?.step ?? 0, ...tops.flat()], { from: top + height, to: top, count: 4 })
  const left = leftSide(upScale, write)
  const plot = { left, right: frameWidth - inset }
  const alongScale = plainScale([0, Math.max(1, steps)], { from: left, to: plot.right })
  const runs = runsOf(known)
  const names = namesBelow(
    ticks.filter((tick) => tick.at < steps),
    alongScale,
    top + height,
  )
  const note = known.includes(false)
    ? block(wrapped(unknown, frameWidth, 'tick'), { x: 0, top: names.bottom, anchor: 'start', look: 'tick' })
    : []
  const parts: Marks[] = [
    bars,
    { texts: name },
    rulesAcross(upScale, plot, write),
    { areas: runs.flatMap((run) => areasOf(tops, run, { along: alongScale, up: upScale, looks })) },
    { lines: runs.map(([from, to]) => level(alongScale.at(from), alongScale.at(to), top + height, 'axis')) },
    names,
    { texts: note },
  ]
  return drawingOf(names.bottom + lineHeight * note.length + 2, parts)
}

const usable = (value: number | null | undefined): value is number =>
  typeof value === 'number' && Number.isFinite(value) && value >= 0

/** Of every group the height of its upper side, step by step. */
function stackedTops(groups: StackedSteps['groups'], known: readonly boolean[]): number[][] {
  const below = known.map(() => 0)
  return groups.map(({ values }) =>
    known.map((isKnown, step) => {
      // An unknown part adds nothing to the heap; its step is drawn open.
      if (isKnown) below[step] = nth(below, step) + bounded(nth(values, step) ?? 0)
      return nth(below, step)
    }),
  )
}

/** Spans of known steps, from the first to the one after the last. */
export function runsOf(known: readonly boolean[]): [number, number][] {
  const runs: [number, number][] = []
  known.forEach((is, step) => {
    const last = runs.at(-1)
    if (!is) return
    if (last && last[1] === step) last[1] = step + 1
    else runs.push([step, step + 1])
  })
  return runs
}

interface Onto {
  readonly along: Scale
  readonly up: Scale
  readonly looks: readonly number[]
}

function areasOf(tops: readonly number[][], [from, to]: [number, number], { along, up, looks }: Onto): Area[] {
  return tops.flatMap((own, i): Area[] => {
    const under = tops[i - 1] ?? own.map(() => 0)
    const steps = Array.from({ length: to - from }, (_, step) => from + step)
    if (steps.every((step) => own[step] === under[step])) return []
    const side = (heights: readonly number[]) =>
      steps.flatMap((step): Point[] => [
        [along.at(step), up.at(nth(heights, step))],
        [along.at(step + 1), up.at(nth(heights, step))],
      ])
    return [{ points: [...side(own), ...side(under).reverse()], fill: looks[i] ?? 1 }]
  })
}
