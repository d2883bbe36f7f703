import { type AreaFrom, areaOn } from '../gardens/areas-held.ts'
import { endOf, type InBed, inBedFrom } from './bed-course.ts'
import { roomOn } from './put-into.ts'

/** The fullest day of a bed, and what it would have to hold on it. */
interface Fullest {
  readonly day: string
  readonly needsCm2: number
  readonly holdsCm2: number
}

/** A planting as far as the room it takes goes. */
export type Taking = Omit<InBed, 'id'>

/**
 * The day on which a bed has least room, of those on which something starts or goes in it and those on which its area
 * changes; null where there is none. What stands together is no larger than the bed on that day (the database counts so
 * too, `beds_overfull`). What is interplanted takes room from the day on which what it was put into is gone. With
 * `span`, only its days and its first.
 */
export function fullestDay(
  areas: readonly AreaFrom[],
  plantings: readonly Taking[],
  span?: { readonly from: string; readonly to: string },
): Fullest | null {
  const inBed = plantings.map(overDays)
  const roomy = inBed.filter((one) => one.interplanted === 0)
  const goes = roomy.length === inBed.length ? [] : roomy.flatMap((one) => one.until ?? [])
  const starts = [...roomy.map((one) => one.from), ...goes, ...areas.flatMap(({ from }) => from ?? [])]
  const days = [...starts, ...(span ? [span.from] : [])]
  const inside = span ? days.filter((day) => day >= span.from && day <= span.to) : days
  return inside.reduce<Fullest | null>((worst, day) => {
    const needsCm2 = inBed.reduce((sum, one) => sum + roomOn(one, inBed, day), 0)
    const holdsCm2 = areaOn(areas, day)
    if (needsCm2 === 0 && holdsCm2 === 0) return worst
    const fuller = worst === null || needsCm2 - holdsCm2 > worst.needsCm2 - worst.holdsCm2
    return fuller ? { day, needsCm2, holdsCm2 } : worst
  }, null)
}

const overDays = (one: Taking) => ({
  from: inBedFrom(one),
  until: endOf(one),
  areaCm2: one.areaCm2,
  interplanted: one.interplanted,
})

/**
 * Whether one planting more fits beside those that stand; an interplanted one needs no room of its own, but a bed that
 * is there.
 */
export function fitsIn(areas: readonly AreaFrom[], standing: readonly Taking[], more: Taking): boolean {
  if (areaOn(areas, inBedFrom(more)) === 0) return false
  const worst = fullestDay(areas, [...standing, more])
  return worst === null || worst.needsCm2 <= worst.holdsCm2
}
