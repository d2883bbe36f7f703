import type { IsoDate } from '../quantities/dates.ts'
import { withSign } from '../quantities/printed-limits.ts'
import { type Balance, type BalanceRows, balanceOf } from './balance.ts'
import { bandsFrom } from './bands.ts'
import { nutrientNames } from './nutrients.ts'
import { placeValue, type SamplePlace } from './places.ts'
import { type Measured, seriesOf } from './series-of.ts'

type Cells = readonly (readonly (string | number | null)[])[]

interface Test extends Measured {
  readonly id: string
  readonly siteId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly sampledOn: IsoDate
  readonly value: string
  readonly beyond?: string | null
  readonly bands: unknown
}

/** Soil tests for programs: by series, values as they were printed ("<5" is a limit). Schema version 1. */
export function soilFigures(tests: readonly Test[], places: readonly SamplePlace[]) {
  const nameOf = (test: Test) => {
    const place = places.find((one) => one.value === placeValue(test))
    return { site: place?.site ?? null, garden: place?.garden || null, bed: place?.bed || null }
  }
  return {
    schemaVersion: 1,
    series: seriesOf(tests).map(({ analyte, extractant, unit, depthMm, laboratories, tests }) => ({
      analyte,
      extractant,
      unit,
      depthMm,
      laboratories,
      tests: tests.map((test) => ({
        id: test.id,
        day: test.sampledOn,
        ...nameOf(test),
        laboratory: test.laboratory,
        value: withSign(test.value, test.beyond ?? null),
        bands: bandsFrom(test.bands),
      })),
    })),
  }
}

/** The same as rows, the number of the series first: rows of one number are one quantity. */
export const soilCells = ({ series }: ReturnType<typeof soilFigures>): Cells => [
  ['series', 'analyte', 'extractant', 'unit', 'depthMm', 'day', 'site', 'garden', 'bed', 'laboratory', 'value'],
  ...series.flatMap(({ analyte, extractant, unit, depthMm, tests }, i) =>
    tests.map(({ day, site, garden, bed, laboratory, value }) => [
      ...[i + 1, analyte, extractant, unit, depthMm, day, site, garden, bed, laboratory, value],
    ]),
  ),
]

type Rows = Omit<BalanceRows, 'gardens'> & { readonly gardens: readonly { id: string; name: string }[] }

/**
 * The nutrient balance for programs, in milligrams and cm2; null is unknown, and names say of what. Schema version 1.
 */
export function balanceFigures(rows: Rows, season: string | null) {
  const name = new Map(rows.gardens.map((garden) => [garden.id, garden.name]))
  const shown = ({ gardenId, bedAreaCm2, nutrients }: Balance) => ({
    garden: name.get(gardenId) ?? '',
    gardenId,
    bedAreaCm2,
    nutrients: nutrientNames.map((nutrient) => ({ nutrient, ...nutrients[nutrient] })),
  })
  return { schemaVersion: 1, season, gardens: balanceOf(rows).map(shown) }
}

export const balanceCells = ({ gardens }: ReturnType<typeof balanceFigures>): Cells => [
  [...['garden', 'bedAreaCm2', 'nutrient', 'carriedMg', 'carriedUnknown', 'takenMg', 'takenUnknown', 'leftAtMostMg']],
  ...gardens.flatMap(({ garden, bedAreaCm2, nutrients }) =>
    nutrients.map(({ nutrient, carried, taken, leftMg }) => [
      ...[garden, bedAreaCm2, nutrient, carried.knownMg, carried.unknown.join('; ')],
      ...[taken.knownMg, taken.unknown.join('; '), leftMg],
    ]),
  ),
]
