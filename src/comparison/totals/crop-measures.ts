import { linked } from '../../lookups/unsaid.ts'
import { splitExactly } from '../../quantities/split-exactly.ts'
import { cropName } from '../record/crop-name.ts'
import type { LabourRecord, SpreadingRecord, TrialRecord } from '../record/trial-record.ts'
import { kindOf } from './adding-up.ts'
import type { MeasureRules } from './measures.ts'
import { methodsOfBeds } from './method-totals.ts'

/** One crop under one method: grams and area always, hours and costs only where they were written for its plantings. */
interface CropMeasures {
  readonly crop: string
  readonly plantedAreaCm2: number
  readonly grams: number
  /** Plantings that still stand: the grams are so far. */
  readonly standing: number
  /** Null where nothing was written by planting: a garden's hours are never spread over its crops. */
  readonly minutes: number | null
  readonly costMinor: number | null
}

/** By crop and cultivar, in the order of their names. */
export function cropMeasures(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodId: string,
  rules: MeasureRules,
): CropMeasures[] {
  const crops = new Map<string, CropMeasures>()
  const cropOf = new Map<string, string>()
  for (const seasonId of seasonIds) {
    const methodOf = methodsOfBeds(record, seasonId)
    for (const one of record.plantings) {
      if (one.seasonId !== seasonId || one.purpose !== 'harvest' || methodOf.get(one.bedId) !== methodId) continue
      const crop = cropName(one)
      cropOf.set(one.id, crop)
      const sum = crops.get(crop) ?? { crop, plantedAreaCm2: 0, grams: 0, standing: 0, minutes: null, costMinor: null }
      const grams = one.marketableG + (rules.weights === 'all' ? one.unmarketableG : 0)
      const standing = sum.standing + (one.cleared ? 0 : 1)
      crops.set(crop, { ...sum, standing, plantedAreaCm2: sum.plantedAreaCm2 + one.areaCm2, grams: sum.grams + grams })
    }
  }
  const add = (plantingId: string | null | undefined, key: 'minutes' | 'costMinor', amount: number) => {
    const sum = linked(crops, linked(cropOf, plantingId))
    // A sum not begun is nothing so far.
    if (sum) crops.set(sum.crop, { ...sum, [key]: (sum[key] ?? 0) + amount })
  }
  for (const entry of record.labour) {
    const minutes = minutesForCrop(entry, rules)
    if (minutes !== null) add(entry.plantingId, 'minutes', minutes)
  }
  for (const one of record.spreadings) {
    const cost = costForCrop(one, rules)
    if (cost !== null) add(one.plantingId, 'costMinor', cost)
  }
  return [...crops.values()].sort((a, b) => (a.crop < b.crop ? -1 : 1))
}

/** Minutes that an entry brings to the crop it was written for; null where the rules leave it out. */
export function minutesForCrop(entry: LabourRecord, rules: MeasureRules): number | null {
  if (rules.harvestWork === 'without' && kindOf(entry.task) === 'harvest') return null
  const { personMinutes, times = 1, phase } = entry
  return rules.establishing !== 'counted' && phase === 'establishing' ? null : times * personMinutes
}

/** Its part for the season it was spread in; null where the rules leave it out, or where it has no price. */
export function costForCrop(one: SpreadingRecord, rules: MeasureRules): number | null {
  if (rules.establishing !== 'counted' && one.phase === 'establishing') return null
  const { costMinor, cashMinor = costMinor, usefulLifeSeasons } = one
  const cost = rules.ownMade === 'free' ? cashMinor : costMinor
  const shares = Array.from({ length: usefulLifeSeasons }, () => 1)
  // Ground of no area bears no part of a cost.
  return cost === null ? null : (splitExactly(cost, shares)?.[0] ?? 0)
}
