import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'

interface Ordered {
  readonly orderedOn: IsoDate | null
  readonly deliveredOn: IsoDate | null
}

/** The longest time that a load has taken from order to delivery, in days; null where none has both days. */
export function longestLead(deliveries: readonly Ordered[]): number | null {
  const leads = deliveries.flatMap(({ orderedOn, deliveredOn }) =>
    orderedOn && deliveredOn ? [daysBetween(orderedOn, deliveredOn)] : [],
  )
  return leads.length === 0 ? null : Math.max(...leads)
}

/** Order by this day, so that a load which takes the longest time so far still comes on the day it is wanted. */
export const orderBy = (wantedOn: IsoDate, leadDays: number): IsoDate => addDays(wantedOn, -leadDays)
