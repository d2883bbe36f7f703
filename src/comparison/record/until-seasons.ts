import type { TrialRecord } from './trial-record.ts'

/**
 * The record as far as the latest of some seasons: what was planted, worked, spread or laid out in a season after it is
 * left out, so that nothing that comes later changes what was found. With all seasons, or without any, it is the record
 * itself.
 */
export function untilSeasons(record: TrialRecord, seasonIds: readonly string[]): TrialRecord {
  const last = record.seasons.findLastIndex((season) => seasonIds.includes(season.id))
  const end = record.seasons[last]?.endsOn
  if (end === undefined || last === record.seasons.length - 1) return record
  const seasons = record.seasons.slice(0, last + 1)
  const kept = new Set(seasons.map((season) => season.id))
  const isKept = (one: { readonly seasonId: string }) => kept.has(one.seasonId)
  const plantings = record.plantings.filter(isKept)
  const planted = new Set(plantings.map((one) => one.id))
  return {
    ...record,
    seasons,
    plantings,
    assignments: record.assignments.filter(isKept),
    losses: record.losses.filter((one) => planted.has(one.plantingId)),
    labour: record.labour.filter(isKept),
    spreadings: record.spreadings.filter(isKept),
    closures: (record.closures ?? []).filter((one) => one.fromDay <= end),
    entries: (record.entries ?? []).filter(isKept),
    readTwice: (record.readTwice ?? []).filter((one) => planted.has(one.plantingId)),
  }
}
