import { frameWidth, lineHeight, type Text } from './drawing.ts'
import { block, wrapped } from './labels.ts'
import { textWidth } from './text-width.ts'

interface RowWords {
  readonly label: string
  readonly figure: string
  readonly strong?: boolean
}

interface RowText {
  readonly texts: readonly Text[]
  readonly bottom: number
}

const between = 10

/**
 * A row's words: its label on the left and its figure on the right of one line, or one under the other where both are
 * long.
 */
export function rowText({ label, figure, strong }: RowWords, top: number): RowText {
  const look = strong ? 'strong' : 'label'
  const figureWidth = textWidth(figure, look)
  const beside = figureWidth <= 0.62 * frameWidth
  const room = beside && figure !== '' ? frameWidth - figureWidth - between : frameWidth
  const labels = block(wrapped(label, room, look), { x: 0, top, anchor: 'start', look })
  const under = beside ? top : top + lineHeight * labels.length
  const figures = block(wrapped(figure, frameWidth, look), { x: frameWidth, top: under, anchor: 'end', look })
  const bottom = Math.max(top + lineHeight * labels.length, under + lineHeight * figures.length)
  return { texts: [...labels, ...figures], bottom }
}
