import { formatDay, formatNumber } from '../quantities/formatting.ts'
import type { Answer } from '../statistics/answer.ts'
import type { OrganicCourse } from './organic-course.ts'
import { placeValue } from './places.ts'
import { sameName, seriesOf } from './series-of.ts'
import type { TestRow } from './soil.page.ts'

const names = ['organic matter', 'soil organic matter', 'OM', 'SOM']

/** The tests of organic matter at one place that are one quantity. */
export interface OrganicSeries {
  /** The id of its first test: it stands in the address. */
  readonly id: string
  readonly extractant: string | null
  readonly depthMm: number | null
  readonly tests: readonly TestRow[]
}

/** Every place with at least two days of organic matter tests in one series, in per cent; a limit is no such test. */
export function organicSeries(tests: readonly TestRow[]): OrganicSeries[] {
  const told = tests.filter((test) => (test.beyond ?? null) === null)
  const own = told.filter((test) => names.some((name) => sameName(name, test.analyte)) && test.unit.trim() === '%')
  return seriesOf(own).flatMap((series) => {
    const places = [...new Set(series.tests.map(placeValue))]
    return places.flatMap((place) => {
      const here = series.tests.filter((test) => placeValue(test) === place)
      const [first] = here
      if (!first || new Set(here.map((test) => test.sampledOn)).size < 2) return []
      return [{ id: first.id, extractant: series.extractant, depthMm: series.depthMm, tests: here }]
    })
  })
}

const shownYears = [0, 1, 2, 5, 10, 20, 30, 50, 75, 100, 150, 200, 250, 300]

/** The course as a page shows it: some years of it, the last one always. */
export function courseShown(found: Answer<OrganicCourse>, locale: string) {
  const number = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  const last = found.course.at(-1)?.year
  return {
    decay: number(100 * found.decay, 1),
    decayFrom: found.decayFrom,
    levelOff: number(found.levelOff, 0),
    levelOffPercent: number(found.levelOffPercent, 1),
    halfTime: number(found.halfTime, 0),
    years: found.course
      .filter(({ year }) => shownYears.includes(year) || year === last)
      .map(({ year, stock, percent }) => ({ year, stock: number(stock, 0), percent: number(percent, 2) })),
    tested: found.tested.map((test) => ({
      day: formatDay(test.day, locale),
      percent: number(test.percent, 1),
      expected: number(test.expected, 2),
    })),
    fit:
      found.fit.kind === 'refused'
        ? null
        : {
            decay: number(100 * found.fit.decay.estimate, 1),
            low: number(Math.max(100 * found.fit.decay.low, 0), 1),
            high: number(100 * found.fit.decay.high, 1),
          },
  }
}
