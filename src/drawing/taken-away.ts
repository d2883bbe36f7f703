import { type Drawing, lineHeight, type Text } from './drawing.ts'
import { block, wrapped } from './labels.ts'

/** A picture as a file of its own: what stands above it is part of it, since no page says it there. */
interface TakenAway {
  readonly width: number
  readonly height: number
  /** Where the drawing begins. */
  readonly left: number
  readonly top: number
  readonly above: readonly Text[]
  readonly below: readonly Text[]
}

const margin = 16

/**
 * The title and how it is read in lines above the drawing, where it comes from below; all in units of the
 * drawing's frame.
 */
export function takenAway(
  { width, height }: Pick<Drawing, 'width' | 'height'>,
  { title, how, from }: { readonly title: string; readonly how: string; readonly from: string },
): TakenAway {
  const titleLines = wrapped(title, width, 'strong')
  const howLines = wrapped(how, width, 'tick')
  const fromLines = wrapped(from, width, 'tick')
  const [titleTop, howTop] = [margin, margin + lineHeight * titleLines.length + 4]
  const top = howTop + lineHeight * howLines.length + 8
  const below = top + height + 8
  const at = { x: margin, anchor: 'start' } as const
  return {
    width: width + 2 * margin,
    height: below + lineHeight * fromLines.length + margin,
    left: margin,
    top,
    above: [
      ...block(titleLines, { ...at, top: titleTop, look: 'strong' }),
      ...block(howLines, { ...at, top: howTop, look: 'tick' }),
    ],
    below: block(fromLines, { ...at, top: below, look: 'tick' }),
  }
}
