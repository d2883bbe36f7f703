import { type Band, bandOf, bandsFrom } from '../soil/bands.ts'
import { sameName } from '../soil/series-of.ts'
import type { LayerBy } from './needed-layer.ts'

export interface TestedLast {
  readonly methodId: string
  readonly analyte: 'P' | 'K'
  readonly value: string
  readonly beyond: string | null
  readonly unit: string
  readonly extractant: string | null
  readonly band: Band | null
}

interface Tested {
  readonly gardens: readonly { readonly id: string; readonly name: string }[]
  /** By their days. */
  readonly tests: readonly {
    readonly gardenId: string | null
    readonly analyte: string
    readonly value: string
    readonly beyond: string | null
    readonly unit: string
    readonly extractant: string | null
    readonly bands: unknown
  }[]
}

interface On {
  readonly methodId: string
  readonly gardens: readonly string[]
}

/** The last test of P and of K on the gardens of a method, in its laboratory's own band. */
export function testedLast({ methodId, gardens }: On, tested: Tested): TestedLast[] {
  const own = tested.gardens.filter(({ name }) => gardens.includes(name)).map(({ id }) => id)
  return (['P', 'K'] as const).flatMap((analyte) => {
    const long = analyte === 'P' ? 'phosphorus' : 'potassium'
    const last = tested.tests.findLast(
      (one) =>
        one.gardenId !== null &&
        own.includes(one.gardenId) &&
        (sameName(one.analyte, analyte) || sameName(one.analyte, long)),
    )
    if (!last) return []
    const { value, beyond, unit, extractant } = last
    return [{ methodId, analyte, value, beyond, unit, extractant, band: bandOf(last, bandsFrom(last.bands)) }]
  })
}

/** What their laboratories call high. */
export const highOf = (tests: readonly TestedLast[]): LayerBy[] =>
  tests.flatMap(({ analyte, band }): LayerBy[] =>
    band === 'high' ? [analyte === 'P' ? 'phosphorus' : 'potassium'] : [],
  )
