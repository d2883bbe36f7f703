import type { IsoDate } from '../../quantities/dates.ts'
import { type IsoWeek, mondayOf, weekAfter, weeksBetween } from '../../quantities/iso-week.ts'
import type { SeasonRecord, TrialRecord } from './trial-record.ts'

/** Within how many calendar weeks a closed week may speak for an open one. */
const reach = 3
const weeksOfYear = 52

interface SeasonWeek {
  readonly week: IsoWeek
  readonly monday: IsoDate
  /** The Monday after it. */
  readonly next: IsoDate
}

/** The weeks of a season, made once for each season that was read: a page asks for them many times. */
export function weeksOfSeason(record: TrialRecord, seasonId: string): readonly SeasonWeek[] {
  const season = record.seasons.find((one) => one.id === seasonId)
  if (!season) return []
  const weeks = made.get(season) ?? makeWeeks(season)
  made.set(season, weeks)
  return weeks
}

const made = new WeakMap<SeasonRecord, readonly SeasonWeek[]>()

const makeWeeks = ({ startsOn, endsOn }: SeasonRecord) =>
  weeksBetween(startsOn, endsOn).map((week) => ({
    week,
    monday: mondayOf(week),
    next: mondayOf(weekAfter(week, 1)),
  }))

export const seasonWeeks = (record: TrialRecord, seasonId: string): IsoWeek[] =>
  weeksOfSeason(record, seasonId).map((one) => one.week)

/**
 * Weeks of any year that lie within three calendar weeks of one, over the turn of the year too; itself is none of them.
 */
export function nearWeeks(weeks: readonly IsoWeek[], week: IsoWeek): IsoWeek[] {
  const number = (one: string) => Number(one.slice(6))
  return weeks.filter((one) => {
    const apart = Math.abs(number(one) - number(week))
    return one !== week && Math.min(apart, weeksOfYear - apart) <= reach
  })
}
