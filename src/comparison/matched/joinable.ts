import { nameIfAny } from '../../lookups/unsaid.ts'
import { cropName } from '../record/crop-name.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'
import { matchedCrops } from './matched-crops.ts'

interface Joinable {
  readonly seasonId: string
  readonly season: string
  /** Crops with their cultivars, in the order in which they were planted. */
  readonly crops: readonly string[]
}

/**
 * Cultivars that stood under every method of a season and are cleared, but in no matched set: joined to one they would
 * count in the comparison, where they are left out today. Seasons without any are left out.
 */
export function joinable(record: TrialRecord, seasonIds: readonly string[]): Joinable[] {
  return seasonIds.flatMap((seasonId) => {
    const methodOf = methodsOfBeds(record, seasonId)
    const methodIds = [...new Set(methodOf.values())]
    if (methodIds.length < 2) return []
    const matched = new Set(matchedCrops(record, seasonId, methodIds).map((one) => one.name))
    const under = new Map<string, Set<string>>()
    for (const one of record.plantings) {
      const methodId = methodOf.get(one.bedId)
      if (one.seasonId !== seasonId || one.matchedSetId !== null || !one.cleared || one.purpose !== 'harvest') continue
      if (methodId === undefined || one.establishing) continue
      const name = cropName(one)
      under.set(name, (under.get(name) ?? new Set()).add(methodId))
    }
    const crops = [...under].flatMap(([name, own]) =>
      own.size === methodIds.length && !matched.has(name) ? [name] : [],
    )
    const season = nameIfAny(record.seasons.find((one) => one.id === seasonId))
    return crops.length === 0 ? [] : [{ seasonId, season, crops }]
  })
}
