import { nth } from '../../lookups/nth.ts'
import { rowsWith } from '../../lookups/rows-with.ts'
import { numberIn } from '../../lookups/unsaid.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { missingWeekBounds } from '../../statistics/missing-week-bounds.ts'
import { closedWeeks } from '../record/closed-weeks.ts'
import { bedsAmong, bedsIn, partsByArea } from '../record/ground.ts'
import { nearWeeks, seasonWeeks } from '../record/near-weeks.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { kindOf, overBeds } from './adding-up.ts'
import { methodsOfBeds } from './method-totals.ts'
import { fewestNearWeeks } from './missing-weights.ts'

interface HoursBounds {
  /** Person-minutes: as entered, and with every open week at the most of closed weeks near it. */
  readonly low: number
  readonly high: number
  readonly openWeeks: number
}

/** Work on the ground alone, or all work with that of harvest. */
type WorkMeant = 'without harvest' | 'all'

/**
 * The least and the most that a method's work in a season can plausibly be: what is entered, and for each open week of
 * each of its gardens the most of the closed weeks within three calendar weeks, in any season of that garden under that
 * method. Refused where fewer than five such weeks are closed. Worst case after Manski 1989, Journal of Human Resources
 * 24:343-360.
 */
export function hoursBounds(
  record: TrialRecord,
  seasonId: string,
  methodId: string,
  work: WorkMeant = 'without harvest',
): Answer<HoursBounds> | Refusal {
  return boundsOf(work === 'all' ? record : onGround(record), seasonId, methodId)
}

/** A record without the work that scales with the crop, made once for each that was read. */
function onGround(record: TrialRecord): TrialRecord {
  const made = withoutHarvest.get(record) ?? {
    ...record,
    labour: record.labour.filter((one) => kindOf(one.task) !== 'harvest'),
  }
  withoutHarvest.set(record, made)
  return made
}

const withoutHarvest = new WeakMap<TrialRecord, TrialRecord>()

function boundsOf(record: TrialRecord, seasonId: string, methodId: string): Answer<HoursBounds> | Refusal {
  const gardens = new Set(bedsUnder(record, seasonId, methodId).map((bed) => bed.gardenId))
  let [low, high, openWeeks] = [minutesIn(record, seasonId, methodId), 0, 0]
  high = low
  const weeksOf = new Map(record.seasons.map((season) => [season.id, seasonWeeks(record, season.id)]))
  for (const gardenId of gardens) {
    const closed = closedWeeks(record, gardenId, 'hours')
    const open = seasonWeeks(record, seasonId).filter((week) => !closed.has(week))
    if (open.length === 0) continue
    const minutes = minutesByWeek(record, gardenId, methodId)
    for (const week of open) {
      const near = record.seasons.flatMap((season) =>
        nearWeeks(weeksOf.get(season.id) ?? [], week).filter((one) => closed.has(one) && minutes.lies(season.id)),
      )
      if (near.length < fewestNearWeeks) return refused('too few', `${near.length} closed weeks near ${week}`)
      const entered = minutes.of(week)
      const most = Math.max(entered, ...near.map((one) => minutes.of(one)))
      const bounds = missingWeekBounds({ observed: 0, missing: 1, low: 0, high: most - entered })
      high += bounds.kind === 'answer' ? bounds.high : 0
      openWeeks += 1
    }
  }
  return answer({ low, high, openWeeks })
}

function bedsUnder(record: TrialRecord, seasonId: string, methodId: string) {
  const methodOf = methodsOfBeds(record, seasonId)
  return bedsIn(record, seasonId).filter((bed) => methodOf.get(bed.id) === methodId)
}

function minutesIn(record: TrialRecord, seasonId: string, methodId: string): number {
  const own = new Set(bedsUnder(record, seasonId, methodId).map((bed) => bed.id))
  return [...minutesOfBeds(record, seasonId)].reduce((sum, [id, minutes]) => sum + (own.has(id) ? minutes : 0), 0)
}

/** Person-minutes by bed, summed once for each season: every method and pair asks for its beds of them. */
function minutesOfBeds(record: TrialRecord, seasonId: string): ReadonlyMap<string, number> {
  const ofSeasons = summed.get(record) ?? new Map<string, ReadonlyMap<string, number>>()
  summed.set(record, ofSeasons)
  const known = ofSeasons.get(seasonId)
  if (known) return known
  const sums = new Map<string, number>()
  for (const entry of rowsWith(record.labour, 'seasonId', seasonId)) {
    const { times = 1 } = entry
    const add = (_: true, each: number, id: string) => void sums.set(id, numberIn(sums, id) + times * each)
    overBeds({ record, seasonId, bedIds: entry.bedIds }, entry.personMinutes, () => true as const, add)
  }
  ofSeasons.set(seasonId, sums)
  return sums
}

const summed = new WeakMap<TrialRecord, Map<string, ReadonlyMap<string, number>>>()

/** The part of an entry that falls on some beds: what was written for several is divided over them by area, exactly. */
function partOn(record: TrialRecord, entry: TrialRecord['labour'][number], own: ReadonlySet<string>): number {
  const beds = bedsAmong(record, entry.seasonId, entry.bedIds)
  if (!beds.some((bed) => own.has(bed.id))) return 0
  const parts = partsByArea(beds, entry.personMinutes)
  return beds.reduce((sum, bed, i) => sum + (own.has(bed.id) ? nth(parts, i) : 0), 0) * (entry.times ?? 1)
}

function minutesByWeek(record: TrialRecord, gardenId: string, methodId: string) {
  const beds = new Map(
    record.seasons.map((season) => {
      const own = bedsUnder(record, season.id, methodId).filter((bed) => bed.gardenId === gardenId)
      return [season.id, new Set(own.map((bed) => bed.id))] as const
    }),
  )
  const sums = new Map<string, number>()
  for (const entry of record.labour) {
    const own = beds.get(entry.seasonId)
    if (!entry.isoWeek || !own || own.size === 0) continue
    sums.set(entry.isoWeek, numberIn(sums, entry.isoWeek) + partOn(record, entry, own))
  }
  return {
    of: (week: string) => numberIn(sums, week),
    // A season that no bed lies in has none.
    lies: (seasonId: string) => (beds.get(seasonId)?.size ?? 0) > 0,
  }
}
