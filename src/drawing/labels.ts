import { lastOf, nth } from '../lookups/nth.ts'
import { frameWidth, lineHeight, type Text, type TextLook } from './drawing.ts'
import { sizes, textWidth } from './text-width.ts'

interface Box {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** The ground that a text covers at most. */
export function boxOf({ x, y, text, anchor, look }: Text): Box {
  const width = textWidth(text, look)
  const left = anchor === 'start' ? x : anchor === 'end' ? x - width : x - width / 2
  return { left, right: left + width, top: y - 0.8 * sizes[look], bottom: y + 0.25 * sizes[look] }
}

export const overlap = (one: Box, other: Box) =>
  one.left < other.right && other.left < one.right && one.top < other.bottom && other.top < one.bottom

/** Breaks a text into lines no wider than that; a word that is too long alone is broken where it must. */
export function wrapped(text: string, width: number, look: TextLook): string[] {
  const lines: string[] = []
  let line = ''
  for (const word of text.split(/\s+/).filter((one) => one !== '')) {
    const longer = line === '' ? word : `${line} ${word}`
    if (textWidth(longer, look) <= width) line = longer
    else {
      if (line !== '') lines.push(line)
      const pieces = piecesOf(word, width, look)
      lines.push(...pieces.slice(0, -1))
      line = lastOf(pieces)
    }
  }
  return line === '' ? lines : [...lines, line]
}

function piecesOf(word: string, width: number, look: TextLook): string[] {
  const pieces: string[] = []
  let piece = ''
  for (const letter of word) {
    if (piece !== '' && textWidth(piece + letter, look) > width) {
      pieces.push(piece)
      piece = ''
    }
    piece += letter
  }
  return [...pieces, piece]
}

/** Lines of text one under the other, the first in the line that begins at `top`. */
export function block(
  lines: readonly string[],
  { x, top, anchor, look }: Pick<Text, 'x' | 'anchor' | 'look'> & { top: number },
): Text[] {
  return lines.map((text, i) => ({ x, y: top + lineHeight * i + 12, text, anchor, look }))
}

/** A text centred on x, or as near to it as the frame allows. */
export function centred(text: string, x: number, y: number, look: TextLook): Text {
  const half = textWidth(text, look) / 2
  return { x: Math.min(Math.max(x, half), Math.max(frameWidth - half, half)), y, text, anchor: 'middle', look }
}

/** Those texts, first come first, that keep clear of the ones before them and fit the frame. */
export function keptApart(texts: readonly Text[], gap = 6): Text[] {
  const kept: Text[] = []
  for (const text of texts) {
    const box = boxOf(text)
    const wide = { ...box, left: box.left - gap, right: box.right + gap }
    const fits = box.left >= -0.05 && box.right <= frameWidth + 0.05
    if (fits && !kept.some((one) => overlap(wide, boxOf(one)))) kept.push(text)
  }
  return kept
}

interface Wanted {
  readonly at: number
  readonly size: number
}

/**
 * Middles of labels along one line, in the order of where they are wanted, none over another, those that press each
 * other centred on where they were wanted, all between low and high where there is room for all; else they run on past
 * high.
 */
export function spread(wanted: readonly Wanted[], low: number, high: number): number[] {
  const order = wanted.map((_, i) => i).sort((a, b) => nth(wanted, a).at - nth(wanted, b).at || a - b)
  let total = 0
  const offsets = order.map((i) => {
    const size = nth(wanted, i).size
    total += size
    return total - size / 2
  })
  const starts = rising(order.map((i, place) => nth(wanted, i).at - nth(offsets, place)))
  const middles = wanted.map(() => 0)
  for (const [place, i] of order.entries()) {
    const start = Math.max(low, Math.min(nth(starts, place), high - total))
    middles[i] = start + nth(offsets, place)
  }
  return middles
}

/**
 * The nearest values that never fall: those that would are put at their mean (pool adjacent violators, Ayer et al.
 * 1955).
 */
function rising(values: readonly number[]): number[] {
  const pools: { sum: number; count: number }[] = []
  for (const value of values) {
    let pool = { sum: value, count: 1 }
    for (let last = pools.at(-1); last && last.sum / last.count > pool.sum / pool.count; last = pools.at(-1)) {
      pool = { sum: pool.sum + last.sum, count: pool.count + last.count }
      pools.pop()
    }
    pools.push(pool)
  }
  return pools.flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count))
}
