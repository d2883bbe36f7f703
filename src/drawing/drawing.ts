import { recordOf } from '../lookups/keys.ts'

/** What a picture is made of: marks with coordinates in the units of its frame, rounded to a tenth. */
export interface Line {
  readonly x1: number
  readonly y1: number
  readonly x2: number
  readonly y2: number
  readonly look: LineLook
}

/**
 * Thin rules and axes; a peg is a value, a span its range; an edge is a value or range that goes on outside the frame.
 */
type LineLook =
  | 'rule'
  | 'axis'
  | 'reference'
  | 'leader'
  | 'peg'
  | 'small-peg'
  | 'span'
  | 'heavy-span'
  | 'broken-span'
  | 'edge'

export type Point = readonly [x: number, y: number]

/** One of six dashes; `sure` is false where the true line may lie higher. */
export interface Path {
  readonly points: readonly Point[]
  readonly dash: number
  readonly sure: boolean
}

/** One of five fills that stay apart in grey: dark, hatched, pale, dotted, open. */
export interface Rect {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
  readonly fill: number
}

export interface Area {
  readonly points: readonly Point[]
  readonly fill: number
}

/** `y` is the baseline. */
export interface Text {
  readonly x: number
  readonly y: number
  readonly text: string
  readonly anchor: 'start' | 'middle' | 'end'
  readonly look: TextLook
}

export type TextLook = 'label' | 'strong' | 'tick'

export interface Marks {
  readonly lines?: readonly Line[]
  readonly paths?: readonly Path[]
  readonly areas?: readonly Area[]
  readonly rects?: readonly Rect[]
  readonly texts?: readonly Text[]
}

export interface Drawing extends Required<Marks> {
  readonly width: number
  readonly height: number
}

/** Of every picture: on a phone of 360 px a unit is a little less than a pixel. */
export const frameWidth = 340

/** Marks keep this far from the sides, so that the thickest stroke stays inside. */
export const inset = 5

export const lineHeight = 16

export const dashes = 6
export const fills = 5

/** Which of so many looks the one at this place has, counted from 1. */
export const lookOf = (place: number, looks: number) => (place % looks) + 1

export function drawingOf(height: number, parts: readonly Marks[]): Drawing {
  const ends = ['x1', 'y1', 'x2', 'y2'] as const
  return {
    width: frameWidth,
    height: Math.ceil(height),
    lines: parts.flatMap((part) => part.lines ?? []).map((line) => ({ ...line, ...tenthsOf(line, ends) })),
    paths: parts.flatMap((part) => part.paths ?? []).map((path) => ({ ...path, points: path.points.map(pointOf) })),
    areas: parts.flatMap((part) => part.areas ?? []).map((area) => ({ ...area, points: area.points.map(pointOf) })),
    rects: parts
      .flatMap((part) => part.rects ?? [])
      .map((rect) => ({ ...rect, ...tenthsOf(rect, ['x', 'y', 'width', 'height']) })),
    texts: parts.flatMap((part) => part.texts ?? []).map((text) => ({ ...text, ...tenthsOf(text, ['x', 'y']) })),
  }
}

const tenth = (value: number) => Math.round(value * 10) / 10 + 0

const pointOf = ([x, y]: Point): Point => [tenth(x), tenth(y)]

const tenthsOf = <K extends string>(mark: Record<K, number>, keys: readonly K[]) =>
  recordOf(keys, (key) => tenth(mark[key]))

/** An upright stroke across a strip, from `y - reach` to `y + reach`. */
export const upright = (x: number, y: number, reach: number, look: LineLook): Line => ({
  x1: x,
  x2: x,
  y1: y - reach,
  y2: y + reach,
  look,
})

export const level = (x1: number, x2: number, y: number, look: LineLook): Line => ({ x1, x2, y1: y, y2: y, look })
