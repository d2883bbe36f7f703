import type { IsoDate } from '../quantities/dates.ts'
import { type IsoWeek, weeksBetween } from '../quantities/iso-week.ts'
import { chanceFrom } from '../statistics/chance-from.ts'
import { seedOf } from '../statistics/seed-of.ts'

/**
 * The two weeks of a season in which a second person writes weights down too, drawn by chance from the season's id: one
 * in the middle third of its weeks and one in the last, since little is weighed in the first. The same season gives the
 * same weeks.
 */
export function secondWeeksOf(season: { id: string; startsOn: IsoDate; endsOn: IsoDate }): IsoWeek[] {
  const weeks = weeksBetween(season.startsOn, season.endsOn)
  const chance = chanceFrom(seedOf(`second reading ${season.id}`))
  const [from, until] = [Math.floor(weeks.length / 3), Math.floor((2 * weeks.length) / 3)]
  return [weeks.slice(from, until), weeks.slice(until)].flatMap((part) => part[chance.below(part.length)] ?? [])
}
