import type { IsoDate } from '../quantities/dates.ts'
import { type InBed, inBedFrom } from '../seasons/bed-course.ts'

export interface StandCounted {
  readonly plantingId: string | null
  readonly bedId: string | null
  readonly countedOn: IsoDate
  readonly standing: number
  readonly sown: number
}

export interface Stand {
  readonly plantingId: string
  readonly countedOn: IsoDate
  readonly standing: number
  readonly sown: number
}

/**
 * How many came up of what was sown, by planting: the count with the largest share, since seed comes up over days. A
 * count of a bed belongs to a planting only where nothing else stood in that bed on its day; any other is left out
 * rather than guessed.
 */
export function plantStands(
  counts: readonly StandCounted[],
  plantings: readonly (InBed & { bedId: string })[],
): Stand[] {
  const best = new Map<string, Stand>()
  for (const { plantingId: counted, bedId, countedOn, standing, sown } of counts) {
    const there = plantings.filter((one) => one.bedId === bedId && standsOn(one, countedOn))
    const plantingId = counted ?? (there.length === 1 ? there[0]?.id : undefined)
    if (!plantingId || sown <= 0) continue
    const before = best.get(plantingId)
    if (!before || standing * before.sown > before.standing * sown) {
      best.set(plantingId, { plantingId, countedOn, standing, sown })
    }
  }
  return [...best.values()]
}

/** Whether a planting takes room in its bed on a day; on the day on which it is cleared it does no more. */
export const standsOn = (one: InBed, day: string): boolean =>
  inBedFrom(one) <= day && (one.clearedOn === null || one.clearedOn > day)
