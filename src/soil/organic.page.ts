import { drawBandedCourses } from '../drawing/banded-courses.ts'
import { firstOf } from '../lookups/nth.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import type { Ends, OrganicBand } from './organic-band.ts'
import { type OrganicTest, yearsSince } from './organic-course.ts'
import { placeValue } from './places.ts'
import { sameName, seriesOf } from './series-of.ts'
import type { TestRow } from './soil.page.ts'

const words = () => catalogue.soil.organic
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

interface Told {
  readonly place: string
  readonly depth: string
  readonly brought: string
}

/** The answer in sentences, its picture with its table, and the tests beside it. */
export function bandShown(found: OrganicBand, tests: readonly OrganicTest[], told: Told, locale: string) {
  const w = words()
  const ends = ({ low, middle, high }: Ends, decimals: number, times = 1) => ({
    low: formatNumber(times * low, locale, decimals),
    middle: formatNumber(times * middle, locale, decimals),
    high: high === null ? null : formatNumber(times * high, locale, decimals),
  })
  const { middle, decay, same, halved, halfTime } = found
  const now = same.course.findLast(({ year }) => year <= found.lastYear) ?? firstOf(same.course)
  const { fit, decayFrom } = middle
  return {
    answer: [
      w.levels(told.place, formatNumber(now.percent.middle, locale, 1), ends(same.levelOff, 1)),
      w.halved(ends(halved.levelOff, 1)),
      w.halfTime(ends(halfTime, 0)),
    ],
    rests: w.rests(told.brought, told.depth, w.testsCounted(tests.length)),
    sure: [
      w.decayFrom[decayFrom](ends(decay, 1, 100)),
      w.humifiedFrom[found.humifiedFrom],
      ...(fit.kind === 'refused' && decayFrom !== 'typed' ? [w.noFit] : []),
    ],
    overrules:
      found.overrules === null
        ? null
        : w.overrules(
            formatNumber(Math.max(0, 100 * found.overrules.low), locale, 1),
            formatNumber(100 * found.overrules.high, locale, 1),
          ),
    picture: pictureOf(found, tests, locale),
    tested: middle.tested.map((test) => ({
      day: formatDay(test.day, locale),
      percent: formatNumber(test.percent, locale, 1),
      expected: formatNumber(test.expected, locale, 2),
    })),
  }
}

function pictureOf({ same, halved, lastYear }: OrganicBand, tests: readonly OrganicTest[], locale: string) {
  const w = words().pictured
  const write = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  const said = (year: number) => write(year, 0)
  const last = same.course.length - 1
  const kept = same.course.filter(({ year }) => shownYears.includes(year) || year === last)
  const after = halved.course.filter(({ year }) => year >= Math.floor(lastYear))
  const points = (years: typeof same.course) => years.map(({ year, percent }) => ({ x: year, ...percent }))
  const band = ({ low, high }: { low: number; high: number }) => w.band(write(low, 1), write(high, 1))
  return {
    id: 'organic-course',
    title: w.title,
    how: w.how,
    drawing: drawBandedCourses({
      series: [
        { label: w.same, points: points(same.course) },
        { label: w.half, points: points(after) },
      ],
      crosses: tests.map((test) => ({ x: yearsSince(tests, test.day), y: test.percent })),
      ticks: [0, last / 2, last].map((at) => ({ at, label: w.years(said(at)) })),
      axis: w.axis,
      write,
    }),
    head: [words().year, w.head.same, w.head.sameBand, w.head.half, w.head.halfBand],
    rows: kept.map(({ year, percent }) => {
      const half = halved.course.find((one) => one.year === year)?.percent ?? percent
      return [said(year), `${write(percent.middle, 2)} %`, band(percent), `${write(half.middle, 2)} %`, band(half)]
    }),
  }
}
