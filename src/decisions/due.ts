import type { IsoDate } from '../quantities/dates.ts'

interface Awaited {
  readonly lookAgainOn: IsoDate | null
  readonly happened: string | null
}

/** Decisions that are to be looked at again by this day and of which nobody has said yet what happened. */
export const dueForALook = <T extends Awaited>(decisions: readonly T[], today: IsoDate): T[] =>
  decisions.filter((one) => one.happened === null && one.lookAgainOn !== null && one.lookAgainOn <= today)
