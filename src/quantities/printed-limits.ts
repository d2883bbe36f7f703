import { type Reading, readAsPrinted } from './decimals.ts'

/** A value as a laboratory printed it: itself, or a limit that it could not tell it from ("<5", "> 600"). */
export interface Printed {
  readonly value: string
  /** On which side of the printed value it lies; null where it is the value itself. */
  readonly beyond: Beyond | null
}

type Beyond = 'below' | 'above'

const signs = { '<': 'below', '>': 'above' } as const

/** A limit is kept as one: it is no number, and neither nothing nor the limit itself is put in its place. */
export function readPrinted(text: string, locale?: string): Reading<Printed> {
  const plain = text.trim()
  const sign = plain.slice(0, 1)
  const beyond = sign === '<' || sign === '>' ? signs[sign] : null
  const found = readAsPrinted(beyond === null ? plain : plain.slice(1), locale)
  return found.kind === 'refused' ? found : { kind: 'answer', value: { value: found.value, beyond } }
}

/** With its sign before it, whatever way its digits are written in. */
export function withSign(digits: string, beyond: string | null): string {
  if (beyond === 'below') return `<${digits}`
  return beyond === 'above' ? `>${digits}` : digits
}
