import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { areaOn } from '../gardens/areas-held.ts'
import { addDays, type IsoDate } from '../quantities/dates.ts'
import { thursdayOf } from '../quantities/iso-week.ts'

/** What covering took where the group did it before. */
export interface CoveredBefore {
  readonly beds: number
  readonly minutesPerM2: number
}

/**
 * Hours written for a bed alone from the day on which it was covered to the day on which it was uncovered, both among
 * them, over its area: of all beds that were uncovered again and have such hours, together. An entry without a day
 * counts by the Thursday of its week. Null where there is none: a bed of which nobody wrote hours is unknown, not free.
 */
export function coveredBefore({ beds, closures = [], labour }: TrialRecord): CoveredBefore | null {
  const bedOf = new Map(beds.map((bed) => [bed.id, bed]))
  const found = closures.flatMap(({ bedId, fromDay, toDay }) => {
    const areaCm2 = areaOn(bedOf.get(bedId)?.areas ?? [], fromDay)
    const minutes = labour.reduce((sum, one) => {
      if (one.bedIds.length !== 1 || one.bedIds[0] !== bedId) return sum
      const day = one.workedOn ?? (one.isoWeek && thursdayOf(one.isoWeek))
      const { times = 1, personMinutes } = one
      return toDay !== null && day && fromDay <= day && day <= toDay ? sum + times * personMinutes : sum
    }, 0)
    return minutes > 0 && areaCm2 > 0 ? [{ minutes, areaCm2 }] : []
  })
  if (found.length === 0) return null
  const area = found.reduce((sum, one) => sum + one.areaCm2, 0)
  const minutes = found.reduce((sum, one) => sum + one.minutes, 0)
  return { beds: found.length, minutesPerM2: (10_000 * minutes) / area }
}

/** The seasons whose hours may be those of such a cover: their days are asked for, so they are read one by one. */
export function seasonsCovered(
  seasons: readonly { readonly id: string; readonly startsOn: IsoDate; readonly endsOn: IsoDate }[],
  closures: readonly { readonly fromDay: IsoDate; readonly toDay: IsoDate | null }[],
): string[] {
  const isOver = (startsOn: IsoDate, endsOn: IsoDate) =>
    closures.some(({ fromDay, toDay }) => toDay !== null && fromDay <= endsOn && startsOn <= toDay)
  // A week that begins or ends outside of its season is that season's.
  return seasons.flatMap(({ id, startsOn, endsOn }) =>
    isOver(addDays(startsOn, -daysOfWeek), addDays(endsOn, daysOfWeek)) ? [id] : [],
  )
}

const daysOfWeek = 7
