import { nth } from '../lookups/nth.ts'
import { qt } from '../statistics/qt.ts'

/**
 * What one method took more than another on a square metre of bed in one closed season: hours, or money; less where
 * under 0.
 */
export interface Step {
  readonly season: string
  readonly more: number
  /** Neither method was being established in it: such seasons tell what comes. */
  readonly settled: boolean
}

/** What has been taken more, from the first season both had up to the end of each. */
interface Level {
  readonly season: string
  readonly level: number
}

export type EarnedBack =
  /** No closed season of both. */
  | { readonly kind: 'no season' }
  /** At no season's end had it taken more. */
  | { readonly kind: 'never more' }
  | { readonly kind: 'earned back'; readonly season: string; readonly after: number }
  /** Seasons to come at what the settled ones saved: low and high by their spread; null where it may never be. */
  | {
      readonly kind: 'not yet'
      readonly owing: number
      readonly saved: number
      readonly seasons: number
      readonly low: number | null
      readonly high: number | null
      readonly from: number
    }
  /** The settled seasons save nothing, or so little that it lies beyond the horizon. */
  | { readonly kind: 'not within'; readonly owing: number; readonly saved: number | null; readonly seasons: number }

/** How far ahead a season is looked for: after that ground, people and prices are others. */
export const horizon = 20
const level95 = 0.975

export function levelsOf(steps: readonly Step[]): Level[] {
  let level = 0
  return steps.map(({ season, more }) => {
    level += more
    return { season, level }
  })
}

/**
 * When what a method took more had come back: the sums are followed from season to season, as pay-back is worked out
 * where years differ. Within the season in which they come to nothing it is counted evenly: 72,000 laid out, then
 * 25,000, 25,000, 15,000 and 10,000 come back: after 3.7 years. `after` counts from the season's end at which most was
 * owing. What is still owing is divided by what a settled season saves; low and high by Student's t over those seasons
 * (two or more), for their mean and not for one season. Levels within rounding of 0 are 0.
 */
export function earnedBack(steps: readonly Step[]): EarnedBack {
  const levels = levelsOf(steps)
  const last = levels.at(-1)
  if (!last) return { kind: 'no season' }
  const tiny = 1e-9 * Math.max(...steps.map((step) => Math.abs(step.more)), 1e-300)
  if (last.level > tiny) return toCome(steps, last.level)
  const peak = peakBefore(levels)
  if (!(peak.level > tiny)) return { kind: 'never more' }
  // Before the first season nothing was owed.
  const at = levels.findLastIndex(({ level }, i) => i > peak.at && level <= tiny && (levels[i - 1]?.level ?? 0) > tiny)
  const before = nth(levels, at - 1).level
  const within = before / (before - nth(levels, at).level)
  return { kind: 'earned back', season: nth(levels, at).season, after: at - 1 - peak.at + within }
}

/**
 * What one more settled season would take more, or less: the mean of those there are, and Student's t for a single one
 * to come, mean +- t s sqrt(1 + 1 / n); no range from fewer than two. Null where none is settled.
 */
export function nextSettled(
  steps: readonly Step[],
): { readonly value: number; readonly range: { readonly low: number; readonly high: number } | null } | null {
  const own = steps.filter((step) => step.settled).map((step) => step.more)
  if (own.length === 0) return null
  const value = mean(own)
  if (own.length < 2) return { value, range: null }
  const reach = qt(level95, own.length - 1) * standardError(own) * Math.sqrt(own.length + 1)
  return { value, range: { low: value - reach, high: value + reach } }
}

/** The season's end at which most was owing. */
function peakBefore(levels: readonly Level[]): { at: number; level: number } {
  return levels.reduce((peak, { level }, at) => (level > peak.level ? { at, level } : peak), { at: -1, level: 0 })
}

function toCome(steps: readonly Step[], owing: number): EarnedBack {
  const savings = steps.filter((step) => step.settled).map((step) => -step.more)
  const saved = savings.length === 0 ? null : mean(savings)
  if (saved === null || !(saved > 0) || owing / saved > horizon)
    return { kind: 'not within', owing, saved, seasons: horizon }
  const spread = savings.length < 2 ? null : qt(level95, savings.length - 1) * standardError(savings)
  const least = spread === null ? null : saved - spread
  return {
    kind: 'not yet',
    owing,
    saved,
    seasons: owing / saved,
    from: savings.length,
    low: spread === null ? null : owing / (saved + spread),
    high: least !== null && least > 0 ? owing / least : null,
  }
}

const mean = (values: readonly number[]) => values.reduce((sum, one) => sum + one, 0) / values.length

function standardError(values: readonly number[]): number {
  const middle = mean(values)
  const squares = values.reduce((sum, one) => sum + (one - middle) ** 2, 0)
  return Math.sqrt(squares / (values.length - 1) / values.length)
}
