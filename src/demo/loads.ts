import type { IsoDate } from '../quantities/dates.ts'
import { weekOf } from '../quantities/iso-week.ts'
import type { Making } from './making.ts'

interface Spread {
  readonly seasonId: string
  readonly gardenId: string
  readonly deliveryId: string
  readonly appliedOn: IsoDate
}

const tasksOfLoads = ['carrying materials', 'spreading mulch or compost']

/** The hours of the week in which a load was spread are its own: the same hours, with the load beside them. */
export function hoursOfLoad({ rows }: Making, { deliveryId, seasonId, gardenId, appliedOn }: Spread): void {
  const isoWeek = weekOf(appliedOn)
  for (const [at, row] of rows.labourEntries.entries()) {
    const isHere = row.seasonId === seasonId && row.gardenId === gardenId && row.isoWeek === isoWeek
    if (isHere && tasksOfLoads.includes(String(row.task))) rows.labourEntries[at] = { ...row, deliveryId }
  }
}

/** Apart from the ids that are counted, so that no other row has another one for it. */
const baleId = '018a0000-0000-7000-8000-fe0000000001'

/** A word of the group's own for its hay, measured and weighed. */
export const weighedBale = ({ rows, truth }: Making) => rows.measures.push({ id: baleId, ...truth.bale })
