import type { IsoDate } from '../quantities/dates.ts'

interface Begun {
  readonly startsOn: IsoDate
  readonly uniform?: boolean
}

/**
 * Whether a question was locked later than the first day of some season that it is asked of: then part of the answer
 * could be known, and it was not asked beforehand. Uniform years compare no methods, and may lie before it. Days are
 * ISO dates.
 */
export const lockedLate = (lockedOn: IsoDate, seasons: readonly Begun[]): boolean =>
  seasons.some((season) => !season.uniform && season.startsOn < lockedOn)
