import type { IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, weeksBetween } from '../quantities/iso-week.ts'
import type { TrialRecord } from './trial-record.ts'

/** Within how many calendar weeks a closed week may speak for an open one. */
const reach = 3
const weeksOfYear = 52

export function seasonWeeks(record: TrialRecord, seasonId: string): IsoWeek[] {
  const season = record.seasons.find((one) => one.id === seasonId)
  return season ? weeksBetween(season.startsOn as IsoDate, season.endsOn as IsoDate) : []
}

/** Weeks of any year that lie within three calendar weeks of one, over the turn of the year too; itself is none of them. */
export function nearWeeks(weeks: readonly IsoWeek[], week: IsoWeek): IsoWeek[] {
  const number = (one: string) => Number(one.slice(6))
  return weeks.filter((one) => {
    const apart = Math.abs(number(one) - number(week))
    return one !== week && Math.min(apart, weeksOfYear - apart) <= reach
  })
}
