import type { TextLook } from './drawing.ts'

/** Sizes in units of the frame; the styles give the same. */
export const sizes: Record<TextLook, number> = { label: 13, strong: 13, tick: 12 }

/**
 * Widths in parts of the size, after a wide book face: a page in a narrower face has room to spare. From memory,
 * checked in a browser.
 */
const widths: readonly (readonly [RegExp, number])[] = [
  [/[ijl.,:;'|!\u2018\u2019 \u00a0\u202f]/, 0.34],
  [/[ft()\-[\]r/]/, 0.48],
  [/[mwMW%\u2212+=<>\u2013]/, 1.04],
  [/[A-Z\u00c0-\u00de&]/, 0.8],
  [/[\u2e80-\uffff]/, 1.05],
]

const ordinary = 0.65

/** How wide a line of text is at most. Strong text is a tenth wider. */
export function textWidth(text: string, look: TextLook): number {
  let sum = 0
  for (const letter of text) sum += widths.find(([pattern]) => pattern.test(letter))?.[1] ?? ordinary
  return sum * sizes[look] * (look === 'strong' ? 1.1 : 1)
}
