import { nearWeeks, seasonWeeks } from '../comparison/record/near-weeks.ts'
import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { methodsOfBeds } from '../comparison/totals/method-totals.ts'
import { amongThem } from '../lookups/unsaid.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'

export interface RowsKept {
  readonly record: TrialRecord
  /** Whether hours that were written for a season, in a phase, a week and perhaps for a planting, are among them. */
  readonly keepsHours: (of: {
    readonly seasonId: string
    readonly phase: string
    readonly plantingId: string | null
    readonly isoWeek: IsoWeek | null
  }) => boolean
}

/**
 * The part of the record that the figures of some seasons rest on: what the keeper agreed to give out. Besides those
 * seasons that is what earlier ones still put on them (inputs and establishing that last, and those seasons by name,
 * since their order says how old such a thing is); what the same crops gave in the same gardens in other seasons, where
 * weeks of weights are open and those speak for them, and likewise the hours of weeks that speak for open ones; and the
 * matched crops of a uniform year.
 */
export function rowsKept(record: TrialRecord, seasonIds: readonly string[]): RowsKept {
  const own = new Set(seasonIds)
  const at = (id: string) => record.seasons.findIndex((season) => season.id === id)
  const longest = Math.max(1, ...record.methods.map((method) => method.establishingSeasons ?? 1))
  const lasts = (seasonId: string, life: number) =>
    seasonIds.some((id) => at(id) >= at(seasonId) && at(id) < at(seasonId) + life)
  const lifeOf = (phase: string | undefined, life: number) =>
    phase === 'establishing' ? Math.max(life, longest) : life
  const spreadings = record.spreadings.filter((one) =>
    lasts(one.seasonId, lifeOf(one.phase === null ? 'establishing' : one.phase, one.usefulLifeSeasons)),
  )
  const speaking = weeksThatSpeak(record, own)
  const labour = record.labour.filter(
    (one) => lasts(one.seasonId, lifeOf(one.phase, 1)) || amongThem(speaking, one.isoWeek),
  )
  const beside = besideThem(record, own)
  const plantings = record.plantings.filter((one) => own.has(one.seasonId) || beside.has(one.id))
  const planted = new Set(plantings.map((one) => one.id))
  const named = new Set([...own, ...[...spreadings, ...labour, ...plantings].map((one) => one.seasonId)])
  const first = Math.min(...[...named].map(at))
  const last = Math.max(...[...named].map(at))
  const weeks = new Set(
    [...new Set(plantings.map((one) => one.seasonId)), ...own].flatMap((id) => seasonWeeks(record, id) as string[]),
  )
  for (const week of speaking) weeks.add(week)
  return {
    record: {
      ...record,
      seasons: record.seasons.filter((_, i) => i >= first && i <= last),
      assignments: record.assignments.filter((one) => named.has(one.seasonId)),
      plantings,
      spreadings,
      labour,
      losses: record.losses.filter((one) => planted.has(one.plantingId)),
      closings: record.closings.filter((one) => weeks.has(one.isoWeek)),
    },
    keepsHours: ({ seasonId, phase, plantingId, isoWeek }) =>
      lasts(seasonId, lifeOf(phase, 1)) ||
      amongThem(speaking, isoWeek) ||
      record.plantings.some((one) => one.id === plantingId && own.has(one.seasonId)),
  }
}

/** The weeks of other seasons that lie near one of these seasons in which a garden has not closed its hours. */
function weeksThatSpeak(record: TrialRecord, own: ReadonlySet<string>): ReadonlySet<string> {
  const closed = new Set(
    record.closings.filter((one) => one.what === 'hours').map((one) => `${one.gardenId} ${one.isoWeek}`),
  )
  const open = [...own].flatMap((id) => {
    const gardens = gardensIn(record, id)
    return seasonWeeks(record, id).filter((week) => gardens.some((gardenId) => !closed.has(`${gardenId} ${week}`)))
  })
  const others = record.seasons.filter((season) => !own.has(season.id)).flatMap((one) => seasonWeeks(record, one.id))
  return new Set(open.flatMap((week) => nearWeeks(others, week)))
}

function gardensIn(record: TrialRecord, seasonId: string): string[] {
  const methodOf = methodsOfBeds(record, seasonId)
  return [...new Set(record.beds.filter((bed) => methodOf.has(bed.id)).map((bed) => bed.gardenId))]
}

/** Plantings of other seasons on which a figure of these rests. */
function besideThem(record: TrialRecord, own: ReadonlySet<string>): ReadonlySet<string> {
  const gardenOf = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const closed = new Set(
    record.closings.filter((one) => one.what === 'weights').map((one) => `${one.gardenId} ${one.isoWeek}`),
  )
  const open = record.plantings.filter(
    (one) =>
      own.has(one.seasonId) &&
      one.purpose === 'harvest' &&
      seasonWeeks(record, one.seasonId).some((week) => !closed.has(`${gardenOf.get(one.bedId)} ${week}`)),
  )
  const kin = new Set(open.map((one) => `${gardenOf.get(one.bedId)} ${one.crop}`))
  const gardens = new Set(
    [...own].flatMap((id) => [...methodsOfBeds(record, id).keys()].map((bedId) => gardenOf.get(bedId))),
  )
  const uniform = new Set(record.seasons.filter((season) => season.uniform).map((season) => season.id))
  return new Set(
    record.plantings
      .filter((one) => {
        const gardenId = gardenOf.get(one.bedId)
        const ofUniformYear = uniform.has(one.seasonId) && one.matchedSetId !== null && gardens.has(gardenId)
        return ofUniformYear || kin.has(`${gardenId} ${one.crop}`)
      })
      .map((one) => one.id),
  )
}
