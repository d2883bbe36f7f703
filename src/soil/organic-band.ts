import { type Answer, answer, type Refusal } from '../statistics/answer.ts'
import { type FittedOrganicMatter, fitOrganicMatter } from '../statistics/fit-organic-matter.ts'
import {
  mostPercent,
  type OrganicCourse,
  type OrganicTest,
  organicCourse,
  stockOf,
  usualDecay,
  yearsSince,
} from './organic-course.ts'

export interface Ends {
  readonly low: number
  readonly middle: number
  /** Null where it cannot be told: beyond what a mineral soil holds, or without end. */
  readonly high: number | null
}

/** What a scenario is asked for; null: as published, and of the decay as the tests show it where they can. */
export interface BandAssumed {
  readonly broughtGPerM2: number
  readonly humified: number | null
  readonly decay: number | null
  readonly bulkDensity: number
  readonly years: number
}

interface YearOfBand {
  readonly year: number
  readonly percent: { readonly low: number; readonly middle: number; readonly high: number }
}

interface Way {
  readonly levelOff: Ends
  readonly course: readonly YearOfBand[]
}

export interface OrganicBand {
  readonly middle: OrganicCourse
  /** The shares that the ends of the band go by. */
  readonly decay: Ends
  readonly humifiedFrom: 'typed' | 'published'
  readonly halfTime: Ends
  readonly same: Way
  /** Half as much from the last test on. */
  readonly halved: Way
  readonly lastYear: number
  /** A decay that was typed lies outside the interval of the tests' own. */
  readonly overrules: FittedOrganicMatter['decay'] | null
}

/**
 * Share of compost and ripe manure that becomes soil organic matter: 0.3 to 0.5 (K1 of French tables after Henin &
 * Dupuis 1945; from memory). Share lost a year on arable land of a temperate climate: 1 to 2 per cent.
 */
const published = {
  humified: { low: 0.3, middle: 0.4, high: 0.5 },
  decay: { low: 0.01, middle: usualDecay, high: 0.02 },
} as const

interface Corner {
  readonly humified: number
  readonly decay: number
  readonly start: number
}

/**
 * The course of soil organic matter as a band, the same brought again and half of it. Every end is a corner of what is
 * not known: humified and decay as published until the tests can tell the decay themselves; from then on the ends of
 * the fit's 95 % interval, at each humified share. Stock grows with the one and falls with the other at all times, so
 * that no case within the corners leaves the band.
 */
export function organicBand(
  tests: readonly OrganicTest[],
  depthMm: number,
  assumed: BandAssumed,
): Answer<OrganicBand> | Refusal {
  const humified = assumed.humified ?? published.humified.middle
  const middle = organicCourse(tests, depthMm, { ...assumed, humified })
  if (middle.kind === 'refused') return middle
  const perPercent = stockOf(1, assumed.bulkDensity, depthMm)
  const corners = cornersOf(middle, tests, assumed, perPercent)
  const given = { middle, corners, humified, perPercent, assumed, lastYear: yearsSince(tests, tests.at(-1)?.day) }
  const decays = corners.map((one) => one.decay)
  const [slow, fast] = [Math.min(...decays), Math.max(...decays)]
  const typed = assumed.humified !== null
  const own = middle.fit.kind === 'answer' && middle.decayFrom === 'typed' ? middle.fit.decay : null
  return answer({
    middle,
    decay: { low: slow, middle: middle.decay, high: fast },
    humifiedFrom: typed ? ('typed' as const) : ('published' as const),
    halfTime: { low: Math.LN2 / fast, middle: middle.halfTime, high: slow > 0 ? Math.LN2 / slow : null },
    same: wayOf(given, 1),
    halved: wayOf(given, 0.5),
    lastYear: given.lastYear,
    overrules: own && (middle.decay < own.low || middle.decay > own.high) ? own : null,
  })
}

function cornersOf(
  middle: OrganicCourse,
  tests: readonly OrganicTest[],
  assumed: BandAssumed,
  perPercent: number,
): Corner[] {
  const { low, middle: mean, high } = published.humified
  const shares = assumed.humified === null ? [low, mean, high] : [assumed.humified]
  return shares.flatMap((humified): Corner[] => {
    const { start } = middle
    if (middle.decayFrom === 'typed') return [{ humified, decay: middle.decay, start }]
    if (middle.decayFrom === 'usual')
      return [published.decay.low, published.decay.high].map((decay) => ({ humified, decay, start }))
    const points = tests.map((one) => ({ year: yearsSince(tests, one.day), stock: one.percent * perPercent }))
    const fit = fitOrganicMatter(points, { input: assumed.broughtGPerM2, humified })
    if (fit.kind === 'refused') return []
    return [Math.max(0, fit.decay.low), fit.decay.high].map((decay) => ({ humified, decay, start: fit.start.estimate }))
  })
}

interface Given {
  readonly middle: OrganicCourse
  readonly corners: readonly Corner[]
  readonly humified: number
  readonly perPercent: number
  readonly assumed: BandAssumed
  readonly lastYear: number
}

/** The whole is brought until the last test, and `part` of it from then on. */
function wayOf({ middle, corners, humified, perPercent, assumed, lastYear }: Given, part: number): Way {
  const own: Corner = { humified, decay: middle.decay, start: middle.start }
  const brought = assumed.broughtGPerM2
  const at = (corner: Corner, year: number) => {
    const then = stockAfter(corner.start, corner.humified * brought, corner.decay, Math.min(year, lastYear))
    const after = Math.max(0, year - lastYear)
    return stockAfter(then, part * corner.humified * brought, corner.decay, after) / perPercent
  }
  const levels = corners.map((one) => levelOf(part * one.humified * brought, one.decay) / perPercent)
  const highest = Math.max(...levels)
  const years = Array.from({ length: assumed.years + 1 }, (_, year) => year)
  return {
    levelOff: {
      low: Math.min(...levels),
      middle: levelOf(part * humified * brought, middle.decay) / perPercent,
      high: highest > mostPercent ? null : highest,
    },
    course: years.map((year) => {
      const ends = corners.map((one) => at(one, year))
      const inSoil = (percent: number) => Math.min(mostPercent, percent)
      return {
        year,
        percent: { low: Math.min(...ends), middle: at(own, year), high: inSoil(Math.max(...ends)) },
      }
    }),
  }
}

const levelOf = (kept: number, decay: number) => (kept === 0 ? 0 : decay > 0 ? kept / decay : Number.POSITIVE_INFINITY)

/** The closed form; without decay what is kept adds up. */
const stockAfter = (start: number, kept: number, decay: number, years: number) =>
  decay > 0 ? kept / decay + (start - kept / decay) * Math.exp(-decay * years) : start + kept * years
