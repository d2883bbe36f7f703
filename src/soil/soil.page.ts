import { firstOf, lastOf } from '../lookups/nth.ts'
import { asShown } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { formatAsWritten, formatDay, formatNumber } from '../quantities/formatting.ts'
import { withSign } from '../quantities/printed-limits.ts'
import { standardErrorAsTyped } from '../quantities/standard-errors.ts'
import { catalogue } from '../words/catalogue.ts'
import { type Band, bandOf, bandsFrom } from './bands.ts'
import { placeValue, type SamplePlace } from './places.ts'
import { type Apart, analytesApart, apartOf, type Measured, type Series, sameName, seriesOf } from './series-of.ts'

const words = catalogue.soil

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
    answer: lastSaid(series, locale),
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

/** What was found last of each quantity, over all places, and what its laboratories call low or high. */
function lastSaid(series: readonly Series<TestRow>[], locale: string): readonly string[] {
  const last = series.map((one) => {
    const day = lastOf(one.tests.map((test) => test.sampledOn).sort())
    return { one, day, tests: one.tests.filter((test) => test.sampledOn === day) }
  })
  const latest = last.map(({ day }) => day).sort()
  if (latest.length === 0) return []
  const day = lastOf(latest)
  const now = last.filter((each) => each.day === day)
  const bandsOf = (band: Band) => [
    ...new Set(
      now.flatMap(({ one, tests }) =>
        tests.some((test) => bandOf(test, bandsFrom(test.bands)) === band) ? [one.analyte] : [],
      ),
    ),
  ]
  return [
    words.lastTested(formatDay(day, locale), now.map(({ one, tests }) => rangeSaid(one, tests, locale)).join('; ')),
    ...(['low', 'high'] as const).flatMap((band) => {
      const analytes = bandsOf(band)
      return analytes.length === 0 ? [] : [words.calledSo(words.bands[band], analytes.join(', '))]
    }),
  ]
}

function rangeSaid({ analyte, unit }: Series<TestRow>, tests: readonly TestRow[], locale: string): string {
  const byValue = tests.toSorted((a, b) => Number(a.value) - Number(b.value))
  const [least, most] = [valueShown(firstOf(byValue), locale), valueShown(lastOf(byValue), locale)]
  return words.ranged({ analyte, unit: /^ph$/i.test(unit) ? '' : unit, least, most: least === most ? null : most })
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
