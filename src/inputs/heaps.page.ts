import type { IsoDate } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { type HeapEntry, heapSaid, inOrderOfDays } from './heap.ts'

interface HeapRow {
  readonly id: string
  readonly name: string
  readonly input: string
  readonly startedOn: IsoDate
  readonly readyOn: IsoDate | null
  readonly log: readonly HeapEntry[]
}

/** The group's own heaps as dated lines. */
export function heapsPage(heaps: readonly HeapRow[], locale: string) {
  const celsius = (tenths: number) => `${formatNumber(tenths / 10, locale, tenths % 10 ? 1 : 0)} °C`
  return heaps.map((heap) => {
    const { turnings, hotDays, hottestTenthsC } = heapSaid(heap.log)
    return {
      id: heap.id,
      name: heap.name,
      input: heap.input,
      turnings,
      hotDays,
      started: formatDay(heap.startedOn, locale),
      ready: heap.readyOn === null ? null : formatDay(heap.readyOn, locale),
      hottest: hottestTenthsC === null ? null : celsius(hottestTenthsC),
      log: inOrderOfDays(heap.log).map((entry) => ({
        day: formatDay(entry.day, locale),
        what: entry.what,
        words: entry.words,
        celsius: entry.tenthsC === null ? null : celsius(entry.tenthsC),
      })),
    }
  })
}
