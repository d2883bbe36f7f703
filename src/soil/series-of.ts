import { asShown } from '../lookups/unsaid.ts'
/** What decides whether two values of one analyte are the same quantity. */
export interface Measured {
  readonly analyte: string
  readonly extractant: string | null
  readonly unit: string
  readonly depthMm: number | null
  readonly laboratory: string
}

export interface Series<T extends Measured> {
  readonly key: string
  /** As first written down. */
  readonly analyte: string
  readonly extractant: string | null
  readonly unit: string
  readonly depthMm: number | null
  /**
   * Each once, as first written down, the one with most values first; several where a series goes on in another one.
   */
  readonly laboratories: readonly string[]
  readonly tests: readonly T[]
}

/**
 * Splits soil tests into series that may be read over time: the same analyte, by the same extractant, in the same unit,
 * to the same depth. Values of different series are different quantities and are nowhere joined or averaged. The
 * laboratory does not part a series whose extractant is written down (the extractant defines the quantity, and the page
 * says where the laboratory changed); where the extractant is unknown it does, since only one laboratory's own habit
 * then holds it together. Names are compared without case, spaces and hyphens ("Mehlich-3" is "mehlich 3"); units are
 * never converted.
 */
export function seriesOf<T extends Measured>(tests: readonly T[]): Series<T>[] {
  const byKey = new Map<string, T[]>()
  for (const test of tests) {
    const key = keyOf(test)
    byKey.set(key, [...(byKey.get(key) ?? []), test])
  }
  return [...byKey].sort(([a], [b]) => (a < b ? -1 : a > b ? 1 : 0)).map(([key, own]) => seriesFrom(key, own))
}

function seriesFrom<T extends Measured>(key: string, tests: readonly T[]): Series<T> {
  const [first] = tests as readonly [T, ...T[]]
  const byLaboratory = new Map<string, T[]>()
  for (const test of tests) {
    const name = plain(test.laboratory)
    byLaboratory.set(name, [...(byLaboratory.get(name) ?? []), test])
  }
  const most = [...byLaboratory.values()].sort((a, b) => b.length - a.length)
  const laboratories = most.map(([test]) => asShown(test?.laboratory.trim()))
  const { analyte, extractant, unit, depthMm } = first
  return { key, analyte, extractant, unit, depthMm, laboratories, tests }
}

const plain = (name: string) => name.toLowerCase().replace(/[\s-]+/g, '')

/** Written as JSON, so that no name can run into the next. */
const keyOf = (test: Measured) =>
  JSON.stringify([
    plain(test.analyte),
    plain(asShown(test.extractant)) || null,
    plain(test.unit),
    test.depthMm,
    plain(asShown(test.extractant)) ? null : plain(test.laboratory),
  ])

export type Apart = 'extractant' | 'unit' | 'depth' | 'laboratory'

/** Analytes that stand in more than one series, and in what these differ. */
export function analytesApart<T extends Measured>(series: readonly Series<T>[]): Map<string, Apart[]> {
  const apart = new Map<string, Apart[]>()
  for (const analyte of new Set(series.map((one) => plain(one.analyte)))) {
    const own = series.filter((one) => plain(one.analyte) === analyte)
    if (own.length < 2) continue
    const differs = (of: (one: Series<T>) => unknown) => new Set(own.map(of)).size > 1
    apart.set(analyte, [
      ...(differs((one) => plain(asShown(one.extractant))) ? (['extractant'] as const) : []),
      ...(differs((one) => plain(one.unit)) ? (['unit'] as const) : []),
      ...(differs((one) => one.depthMm) ? (['depth'] as const) : []),
      ...(own.filter((one) => one.extractant === null).length > 1 ? (['laboratory'] as const) : []),
    ])
  }
  return apart
}

export const sameName = (one: string, other: string) => plain(one) === plain(other)
export const apartOf = (apart: ReadonlyMap<string, Apart[]>, analyte: string) => apart.get(plain(analyte)) ?? []
