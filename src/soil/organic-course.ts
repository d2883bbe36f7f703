import { firstOf } from '../lookups/nth.ts'
import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'
import { type FittedOrganicMatter, fitOrganicMatter } from '../statistics/fit-organic-matter.ts'
import { organicMatter } from '../statistics/organic-matter.ts'

/** What a scenario takes for granted: none of it is measured by a soil test. */
interface Assumptions {
  /** Organic matter brought, g of dry matter per m2 and year. */
  readonly broughtGPerM2: number
  /** Share of it that becomes soil organic matter, 0..1. */
  readonly humified: number
  /**
   * Share of the soil's organic matter that is lost a year, 0..1; null: as the tests themselves show it, or
   * `usualDecay`.
   */
  readonly decay: number | null
  readonly bulkDensity: number
  readonly years: number
}

export interface OrganicTest {
  readonly day: IsoDate
  readonly percent: number
}

/** Grams of organic matter per m2: its share of the soil's weight, to a depth, at a bulk density in g/cm3. */
export const stockOf = (percent: number, bulkDensity: number, depthMm: number): number =>
  (percent / 100) * bulkDensity * 1_000_000 * (depthMm / 1000)

/**
 * Lost a year where nothing else is known: between 1 and 2 per cent on arable land of a temperate climate (see
 * `organicMatter`).
 */
export const usualDecay = 0.015

/**
 * Above this a soil is no mineral soil: organic material has at least 20 per cent of organic carbon (World Reference
 * Base for Soil Resources; the figure from memory), 34.5 per cent of organic matter by the factor 1.724.
 */
export const mostPercent = 34.5

/** Deeper is no topsoil: a sample of a garden's ground is taken from the first metre. */
const deepestMm = 1000

export interface OrganicCourse {
  /** The share lost a year that the course goes by, and where it is from. */
  readonly decay: number
  readonly decayFrom: 'typed' | 'tests' | 'usual'
  readonly start: number
  readonly levelOff: number
  readonly levelOffPercent: number
  readonly halfTime: number
  readonly course: readonly { readonly year: number; readonly stock: number; readonly percent: number }[]
  /** Each test, and what the course says for its day. */
  readonly tested: readonly { readonly day: IsoDate; readonly percent: number; readonly expected: number }[]
  /** Decay as these tests themselves show it, where they are enough. */
  readonly fit: Answer<FittedOrganicMatter> | Refusal
}

const daysOfYear = 365.25

/**
 * The course of soil organic matter from the first day of testing on, under assumptions that stand beside it (one pool,
 * see `organicMatter`), with the tests of one series next to it. Several tests of the first day start it with their
 * mean: they are of one series, so of one quantity.
 */
export function organicCourse(
  tests: readonly OrganicTest[],
  depthMm: number,
  assumed: Assumptions,
): Answer<OrganicCourse> | Refusal {
  if (depthMm > deepestMm) return refused('out of range', 'depth')
  const tooMuch = tests.find((test) => !(test.percent >= 0 && test.percent <= mostPercent))
  if (tooMuch) return refused('out of range', `${Math.round(tooMuch.percent)} %`)
  const first = firstOf(tests).day
  const starting = tests.filter((test) => test.day === first)
  const startPercent = starting.reduce((sum, test) => sum + test.percent, 0) / starting.length
  const perPercent = stockOf(1, assumed.bulkDensity, depthMm)
  const input = assumed.broughtGPerM2
  const { humified, years } = assumed
  const since = (day: IsoDate) => yearsSince(tests, day)
  const points = tests.map((test) => ({ year: since(test.day), stock: test.percent * perPercent }))
  const fit = fitOrganicMatter(points, { input, humified })
  const own = fit.kind === 'answer' && fit.decay.estimate > 0 ? fit : null
  const decay = assumed.decay ?? own?.decay.estimate ?? usualDecay
  // A fit starts where it says itself; any other course from what was found on the first day.
  const start = assumed.decay === null && own ? own.start.estimate : startPercent * perPercent
  const found = organicMatter({ start, input, humified, decay, years })
  if (found.kind === 'refused') return found
  const levelOffPercent = found.levelOff / perPercent
  if (levelOffPercent > mostPercent) return refused('out of range', `${Math.round(levelOffPercent)} %`)
  const at = (year: number) => found.levelOff + (start - found.levelOff) * Math.exp(-decay * year)
  const decayFrom: OrganicCourse['decayFrom'] = assumed.decay !== null ? 'typed' : own !== null ? 'tests' : 'usual'
  return answer({
    decay,
    decayFrom,
    start,
    levelOff: found.levelOff,
    levelOffPercent,
    halfTime: found.halfTime,
    course: found.course.map(({ year, stock }) => ({ year, stock, percent: stock / perPercent })),
    tested: tests.map(({ day, percent }) => ({ day, percent, expected: at(since(day)) / perPercent })),
    fit,
  })
}

/** Years from the first test on. */
export const yearsSince = (tests: readonly OrganicTest[], day: IsoDate | undefined): number =>
  day === undefined ? 0 : daysBetween(firstOf(tests).day, day) / daysOfYear
