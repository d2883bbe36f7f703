import type { IsoDate } from '../quantities/dates.ts'
import { inBedFrom } from './bed-course.ts'

interface Days {
  readonly how: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
}

/**
 * The first day of a planting in its bed, seen from the season it counts toward: garlic may stand since the one before.
 */
export function seenFrom(season: { startsOn: IsoDate; endsOn: IsoDate }, days: Days): 'before' | 'within' | 'after' {
  const day = inBedFrom(days)
  return day < season.startsOn ? 'before' : day > season.endsOn ? 'after' : 'within'
}

/** Which of the two days that is. */
export const firstDayOf = (days: Days): 'sownOn' | 'plantedOn' =>
  days.sownOn === inBedFrom(days) ? 'sownOn' : 'plantedOn'
