/**
 * Comma-separated values after RFC 4180. A cell that a spreadsheet would run as a formula is defused by a quote mark.
 */
export function writeCsv(rows: readonly (readonly (string | number | null)[])[]): string {
  return `${rows.map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`
}

/** A text that a spreadsheet would run as a formula behind a quote mark; so is one that reads as if it had been. */
export const defused = (text: string): string => (/^'*[=+\-@\t\r]/.test(text) ? `'${text}` : text)

/** What `defused` was given. */
export const armed = (text: string): string => (/^'+[=+\-@\t\r]/.test(text) ? text.slice(1) : text)

function cell(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  const safe = defused(value)
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}

/**
 * One line of a file for programs: every value exactly as it is given. Null is nothing between the commas, an empty
 * text is two quote marks.
 */
export const exactLine = (values: readonly (string | null)[]): string => `${values.map(exactCell).join(',')}\r\n`

function exactCell(value: string | null): string {
  if (value === null) return ''
  return value === '' || /[",\r\n]/.test(value) ? `"${value.replaceAll('"', '""')}"` : value
}
