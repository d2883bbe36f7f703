/** Comma-separated values after RFC 4180. A cell that a spreadsheet would run as a formula is defused by a quote mark. */
export function writeCsv(rows: readonly (readonly (string | number | null)[])[]): string {
  return `${rows.map((row) => row.map(cell).join(',')).join('\r\n')}\r\n`
}

function cell(value: string | number | null): string {
  if (value === null) return ''
  if (typeof value === 'number') return String(value)
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}
