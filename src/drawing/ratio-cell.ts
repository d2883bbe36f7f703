import { methodMark } from './method-marks.ts'

/** Every cell and its axis have this width, so that a mark stands over its tick. */
export const ratioCell = { width: 200, height: 34, inset: 10, middle: 14, reach: 5.5 } as const

/** From a quarter to 32 times, each doubling as far from the next: the same in every column. */
export const ratioTicks = [0.25, 0.5, 1, 2, 4, 8, 16, 32] as const

const [least, most] = [Math.log2(0.25), Math.log2(32)]

/** Where a ratio lies across a cell; at the edge where it lies beyond. */
export function ratioX(ratio: number): number {
  const share = (Math.min(most, Math.max(least, Math.log2(ratio))) - least) / (most - least)
  return Math.round(10 * (ratioCell.inset + share * (ratioCell.width - 2 * ratioCell.inset))) / 10
}

interface RatioMark {
  readonly ratio: number
  readonly low: number | null
  readonly high: number | null
  readonly seasons: readonly number[]
  readonly told: 'told' | 'exploratory' | 'not told' | null
  /** "At least": an open end to the right. */
  readonly openEnd: boolean
  readonly place: number
}

export interface RatioDrawn {
  readonly x: number
  readonly span: { readonly from: number; readonly to: number } | null
  readonly ticks: readonly number[]
  readonly mark: string
  /** Of a half-filled mark. */
  readonly core: string
  readonly look: 'told' | 'half' | 'ring' | 'plain'
  readonly openEnd: boolean
}

/** One method beside the reference: its mark, the interval as a line, single seasons as small ticks below it. */
export function drawRatio({ ratio, low, high, seasons, told, openEnd, place }: RatioMark): RatioDrawn {
  const x = ratioX(ratio)
  const { middle, reach } = ratioCell
  const look = told === 'told' ? 'told' : told === 'exploratory' ? 'half' : told === 'not told' ? 'ring' : 'plain'
  return {
    x,
    span: low === null || high === null ? null : { from: ratioX(low), to: ratioX(high) },
    ticks: seasons.map(ratioX),
    mark: methodMark(place, { x, y: middle, reach }),
    core: methodMark(place, { x, y: middle, reach: reach * 0.5 }),
    look,
    openEnd,
  }
}
