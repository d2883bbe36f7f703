import { frameWidth, inset, type Line, level, lineHeight, type Marks, type Text, upright } from './drawing.ts'
import { block, centred, keptApart, wrapped } from './labels.ts'
import type { Scale } from './scales.ts'
import { textWidth } from './text-width.ts'

/** Writes a number in the reader's locale. */
export type Write = (value: number, decimals: number) => string

export interface Block extends Marks {
  /** Where the next thing may begin. */
  readonly bottom: number
}

/** The axis under rows of marks: its line, ticks with as many numbers as stand apart, and what is measured. */
export function axisBelow(scale: Scale, top: number, said: { name: string; write: Write }): Block {
  const numbers = scale.ticks.map((tick) =>
    centred(said.write(tick.value, tick.decimals), scale.at(tick.value), top + 17, 'tick'),
  )
  const name = block(wrapped(said.name, frameWidth, 'tick'), { x: 0, top: top + 22, anchor: 'start', look: 'tick' })
  return {
    lines: [
      level(inset, frameWidth - inset, top, 'axis'),
      ...scale.ticks.map((tick) => upright(scale.at(tick.value), top + 2, 2, 'axis')),
    ],
    texts: [...keptApart(numbers), ...name],
    bottom: top + 22 + lineHeight * name.length + (name.length > 0 ? 2 : 0),
  }
}

/** Numbers up the left side, each with a thin rule across; a number too wide for the side is left out. */
export function rulesAcross(scale: Scale, plot: { left: number; right: number }, write: Write): Marks {
  const texts = scale.ticks.map(
    (tick): Text => ({
      x: plot.left - 5,
      y: scale.at(tick.value) + 4,
      text: write(tick.value, tick.decimals),
      anchor: 'end',
      look: 'tick',
    }),
  )
  const lines = scale.ticks.map((tick): Line => level(plot.left, plot.right, scale.at(tick.value), 'rule'))
  return { lines, texts: keptApart(texts, 0) }
}

/** How much room the numbers of a scale need on the left, at most a quarter of the frame. */
export function leftSide(scale: Scale, write: Write): number {
  const widest = Math.max(0, ...scale.ticks.map((tick) => textWidth(write(tick.value, tick.decimals), 'tick')))
  return Math.min(widest, frameWidth / 4) + 5
}

export interface NamedTick {
  readonly at: number
  readonly label: string
}

/** Named ticks under a plot, such as the months; as many names as stand apart. */
export function namesBelow(ticks: readonly NamedTick[], scale: Scale, top: number): Block {
  const within = ticks.filter((tick) => Number.isFinite(tick.at) && scale.outside(tick.at) === 0)
  const names = within.map((tick) => centred(tick.label, scale.at(tick.at), top + 17, 'tick'))
  return {
    lines: within.map((tick) => upright(scale.at(tick.at), top + 2, 2, 'axis')),
    texts: keptApart(names),
    bottom: top + 24,
  }
}
