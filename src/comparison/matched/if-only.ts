import { type Answer, type Refusal, refused } from '../../statistics/answer.ts'
import { type StandardisedMany, standardiseMany } from '../../statistics/standardise-many.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { groundUsed } from './why-the-gap.ts'

interface IfOnly extends StandardisedMany {
  /** Crops that stood under every one of the methods; the others are left out. */
  readonly crops: readonly string[]
}

/**
 * Three methods or more at once: kg per m2 of bed over the crops that stood under all of them, and what it would have
 * been if only how fully the ground was used, only what was grown, or only how well it grew had differed (Das Gupta
 * 1993, US Bureau of the Census P23-186, chapter 6: so that each pair agrees with every other). Refused for fewer than
 * three methods, or where no crop is common to all.
 */
export function ifOnly(record: TrialRecord, seasonId: string, methodIds: readonly string[]): Answer<IfOnly> | Refusal {
  if (methodIds.length < 3) return refused('too few', `${methodIds.length} methods`)
  const grounds = methodIds.map((id) => groundUsed(record, seasonId, id))
  if (grounds.some((one) => one.bedArea <= 0)) return refused('zero total', 'the area of bed')
  const crops = (grounds[0]?.crops ?? [])
    .map((crop) => crop.key)
    .filter((key) => grounds.every((one) => one.crops.some((crop) => crop.key === key && crop.plantedArea > 0)))
  if (crops.length === 0) return refused('nothing in common', 'no crop')
  const found = standardiseMany(
    grounds.map((one) => {
      const own = crops.map((key) => one.crops.find((crop) => crop.key === key))
      // A crop a side did not grow has no ground there.
      const area = own.reduce((sum, crop) => sum + (crop?.plantedArea ?? 0), 0)
      return {
        intensity: area / one.bedArea,
        // The same.
        mix: own.map((crop) => (crop?.plantedArea ?? 0) / area),
        // And no weight.
        growth: own.map((crop) => (crop?.kg ?? 0) / (crop?.plantedArea ?? 1)),
      }
    }),
  )
  return found.kind === 'refused' ? found : { ...found, crops }
}
