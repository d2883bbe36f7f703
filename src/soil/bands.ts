/** A laboratory's own bands: low under one figure, high from another; either may be missing. Decimals as printed. */
interface Bands {
  readonly lowUnder: string | null
  readonly highFrom: string | null
}

export type Band = 'low' | 'optimum' | 'high'

/** Reads what is stored; null where the laboratory gave none. */
export function bandsFrom(stored: unknown): Bands | null {
  const { lowUnder = null, highFrom = null } = (stored ?? {}) as Partial<Bands>
  return lowUnder === null && highFrom === null ? null : { lowUnder, highFrom }
}

interface Value {
  readonly value: string
  readonly beyond?: string | null
}

/**
 * In which of its laboratory's bands a value lies; null where the bands given do not decide it. Below a limit it is low
 * where all below the limit is, and above one high where all above is; otherwise a limit decides nothing.
 */
export function bandOf({ value, beyond = null }: Value, bands: Bands | null): Band | null {
  if (bands === null) return null
  const at = Number(value)
  if (beyond === 'below') return bands.lowUnder !== null && at <= Number(bands.lowUnder) ? 'low' : null
  if (beyond === 'above') return bands.highFrom !== null && at >= Number(bands.highFrom) ? 'high' : null
  if (bands.lowUnder !== null && at < Number(bands.lowUnder)) return 'low'
  if (bands.highFrom !== null && at >= Number(bands.highFrom)) return 'high'
  return bands.lowUnder !== null && bands.highFrom !== null ? 'optimum' : null
}
