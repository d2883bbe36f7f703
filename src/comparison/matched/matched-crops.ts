import { rowsWith } from '../../lookups/rows-with.ts'
import { asShown, textIn } from '../../lookups/unsaid.ts'
import { cropName } from '../record/crop-name.ts'
import type { PlantingRecord, TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'

interface CropOfMethod {
  readonly plantedAreaCm2: number
  readonly marketableG: number
  readonly unmarketableG: number
}

export interface MatchedCrop {
  /** The crop, and the crop with its cultivar. */
  readonly crop: string
  readonly name: string
  /** Planted area over all compared methods: its weight in the common mix. */
  readonly plantedAreaCm2: number
  readonly byMethod: ReadonlyMap<string, CropOfMethod>
}

/** One sowing of a cultivar, of which a season may have several. */
interface MatchedSet extends MatchedCrop {
  readonly matchedSetId: string
}

/**
 * The sowings that stood under every compared method in a season and are all cleared. A total loss is a yield of zero
 * and stays in; a planting that still stands takes its whole set out until it is cleared.
 */
export function matchedCrops(
  record: TrialRecord,
  seasonId: string,
  methodIds: readonly string[],
): readonly MatchedSet[] {
  const ofRecord = made.get(record) ?? new Map<string, readonly MatchedSet[]>()
  made.set(record, ofRecord)
  const key = [seasonId, ...methodIds].join(' ')
  const sets = ofRecord.get(key) ?? makeMatchedCrops(record, seasonId, methodIds)
  ofRecord.set(key, sets)
  return sets
}

/** Every way of counting asks for the same sets: they are made once for each record that was read. */
const made = new WeakMap<TrialRecord, Map<string, readonly MatchedSet[]>>()

function makeMatchedCrops(record: TrialRecord, seasonId: string, methodIds: readonly string[]): MatchedSet[] {
  const methodOf = methodsOfBeds(record, seasonId)
  const sets = new Map<string, PlantingRecord[]>()
  for (const planting of rowsWith(record.plantings, 'seasonId', seasonId)) {
    if (planting.matchedSetId === null || planting.purpose !== 'harvest') continue
    if (!methodIds.includes(textIn(methodOf, planting.bedId))) continue
    const set = sets.get(planting.matchedSetId)
    if (set) set.push(planting)
    else sets.set(planting.matchedSetId, [planting])
  }
  return [...sets].flatMap(([matchedSetId, plantings]): MatchedSet[] => {
    const byMethod = sumsByMethod(plantings, methodOf)
    const complete = methodIds.length > 1 && methodIds.every((methodId) => byMethod.has(methodId))
    if (!complete || plantings.some((planting) => !planting.cleared)) return []
    const plantedAreaCm2 = plantings.reduce((sum, one) => sum + one.areaCm2, 0)
    const [first] = plantings
    const name = first ? cropName(first) : ''
    return [{ matchedSetId, crop: asShown(first?.crop), name, plantedAreaCm2, byMethod }]
  })
}

/** The matched crops of several seasons: a cultivar matched in more than one of them is summed over those. */
export const matchedOver = (record: TrialRecord, seasonIds: readonly string[], methodIds: readonly string[]) =>
  byCultivar(seasonIds.flatMap((seasonId) => matchedCrops(record, seasonId, methodIds)))

/**
 * Each cultivar once, its sowings summed: it weighs by all its ground, and counts as one crop however often it was
 * sown.
 */
export function byCultivar(sowings: readonly MatchedCrop[]): MatchedCrop[] {
  const byName = new Map<string, MatchedCrop>()
  for (const { crop, name, plantedAreaCm2, byMethod } of sowings) {
    const own = { crop, name, plantedAreaCm2, byMethod }
    const before = byName.get(name)
    byName.set(name, before ? summed(before, own) : own)
  }
  return [...byName.values()]
}

function summed(one: MatchedCrop, other: MatchedCrop): MatchedCrop {
  const byMethod = new Map(
    [...one.byMethod].map(([methodId, own]) => {
      const more = other.byMethod.get(methodId)
      // What a method did not grow adds no ground.
      const plantedAreaCm2 = own.plantedAreaCm2 + (more?.plantedAreaCm2 ?? 0)
      // Nor any weight.
      const marketableG = own.marketableG + (more?.marketableG ?? 0)
      // Nor any that is not good.
      const unmarketableG = own.unmarketableG + (more?.unmarketableG ?? 0)
      return [methodId, { plantedAreaCm2, marketableG, unmarketableG }] as const
    }),
  )
  return { ...one, plantedAreaCm2: one.plantedAreaCm2 + other.plantedAreaCm2, byMethod }
}

function sumsByMethod(
  plantings: readonly PlantingRecord[],
  methodOf: ReadonlyMap<string, string>,
): Map<string, CropOfMethod> {
  const sums = new Map<string, CropOfMethod>()
  for (const planting of plantings) {
    const methodId = textIn(methodOf, planting.bedId)
    const sum = sums.get(methodId) ?? { plantedAreaCm2: 0, marketableG: 0, unmarketableG: 0 }
    sums.set(methodId, {
      plantedAreaCm2: sum.plantedAreaCm2 + planting.areaCm2,
      marketableG: sum.marketableG + planting.marketableG,
      unmarketableG: sum.unmarketableG + planting.unmarketableG,
    })
  }
  return sums
}

/** Direct standardisation: a method's kg per planted m2 as if all had grown these crops in their pooled areas. */
export function atCommonMix(crops: readonly MatchedCrop[], methodId: string): number | undefined {
  const parts = partsOfMix(crops, methodId)
  return parts.length === 0 ? undefined : parts.reduce((sum, one) => sum + one.part, 0)
}

/**
 * What each crop brings to it: its share of the mix, 0..1, times its kg per planted m2. None where nothing was planted.
 */
export function partsOfMix(crops: readonly MatchedCrop[], methodId: string) {
  const area = crops.reduce((sum, crop) => sum + crop.plantedAreaCm2, 0)
  if (area === 0) return []
  return crops.map((crop) => {
    const { marketableG = 0, plantedAreaCm2 = 1 } = crop.byMethod.get(methodId) ?? {}
    const share = crop.plantedAreaCm2 / area
    return { name: crop.name, share, marketableG, plantedAreaCm2, part: (share * 10 * marketableG) / plantedAreaCm2 }
  })
}
