import { type Reading, read, readAsPrinted, unreadable } from './decimals.ts'

/** How far values of one sample lie apart by a laboratory's own account: in the value's unit, or per cent of it. */
export interface StandardError {
  /** As it was printed: a decimal, not a float. */
  readonly digits: string
  readonly of: 'unit' | 'percent'
}

/** Reads "2.5", "± 2.5", "5 %". Nothing at all is no error that a laboratory has. */
export function readStandardError(text: string, locale?: string): Reading<StandardError> {
  const plain = text.trim().replace(/^(±|\+\/-)\s*/, '')
  const isShare = plain.endsWith('%')
  const found = readAsPrinted(isShare ? plain.slice(0, -1).trim() : plain, locale)
  if (found.kind === 'refused') return found
  const value = Number(found.value)
  if (value < 0) return unreadable('negative')
  if (value === 0) return unreadable('zero')
  return isShare && value > 100
    ? unreadable('too-large')
    : read({ digits: found.value, of: isShare ? 'percent' : 'unit' })
}

export const standardErrorAsTyped = (digits: string, of: string | null): string =>
  of === 'percent' ? `${digits} %` : digits
