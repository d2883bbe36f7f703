import type { TrialRecord } from '../record/trial-record.ts'
import { labourToward, methodsOfBeds, methodTotals } from '../totals/method-totals.ts'
import { type Burden, spentOn } from './burdens.ts'

/**
 * From more than a tenth on, what was only divided compares nothing: it says how the ground is shared out and no more.
 */
export const mostDivided = 0.1

interface Asked {
  readonly burden: Burden
  /** What stands for a method: the method itself, a garden under it, or a bed. */
  readonly unit: 'method' | 'garden' | 'bed'
}

/**
 * The largest part, 0..1, of what one of these methods has that was written for several units together: for a garden
 * that holds two methods, for several beds where beds are compared, for several gardens at once and shared out by a
 * rule, or for a nursery.
 */
export function dividedBetween(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
  { burden, unit }: Asked,
): number {
  const seasons = seasonIds.map((id) => [methodTotals(record, id), methodTotals(dividedIn(record, id, unit), id)])
  const parts = methodIds.map((id) => {
    const spent = (of: 0 | 1) =>
      seasons.reduce((sum, season) => {
        const totals = season[of]?.get(id)
        return sum + (totals ? spentOn(burden, totals) : 0)
      }, 0)
    return spent(0) === 0 ? 0 : spent(1) / spent(0)
  })
  return Math.max(0, ...parts)
}

/** As `onlyDivided`, made once for each record that was read: every pair, measure and question asks for it again. */
function dividedIn(record: TrialRecord, seasonId: string, unit: Asked['unit']): TrialRecord {
  const ofRecord = made.get(record) ?? new Map<string, TrialRecord>()
  made.set(record, ofRecord)
  const key = `${seasonId} ${unit}`
  const divided = ofRecord.get(key) ?? onlyDivided(record, seasonId, unit)
  ofRecord.set(key, divided)
  return divided
}

const made = new WeakMap<TrialRecord, Map<string, TrialRecord>>()

/** Hours and spreadings that several units share. */
function onlyDivided(record: TrialRecord, seasonId: string, unit: Asked['unit']): TrialRecord {
  const gardenOf = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const methodOf = methodsOfBeds(record, seasonId)
  const units = new Map(
    [...methodOf].map(([bedId, methodId]) => [
      bedId,
      unit === 'bed' ? bedId : unit === 'garden' ? `${gardenOf.get(bedId)} ${methodId}` : methodId,
    ]),
  )
  // What was written for a garden holds one list of beds in common with all that was.
  const found = new Map<readonly string[], boolean>()
  const several = (bedIds: readonly string[]) => {
    if (bedIds.length < 2) return false
    const known = found.get(bedIds) ?? new Set(bedIds.flatMap((id) => units.get(id) ?? [])).size > 1
    found.set(bedIds, known)
    return known
  }
  return {
    ...record,
    plantings: [],
    closings: [],
    entries: [],
    labour: labourToward(record, seasonId).filter(
      (one) => one.sharedByRule === true || several(one.writtenFor ?? one.bedIds),
    ),
    spreadings: record.spreadings.filter((one) => one.ofNursery === true || several(one.bedIds)),
  }
}
