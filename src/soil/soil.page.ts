import { asShown } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatAsWritten, formatDay, formatNumber } from '../quantities/formatting.ts'
import { withSign } from '../quantities/printed-limits.ts'
import { standardErrorAsTyped } from '../quantities/standard-errors.ts'
import { type Band, bandOf, bandsFrom } from './bands.ts'
import { placeValue, type SamplePlace } from './places.ts'
import { type Apart, analytesApart, apartOf, type Measured, type Series, sameName, seriesOf } from './series-of.ts'

export interface TestRow extends Measured {
  readonly id: string
  readonly siteId: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly sampledOn: IsoDate
  readonly value: string
  /** Where it is a limit: on which side of it the value lies. */
  readonly beyond?: string | null
  readonly standardError: string | null
  readonly standardErrorOf: string | null
  readonly bands: unknown
}

/**
 * One value as it is read in a table: its laboratory's own band, and its laboratory where most of the series has
 * another.
 */
interface Cell {
  readonly value: string
  readonly band: Band | null
  readonly laboratory: string
}

/** Tests by analyte, each analyte's series apart: places down, days of sampling across. */
export function soilPage(tests: readonly TestRow[], places: readonly SamplePlace[], locale: string) {
  const series = seriesOf(tests)
  const apart = analytesApart(series)
  const analytes: { name: string; apart: Apart[]; series: ReturnType<typeof seriesShown>[] }[] = []
  for (const one of series) {
    const there = analytes.find((analyte) => sameName(analyte.name, one.analyte))
    const shown = seriesShown(one, places, locale)
    if (there) there.series.push(shown)
    else analytes.push({ name: one.analyte, apart: apartOf(apart, one.analyte), series: [shown] })
  }
  return {
    analytes,
    tests: tests.toReversed().map((test) => ({
      id: test.id,
      day: formatDay(test.sampledOn, locale),
      place: placeOf(test, places),
      analyte: test.analyte,
      value: `${valueShown(test, locale)} ${test.unit}`,
      error: errorShown(test, locale),
      extractant: test.extractant,
      depth: depthShown(test.depthMm, locale),
      laboratory: test.laboratory,
      bands: bandsShown(test, locale),
    })),
  }
}

function seriesShown(series: Series<TestRow>, places: readonly SamplePlace[], locale: string) {
  const days = [...new Set(series.tests.map((test) => test.sampledOn))].sort()
  const here = places.filter((place) => series.tests.some((test) => placeValue(test) === place.value))
  const usual = asShown(series.laboratories[0])
  const cell = (test: TestRow): Cell => ({
    value: valueShown(test, locale),
    band: bandOf(test, bandsFrom(test.bands)),
    laboratory: sameName(test.laboratory, usual) ? '' : test.laboratory,
  })
  return {
    analyte: series.analyte,
    extractant: series.extractant,
    unit: series.unit,
    depth: depthShown(series.depthMm, locale),
    laboratories: series.laboratories,
    days: days.map((day) => formatDay(day, locale)),
    rows: here.map((place) => ({
      place,
      cells: days.map((day) =>
        series.tests.filter((test) => placeValue(test) === place.value && test.sampledOn === day).map(cell),
      ),
    })),
  }
}

const placeOf = (test: TestRow, places: readonly SamplePlace[]) =>
  places.find((place) => place.value === placeValue(test)) ?? null

const valueShown = ({ value, beyond = null }: TestRow, locale: string) =>
  withSign(formatAsWritten(value, locale), beyond)

const depthShown = (depthMm: number | null, locale: string) =>
  depthMm === null ? null : formatNumber(depthMm / 10, locale, depthMm % 10 ? 1 : 0)

const errorShown = ({ standardError, standardErrorOf }: TestRow, locale: string) =>
  standardError === null ? null : standardErrorAsTyped(formatAsWritten(standardError, locale), standardErrorOf)

function bandsShown(test: TestRow, locale: string) {
  const bands = bandsFrom(test.bands)
  const shown = (value: string | null) => (value === null ? null : formatAsWritten(value, locale))
  return bands && { lowUnder: shown(bands.lowUnder), highFrom: shown(bands.highFrom) }
}
