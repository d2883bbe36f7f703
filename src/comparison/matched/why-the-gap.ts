import type { Answer, Refusal } from '../../statistics/answer.ts'
import { type GroundUsed, type SplitGap, splitGap } from '../../statistics/split-gap.ts'
import { cropName } from '../record/crop-name.ts'
import { bedsIn } from '../record/ground.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'
import type { Pair } from './matched-season.ts'

/** The gap in marketable kg per m2 of bed between two methods in a season, in four parts that add up, crop by crop. */
export function whyTheGap(
  record: TrialRecord,
  seasonId: string,
  { methodA, methodB }: Pair,
): Answer<SplitGap> | Refusal {
  return splitGap(groundUsed(record, seasonId, methodA), groundUsed(record, seasonId, methodB))
}

/** Areas in m2, weights in kg; beds that are empty or covered count. */
export function groundUsed(record: TrialRecord, seasonId: string, methodId: string): GroundUsed {
  const methodOf = methodsOfBeds(record, seasonId)
  const beds = bedsIn(record, seasonId).filter((bed) => methodOf.get(bed.id) === methodId)
  const own = new Set(beds.map((bed) => bed.id))
  const crops = new Map<string, { key: string; areaCm2: number; grams: number }>()
  for (const one of record.plantings) {
    if (one.seasonId !== seasonId || one.purpose !== 'harvest' || !own.has(one.bedId)) continue
    const key = cropName(one)
    const sum = crops.get(key) ?? { key, areaCm2: 0, grams: 0 }
    crops.set(key, { key, areaCm2: sum.areaCm2 + one.areaCm2, grams: sum.grams + one.marketableG })
  }
  return {
    bedArea: beds.reduce((sum, bed) => sum + bed.areaCm2, 0) / 10_000,
    crops: [...crops.values()]
      .sort((a, b) => (a.key < b.key ? -1 : 1))
      .map(({ key, areaCm2, grams }) => ({ key, plantedArea: areaCm2 / 10_000, kg: grams / 1000 })),
  }
}
