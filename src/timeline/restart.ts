import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, thursdayOf } from '../quantities/iso-week.ts'
import { type InBed, inBedFrom } from '../seasons/bed-course.ts'

export interface Closure {
  readonly bedId: string
  readonly fromDay: IsoDate
  readonly toDay: IsoDate | null
  readonly regrowthAfter4Weeks: number | null
  readonly regrowthAfter8Weeks: number | null
  readonly regrowthAfter12Weeks: number | null
}

export interface BedLabour {
  readonly bedId: string
  readonly isoWeek: IsoWeek
  readonly workedOn: IsoDate | null
  readonly personMinutes: number
}

interface Restart {
  readonly days: number
  /** Square centimetres times days on which nothing could be grown. */
  readonly idleCm2Days: number
  /** Written for that bed from the day it was covered to the day it was uncovered, both counted. */
  readonly personMinutes: number
  readonly entries: number
  readonly regrowth: readonly {
    readonly weeks: 4 | 8 | 12
    readonly due: string | null
    readonly shoots: number | null
  }[]
}

/**
 * What starting a bed again took: the hours written for that bed meanwhile (an entry without a day counts by the
 * Thursday of its week), the ground that bore nothing, as area times days, and what came up again 4, 8 and 12 weeks
 * after uncovering.
 */
export function restartOf(closure: Closure, areaCm2: number, labour: readonly BedLabour[], today: IsoDate): Restart {
  const end = closure.toDay ?? today
  const days = Math.max(0, daysBetween(closure.fromDay, end))
  const meanwhile = labour.filter((one) => {
    const day = one.workedOn ?? thursdayOf(one.isoWeek)
    return one.bedId === closure.bedId && closure.fromDay <= day && day <= end
  })
  const due = (weeks: number) => (closure.toDay ? addDays(closure.toDay, 7 * weeks) : null)
  return {
    days,
    idleCm2Days: areaCm2 * days,
    personMinutes: meanwhile.reduce((sum, one) => sum + one.personMinutes, 0),
    entries: meanwhile.length,
    regrowth: [
      { weeks: 4, due: due(4), shoots: closure.regrowthAfter4Weeks },
      { weeks: 8, due: due(8), shoots: closure.regrowthAfter8Weeks },
      { weeks: 12, due: due(12), shoots: closure.regrowthAfter12Weeks },
    ],
  }
}

type CountedAfter = Pick<Closure, 'regrowthAfter4Weeks' | 'regrowthAfter8Weeks' | 'regrowthAfter12Weeks'>

/** The counts that are written down before the day that they are due on. */
export function countedTooSoon(closure: CountedAfter & Pick<Closure, 'toDay'>, today: IsoDate) {
  const counts = [
    { weeks: 4, field: 'regrowthAfter4Weeks' },
    { weeks: 8, field: 'regrowthAfter8Weeks' },
    { weeks: 12, field: 'regrowthAfter12Weeks' },
  ] as const
  return counts.flatMap(({ weeks, field }) => {
    const due = closure.toDay === null ? null : addDays(closure.toDay, 7 * weeks)
    return due !== null && due > today && closure[field] !== null ? [{ weeks, field, due }] : []
  })
}

/** What stands in a bed on the day on which it is covered, or comes into it before it is uncovered: their names. */
export function standingUnder(
  { bedId, fromDay, toDay }: Pick<Closure, 'bedId' | 'fromDay' | 'toDay'>,
  plantings: readonly (InBed & { bedId: string; crop: string; cultivar: string })[],
): string[] {
  return plantings
    .filter((one) => one.bedId === bedId && (one.clearedOn === null || one.clearedOn > fromDay))
    .filter((one) => inBedFrom(one) <= fromDay || (toDay !== null && inBedFrom(one) < toDay))
    .map((one) => `${one.crop}, ${one.cultivar}`)
}
