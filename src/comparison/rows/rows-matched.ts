import { nth } from '../../lookups/nth.ts'
import { ratesBySeason } from '../findings/seasons-together.ts'
import { layoutValues, onePerUnit } from '../matched/layout-values.ts'
import { atCommonMix, matchedOver, partsOfMix } from '../matched/matched-crops.ts'
import { type CountingRules, type CropPair, matchedSeason, type Pair } from '../matched/matched-season.ts'
import { overSeasons } from '../matched/over-seasons.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsIn } from './rows-behind.ts'
import { assignedIn } from './rows-figures.ts'

/** What each matched crop brings to a method's figure on the common mix; null where nothing is matched. */
export function mixBehind(record: TrialRecord, seasonIds: readonly string[], methodId: string) {
  const methodIds = methodsIn(record, seasonIds)
  const matched = methodIds.includes(methodId) ? matchedOver(record, seasonIds, methodIds) : []
  const kgPerM2 = atCommonMix(matched, methodId)
  return kgPerM2 === undefined ? null : { parts: partsOfMix(matched, methodId), kgPerM2 }
}

interface PairOfSeason {
  readonly seasonId: string
  readonly crops: readonly CropPair[]
  readonly rateA: number
  readonly rateB: number
}

/**
 * Season by season, crop by crop: what stands behind the ratio of two methods over these seasons; null where nothing
 * does.
 */
export function pairBehind(record: TrialRecord, seasonIds: readonly string[], pair: Pair, rules: CountingRules) {
  const found = overSeasons(record, seasonIds, pair, { rules })
  if (found.kind === 'refused') return null
  const seasons = seasonIds.flatMap((id): PairOfSeason[] => {
    const own = found.seasons.find((one) => one.seasonId === id)
    if (own) return [own]
    const failed = found.failed.find((one) => one.seasonId === id)
    if (!failed) return []
    const alone = matchedSeason(record, id, pair, rules)
    return [{ ...failed, crops: alone.kind === 'answer' ? alone.crops : [] }]
  })
  const { contrast } = found
  const mean = contrast.kind === 'answer' ? { ratio: Math.exp(contrast.estimate) } : null
  return { seasons, mean, left: found.left }
}

interface UnitBehind {
  readonly gardenId: string
  readonly bedId: string | null
  readonly rates: readonly { readonly seasonId: string; readonly rate: number }[]
  /** The mean of the logarithms of its rates; null where nothing came off it in some season. */
  readonly value: number | null
}

/** The places of a method in a layout with replicates, each with its kg per planted m2; null for other layouts. */
export function unitsBehind(record: TrialRecord, seasonIds: readonly string[], methodId: string) {
  const methodIds = assignedIn(record, seasonIds)
  const found = methodIds.includes(methodId) ? layoutValues(record, seasonIds, methodIds) : null
  if (found?.kind !== 'answer' || found.turned || found.layout.alone.length > 0) return null
  const own = found.values.filter((one) => one.methodId === methodId)
  const units = onePerUnit(own).map(({ unitId, gardenId, value }): UnitBehind => {
    const [placeId = ''] = unitId.split(' ')
    const rates = own.filter((one) => one.unitId === unitId).map(({ seasonId, rate }) => ({ seasonId, rate }))
    return { gardenId, bedId: placeId === gardenId ? null : placeId, rates, value }
  })
  const values = units.flatMap((one) => one.value ?? [])
  const kgPerM2 = values.length === 0 ? null : Math.exp(values.reduce((sum, one) => sum + one, 0) / values.length)
  return { units, grown: values.length, kgPerM2 }
}

/**
 * Kg per m2 of every season on the crops matched in all of them, and their mean; null below three seasons or without
 * such a crop.
 */
export function steadyBehind(record: TrialRecord, seasonIds: readonly string[], methodId: string) {
  const methodIds = assignedIn(record, seasonIds)
  const rates = seasonIds.length < 3 ? null : ratesBySeason(record, seasonIds, methodIds)
  const own = rates?.[methodIds.indexOf(methodId)]
  if (!own) return null
  return {
    seasons: own.map((rate, i) => ({ seasonId: nth(seasonIds, i), rate })),
    mean: own.reduce((sum, one) => sum + one, 0) / own.length,
  }
}
