import { nth } from '../lookups/nth.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { type Spread, triangular } from '../statistics/triangular.ts'
import {
  breakEvenHoeing,
  breakEvenSeasons,
  burdenWeighed,
  covering,
  gainOfCovering,
  hoeing,
  type RestartCase,
  type Worth,
} from './restart.ts'

/** Every figure that is assumed, as low, middle and high; `seasons` is looked at, not assumed. */
type Assumed = Omit<RestartCase, 'seasons'>
export type Assumptions = { readonly [K in keyof Assumed]: Spread }
export const assumedKeys = [
  'covered',
  'coverMinutes',
  'hoeMinutes',
  'falls',
  'lostToWeed',
  'comesBack',
  'ownG',
  'ownMinutes',
  'transplantMinutes',
  'transplantLost',
] as const satisfies readonly (keyof Assumed)[]

export interface RestartAsked {
  readonly assumptions: Assumptions
  readonly seasons: number
  readonly worth: Worth
  readonly seed: number
  readonly draws: number
}

export interface ChanceBand {
  readonly low: number
  readonly middle: number
  readonly high: number
}

export interface RestartChances {
  /** Share of the draws in which covering takes less over those seasons. */
  readonly coveringLess: number
  /** Hoeing a season above which covering takes less: the middle 80 of 100 draws; null where it never can. */
  readonly breakEvenMinutes: ChanceBand | null
  /** Seasons from which it does; an end is null where it never does within twenty. */
  readonly breakEvenSeasons: { readonly [K in keyof ChanceBand]: number | null }
  /** What each way has taken after so many seasons. */
  readonly course: readonly { readonly season: number; readonly hoeing: ChanceBand; readonly covering: ChanceBand }[]
  /** The share when one figure alone is held at its low or high end, in the order of the assumptions. */
  readonly moved: readonly { readonly key: keyof Assumed; readonly low: number; readonly high: number }[]
}

/** All figures at their middle. */
export function middleOf({ assumptions, seasons }: Pick<RestartAsked, 'assumptions' | 'seasons'>): RestartCase {
  return { ...pick((key) => assumptions[key].middle), seasons }
}

/**
 * Both ways under what is assumed, by chance: each figure drawn from a triangle between its low and its high, the
 * return of the weed drawn as it comes or does not. A share under the assumptions, no forecast. The same seed gives the
 * same draws, and the same draws serve each figure that is held.
 */
export function restartChances(asked: RestartAsked): RestartChances {
  const draws = drawn(asked)
  const share = (cases: readonly RestartCase[]) =>
    cases.filter((one) => gainOfCovering(one, asked.worth) > 0).length / cases.length
  const held = (key: keyof Assumed, at: 'low' | 'high') =>
    share(draws.map(({ uniforms, back }) => caseOf(asked, uniforms, back, { key, at })))
  const cases = draws.map((one) => caseOf(asked, one.uniforms, one.back))
  return {
    coveringLess: share(cases),
    breakEvenMinutes: minutesBand(cases.map((one) => breakEvenHoeing(one, asked.worth))),
    breakEvenSeasons: seasonsBand(cases.map((one) => breakEvenSeasons(one, asked.worth))),
    course: courseOf(cases, asked),
    moved: assumedKeys
      .filter((key) => asked.assumptions[key].high > asked.assumptions[key].low)
      .map((key) => ({ key, low: held(key, 'low'), high: held(key, 'high') })),
  }
}

/** The figure whose ends move the share furthest; null where none is unsure. */
export function decidedBy({ moved }: RestartChances): keyof Assumed | null {
  const furthest = [...moved].sort((a, b) => Math.abs(b.high - b.low) - Math.abs(a.high - a.low))[0]
  return furthest && furthest.high !== furthest.low ? furthest.key : null
}

interface Draw {
  readonly uniforms: Assumed
  readonly back: number
}

function drawn({ seed, draws }: RestartAsked): Draw[] {
  const chance = chanceFrom(seed)
  return Array.from({ length: draws }, () => ({
    uniforms: pick(() => chance.uniform()),
    back: chance.uniform(),
  }))
}

function caseOf(
  { assumptions, seasons }: RestartAsked,
  uniforms: Assumed,
  back: number,
  held?: { key: keyof Assumed; at: 'low' | 'high' },
): RestartCase {
  const values = pick((key) =>
    held?.key === key ? assumptions[key][held.at] : triangular(uniforms[key], assumptions[key]),
  )
  return { ...values, comesBack: back < values.comesBack ? 1 : 0, seasons }
}

/** In the order of the keys, which is that of the draws; written out, since a page makes some thousands of them. */
function pick(of: (key: keyof Assumed) => number): Assumed {
  return {
    covered: of('covered'),
    coverMinutes: of('coverMinutes'),
    hoeMinutes: of('hoeMinutes'),
    falls: of('falls'),
    lostToWeed: of('lostToWeed'),
    comesBack: of('comesBack'),
    ownG: of('ownG'),
    ownMinutes: of('ownMinutes'),
    transplantMinutes: of('transplantMinutes'),
    transplantLost: of('transplantLost'),
  }
}

function courseOf(cases: readonly RestartCase[], { seasons, worth }: RestartAsked): RestartChances['course'] {
  const materials = worth.kind === 'money' ? worth.materialsMinor : 0
  return Array.from({ length: Math.ceil(seasons) + 1 }, (_, season) => {
    const then = cases.map((one) => ({ ...one, seasons: Math.min(season, seasons) }))
    return {
      season: Math.min(season, seasons),
      hoeing: bandOf(then.map((one) => burdenWeighed(hoeing(one), worth))),
      covering: bandOf(then.map((one) => burdenWeighed(covering(one), worth) + materials)),
    }
  })
}

/** The 10th, 50th and 90th of a hundred, the lower of two neighbours. */
function bandOf(values: readonly number[]): ChanceBand {
  const sorted = [...values].sort((a, b) => a - b)
  const at = (share: number) => nth(sorted, Math.floor(share * (sorted.length - 1)))
  return { low: at(0.1), middle: at(0.5), high: at(0.9) }
}

function minutesBand(values: readonly (number | null)[]): ChanceBand | null {
  const band = bandOf(values.map((value) => value ?? Number.POSITIVE_INFINITY))
  return Number.isFinite(band.high) ? band : null
}

function seasonsBand(values: readonly (number | null)[]): RestartChances['breakEvenSeasons'] {
  const band = bandOf(values.map((value) => value ?? Number.POSITIVE_INFINITY))
  const within = (value: number) => (Number.isFinite(value) ? value : null)
  return { low: within(band.low), middle: within(band.middle), high: within(band.high) }
}
