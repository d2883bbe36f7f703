import type { IsoDate } from '../quantities/dates.ts'

/** A planting as far as the seasons it stands in go. */
export interface StoodOver {
  readonly seasonId: string
  readonly standsOverSeasons: number
  readonly establishingSeasons: number | null
  readonly clearedOn: IsoDate | null
}

interface Stood {
  readonly seasonId: string
  /** It does not bear yet: its yield is compared with none. */
  readonly establishing: boolean
}

/**
 * The seasons that a planting counts in: the one it was written for, and of one that stands over seasons each later one
 * that began before it was cleared. Clearing it takes nothing from a season that had ended by then. `seasons` lie by
 * their days.
 */
export function seasonsStood(
  planting: StoodOver,
  seasons: readonly { readonly id: string; readonly startsOn: IsoDate }[],
): readonly [Stood, ...Stood[]] {
  const { seasonId, clearedOn } = planting
  const own = { seasonId, establishing: bearsNotYet(planting, 0) }
  if (planting.standsOverSeasons === 0) return [own]
  const at = seasons.findIndex((one) => one.id === seasonId)
  const later = at < 0 ? [] : seasons.slice(at + 1)
  return [
    own,
    ...later.flatMap((season, i) =>
      clearedOn === null || clearedOn >= season.startsOn
        ? [{ seasonId: season.id, establishing: bearsNotYet(planting, i + 1) }]
        : [],
    ),
  ]
}

const bearsNotYet = ({ standsOverSeasons, establishingSeasons }: StoodOver, nth: number): boolean =>
  standsOverSeasons === 1 && establishingSeasons !== null && nth < establishingSeasons

/** Whether it counts in a season. */
export const standsIn = (
  planting: StoodOver,
  seasonId: string,
  seasons: readonly { readonly id: string; readonly startsOn: IsoDate }[],
): boolean =>
  planting.seasonId === seasonId || seasonsStood(planting, seasons).some((stood) => stood.seasonId === seasonId)
