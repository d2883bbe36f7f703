import type { IsoDate } from '../quantities/dates.ts'

/** So many entries are read at once; with more, a garden's year comes a month at a time. */
export const mostAtOnce = 40

interface Dated {
  readonly date: string
}

/** Months in which something is written down, "2026-02", each once, as they came. */
export const monthsOf = (happened: readonly Dated[]): string[] => [
  ...new Set(happened.map((one) => one.date.slice(0, 7)).sort()),
]

/**
 * The month that is shown, or null where all are: the one that was asked for, and where none was and there is more than
 * is read at once, the last one until today.
 */
export function monthShown(
  happened: readonly Dated[],
  { month, today }: { month: string; today: IsoDate },
): string | null {
  const months = monthsOf(happened)
  if (month === 'all') return null
  if (months.includes(month)) return month
  if (happened.length <= mostAtOnce) return null
  return months.findLast((one) => one <= today.slice(0, 7)) ?? months[0] ?? null
}
