import { firstOf } from '../lookups/nth.ts'
export interface SeparatedLine {
  /** Counted from 1, as an editor shows it. */
  readonly line: number
  readonly cells: readonly string[]
}

interface Separated {
  readonly separator: string
  readonly lines: readonly SeparatedLine[]
}

/**
 * Reads comma-separated values after RFC 4180, and with semicolons or tabs as spreadsheets of other countries write and
 * copy them: whichever stands most often in the first line separates. Cells are trimmed, empty lines left out.
 */
export function readSeparated(text: string): Separated {
  const plain = text.replace(/^\uFEFF/, '')
  const first = firstOf(plain.split(/\r?\n/, 1))
  const count = (mark: string) => first.split(mark).length
  const separator = [',', ';', '\t'].reduce((best, mark) => (count(mark) > count(best) ? mark : best))
  const lines: SeparatedLine[] = []
  let [line, startedAt, cells, cell, quoted] = [1, 1, [] as string[], '', false]
  const endCell = () => {
    cells.push(cell.trim())
    cell = ''
  }
  const endLine = () => {
    endCell()
    if (cells.some((one) => one !== '')) lines.push({ line: startedAt, cells })
    cells = []
  }
  for (let i = 0; i < plain.length; i++) {
    const mark = plain.charAt(i)
    if (mark === '\n') line += 1
    if (quoted && mark === '"' && plain[i + 1] === '"') cell += plain[++i]
    else if (mark === '"' && (quoted || cell.trim() === '')) quoted = !quoted
    else if (quoted) cell += mark
    else if (mark === separator) endCell()
    else if (mark === '\n') {
      endLine()
      startedAt = line
    } else if (mark !== '\r') cell += mark
  }
  endLine()
  return { separator, lines }
}
