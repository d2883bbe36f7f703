/** What happened to a heap of the group's own, in the order of its days. Temperatures in tenths of a degree Celsius. */
export const heapEvents = ['added', 'turned', 'temperature', 'note'] as const
type HeapEvent = (typeof heapEvents)[number]

export interface HeapEntry {
  readonly id: string
  readonly day: string
  readonly what: HeapEvent
  readonly words: string | null
  readonly tenthsC: number | null
}

/**
 * Composting as 7 CFR 205.203(c)(2) has it: 55 to 77 degrees C (131 to 170 F), for 3 days in a vessel or an aerated
 * heap, or for 15 days in a windrow turned at least five times. The figures are from memory but for the range. Local
 * rules decide.
 */
const hotFromTenthsC = 550
const hotToTenthsC = 770

interface HeapSaid {
  readonly turnings: number
  /** Days on which a temperature within the range was measured: what was not measured is not known. */
  readonly hotDays: number
  readonly hottestTenthsC: number | null
}

export function heapSaid(log: readonly HeapEntry[]): HeapSaid {
  const measured = log.flatMap((entry) => (entry.tenthsC === null ? [] : [{ day: entry.day, tenthsC: entry.tenthsC }]))
  const hot = measured.filter((one) => one.tenthsC >= hotFromTenthsC && one.tenthsC <= hotToTenthsC)
  return {
    turnings: log.filter((entry) => entry.what === 'turned').length,
    hotDays: new Set(hot.map((one) => one.day)).size,
    hottestTenthsC: measured.length === 0 ? null : Math.max(...measured.map((one) => one.tenthsC)),
  }
}

export const inOrderOfDays = (log: readonly HeapEntry[]): HeapEntry[] =>
  [...log].sort((a, b) => (a.day === b.day ? 0 : a.day < b.day ? -1 : 1))
