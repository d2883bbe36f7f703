import { held } from '../lookups/held.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { withSign } from '../quantities/printed-limits.ts'
import { bandsFrom } from './bands.ts'
import { errorTyped } from './laboratory-error.ts'
import { type GardenLedger, type LedgerRows, ledgerOf } from './ledger.ts'
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
  readonly standardError: string | null
  readonly standardErrorOf: string | null
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
        standardError: errorTyped(test) || null,
        bands: bandsFrom(test.bands),
      })),
    })),
  }
}

/** The same as rows, the number of the series first: rows of one number are one quantity. */
export const soilCells = ({ series }: ReturnType<typeof soilFigures>): Cells => [
  [
    'series',
    'analyte',
    'extractant',
    'unit',
    'depthMm',
    'day',
    'site',
    'garden',
    'bed',
    'laboratory',
    'value',
    'standardError',
  ],
  ...series.flatMap(({ analyte, extractant, unit, depthMm, tests }, i) =>
    tests.map(({ day, site, garden, bed, laboratory, value, standardError }) => [
      i + 1,
      analyte,
      extractant,
      unit,
      depthMm,
      day,
      site,
      garden,
      bed,
      laboratory,
      value,
      standardError,
    ]),
  ),
]

interface Named {
  readonly id: string
  readonly name: string
}

type Rows = Omit<LedgerRows, 'gardens' | 'seasons'> & {
  readonly gardens: readonly Named[]
  readonly seasons: readonly Named[]
}

/**
 * The ledger for programs, in milligrams and cm2; null is unknown, and names say of what. `season`: of one alone, with
 * what was gathered until its end. Schema version 2.
 */
export function ledgerFigures(rows: Rows, season: string | null) {
  const nameOf = (named: readonly Named[]) => new Map(named.map(({ id, name }) => [id, name]))
  const [gardens, seasons] = [nameOf(rows.gardens), nameOf(rows.seasons)]
  const shown = ({ gardenId, seasons: own }: GardenLedger) => ({
    garden: held(gardens, gardenId),
    gardenId,
    seasons: own
      .filter(({ seasonId }) => season === null || seasonId === season)
      .map(({ seasonId, bedAreaCm2, nutrients }) => ({
        season: held(seasons, seasonId),
        seasonId,
        bedAreaCm2,
        nutrients: nutrientNames.map((nutrient) => ({ nutrient, ...nutrients[nutrient] })),
      })),
  })
  return { schemaVersion: 2, gardens: ledgerOf(rows).map(shown) }
}

const ledgerHead = [
  'garden',
  'season',
  'bedAreaCm2',
  'nutrient',
  'broughtMg',
  'broughtUnknown',
  'foundMg',
  'foundUnknown',
  'takenMg',
  'takenUnknown',
  'leftAtMostMg',
  'gatheredMgPerM2',
] as const

export const ledgerCells = ({ gardens }: ReturnType<typeof ledgerFigures>): Cells => [
  [...ledgerHead],
  ...gardens.flatMap(({ garden, seasons }) =>
    seasons.flatMap(({ season, bedAreaCm2, nutrients }) =>
      nutrients.map(({ nutrient, brought, found, taken, leftMg, gatheredMgPerM2 }) => [
        garden,
        season,
        bedAreaCm2,
        nutrient,
        brought.knownMg,
        brought.unknown.join('; '),
        found.knownMg,
        found.unknown.join('; '),
        taken.knownMg,
        taken.unknown.join('; '),
        leftMg,
        gatheredMgPerM2,
      ]),
    ),
  ),
]
