import { meanOf } from '../../statistics/moments.ts'
import { seasonContrast } from '../../statistics/season-contrast.ts'
import type { MatchedSeason } from './matched-season.ts'

/** The lowest and the highest ratio when each of several is left out in turn, and which was left out there. */
export interface LeftOut {
  readonly low: number
  readonly high: number
  readonly lowWithout: string
  readonly highWithout: string
}

export interface LeavingOut {
  /** Null for a single crop, or a single season. */
  readonly crops: LeftOut | null
  readonly seasons: LeftOut | null
  /** Crops that carry what was told: without any one of them the interval holds 1. */
  readonly carriedBy: readonly string[]
  /** The ratio when each crop counts once, however much it weighs. */
  readonly cropsOnce: number
}

/**
 * What of a ratio over seasons hangs on one crop, or on one season; `comparisons` as for the interval of the finding.
 */
export function leavingOut(seasons: readonly MatchedSeason[], comparisons: number): LeavingOut {
  const names = seasons[0]?.crops.map((crop) => crop.crop) ?? []
  const withoutCrop = names.map((name) => ({ name, logs: seasons.map((season) => logWithout(season, name)) }))
  const logs = seasons.map((season) => season.logRatio)
  const holdsOne = (own: readonly number[]) => {
    const found = seasonContrast(own, { comparisons })
    return found.kind === 'answer' && found.low <= 0 && found.high >= 0
  }
  return {
    crops: names.length < 2 ? null : rangeOf(withoutCrop),
    seasons:
      seasons.length < 2
        ? null
        : rangeOf(seasons.map((one, i) => ({ name: one.seasonId, logs: logs.filter((_log, k) => k !== i) }))),
    carriedBy: holdsOne(logs)
      ? []
      : withoutCrop.filter((one) => names.length > 1 && holdsOne(one.logs)).map((one) => one.name),
    cropsOnce: Math.exp(meanOf(seasons.map((season) => Math.log(season.cropsOnce.b / season.cropsOnce.a)))),
  }
}

function logWithout({ crops }: MatchedSeason, name: string): number {
  const rest = crops.filter((crop) => crop.crop !== name)
  const rate = (side: 'rateA' | 'rateB') => rest.reduce((sum, crop) => sum + crop.share * crop[side], 0)
  return Math.log(rate('rateB') / rate('rateA'))
}

/** Null where nothing is left that has a ratio. */
function rangeOf(left: readonly { readonly name: string; readonly logs: readonly number[] }[]): LeftOut | null {
  const known = left
    .map(({ name, logs }) => ({ name, ratio: Math.exp(meanOf(logs)) }))
    .filter((one) => Number.isFinite(one.ratio))
    .sort((a, b) => a.ratio - b.ratio)
  const [low, high] = [known[0], known.at(-1)]
  return low && high ? { low: low.ratio, high: high.ratio, lowWithout: low.name, highWithout: high.name } : null
}
