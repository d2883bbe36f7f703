export type Reading<T> =
  | { readonly kind: 'answer'; readonly value: T }
  | { readonly kind: 'refused'; readonly reason: Unreadable }

export type Unreadable = 'empty' | 'not-a-number' | 'unknown-unit' | 'negative' | 'too-large' | 'too-fine' | 'zero'

export const read = <T>(value: T): Reading<T> => ({ kind: 'answer', value })
export const unreadable = (reason: Unreadable): Reading<never> => ({ kind: 'refused', reason })

/**
 * Reads a decimal as people type it. One separator, comma or point, is always the decimal one ("1,234" is 1.234: a
 * weighing is never in the thousands by one comma). Where both stand, the last is the decimal one. Spaces and
 * apostrophes between digits group thousands.
 */
export function readDecimal(text: string): Reading<number> {
  const plain = text.trim().replace(/(?<=\d)[\s\u00a0\u202f'’](?=\d{3}(\D|$))/g, '')
  if (plain === '') return unreadable('empty')
  if (/^[-−]/.test(plain)) return unreadable('negative')
  const ungrouped = withoutGroups(plain)
  if (!/^(\d+([.,]\d*)?|[.,]\d+)$/.test(ungrouped)) return unreadable('not-a-number')
  return read(Number(ungrouped.replace(',', '.')))
}

function withoutGroups(text: string): string {
  const [point, comma] = [text.lastIndexOf('.'), text.lastIndexOf(',')]
  if (point < 0 || comma < 0) return text
  const group = point > comma ? ',' : '.'
  const grouped = group === ',' ? /^\d{1,3}(,\d{3})+\.\d+$/ : /^\d{1,3}(\.\d{3})+,\d+$/
  return grouped.test(text) ? text.replaceAll(group, '') : text
}

/** As `readDecimal`, and a minus before the number is read too: a temperature can be under nothing. */
export function readSigned(text: string): Reading<number> {
  const minus = /^\s*[-−]/.test(text)
  const found = readDecimal(text.replace(/^\s*[-−]\s*/, ''))
  return minus && found.kind === 'answer' ? read(found.value === 0 ? 0 : -found.value) : found
}

/** A decimal with the digits that stand on the paper: "5,0" is "5.0", since a laboratory that prints a zero has measured it. */
export function readAsPrinted(text: string): Reading<string> {
  const found = readSigned(text)
  if (found.kind === 'refused') return found
  if (Math.abs(found.value) >= 1e12) return unreadable('too-large')
  const decimals = /[.,](\d+)\s*$/.exec(text)?.[1]?.length ?? 0
  return decimals > 9 ? unreadable('too-fine') : read(found.value.toFixed(decimals))
}
