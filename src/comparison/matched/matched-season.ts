import { numberIn } from '../../lookups/unsaid.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { sumOf } from '../../statistics/moments.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { byCultivar, type MatchedCrop, matchedCrops } from './matched-crops.ts'

/** How matched crops are counted; each choice that touches the measure is one field. */
export interface CountingRules {
  readonly weights: 'marketable' | 'all'
  /** Weights of the common mix: pooled planted areas, or every crop once. */
  readonly mix: 'pooled areas' | 'equal parts'
  /**
   * Matched sets that lost plants to a cause outside the method: counted, or the whole set left out in both gardens.
   */
  readonly outsideLosses: 'counted' | 'set left out'
  /** Crops that a question fixed beforehand; all matched ones where none is named. */
  readonly crops?: readonly string[]
}

export const plainRules: CountingRules = { weights: 'marketable', mix: 'pooled areas', outsideLosses: 'counted' }

export interface Pair {
  readonly methodA: string
  readonly methodB: string
}

export interface CropPair {
  readonly crop: string
  /** kg per m2 planted; a total loss is 0. */
  readonly rateA: number
  readonly rateB: number
  /** rateB / rateA; null where A had nothing. */
  readonly ratio: number | null
  /** Its part of the common mix, 0..1. */
  readonly share: number
}

export interface MatchedSeason {
  readonly seasonId: string
  readonly crops: readonly CropPair[]
  /** kg per m2 on the common mix. */
  readonly rateA: number
  readonly rateB: number
  /** ln(rateB / rateA): defined also where a crop failed in one of the two. */
  readonly logRatio: number
  /** Lowest and highest ratio when each crop is left out in turn; null for a single crop. */
  readonly leavingOut: { readonly low: number; readonly high: number } | null
  /** Mean over crops of each garden's rate over the mean of both: each crop counts once. */
  readonly cropsOnce: { readonly a: number; readonly b: number }
}

/** No ratio; where one side gave nothing at all, what both gave, kg per m2 on the mix. */
type NoRatio = Refusal & { readonly rates?: { readonly rateA: number; readonly rateB: number } }

/** Weights of the mix by crop, over all the seasons that are looked at: the same in each of them. */
type Mix = ReadonlyMap<string, number>

/**
 * Two methods in one season on the crops that stood and were cleared under both, weighed alike: the ratio of two totals
 * on one mix, never a mean of ratios. Refuses where no crop is common ("nothing in common") and where one side is all
 * zero ("zero total"): then only a difference can be given. Kitagawa 1955, JASA 50:1168-1194 (direct standardisation).
 */
export function matchedSeason(
  record: TrialRecord,
  seasonId: string,
  { methodA, methodB }: Pair,
  rules: CountingRules = plainRules,
  mix: Mix = mixOf(record, [seasonId], { methodA, methodB }, rules),
): Answer<MatchedSeason> | NoRatio {
  const counted = countedCrops(record, seasonId, { methodA, methodB }, rules)
  const whole = sumOf(counted.map((crop) => numberIn(mix, crop.name)))
  if (counted.length === 0 || whole === 0) return refused('nothing in common', 'no matched crop')
  const crops = counted.map((crop): CropPair => {
    const [rateA, rateB] = [rateOf(crop, methodA, rules), rateOf(crop, methodB, rules)]
    return {
      crop: crop.name,
      rateA,
      rateB,
      ratio: rateA > 0 ? rateB / rateA : null,
      share: numberIn(mix, crop.name) / whole,
    }
  })
  const [rateA, rateB] = [onMix(crops, 'rateA'), onMix(crops, 'rateB')]
  if (!(rateA > 0 && rateB > 0)) return { ...refused('zero total', `${rateA} and ${rateB}`), rates: { rateA, rateB } }
  return answer({
    seasonId,
    crops,
    rateA,
    rateB,
    logRatio: Math.log(rateB / rateA),
    leavingOut: leavingOut(crops),
    cropsOnce: { a: cropsOnce(crops, 'rateA'), b: cropsOnce(crops, 'rateB') },
  })
}

/** Planted area of each matched crop over the seasons, or 1 for each. */
export function mixOf(record: TrialRecord, seasonIds: readonly string[], pair: Pair, rules: CountingRules): Mix {
  const mix = new Map<string, number>()
  for (const crop of seasonIds.flatMap((id) => countedCrops(record, id, pair, rules))) {
    const weight = rules.mix === 'equal parts' ? 1 : numberIn(mix, crop.name) + crop.plantedAreaCm2
    mix.set(crop.name, weight)
  }
  return mix
}

/**
 * Whole sets are left out before sowings of one cultivar are summed; in the order of their names, so that no float
 * depends on the order of rows.
 */
function countedCrops(record: TrialRecord, seasonId: string, pair: Pair, rules: CountingRules): MatchedCrop[] {
  const left: ReadonlySet<string> = rules.outsideLosses === 'set left out' ? setsWithOutsideLoss(record) : new Set()
  const sets = matchedCrops(record, seasonId, [pair.methodA, pair.methodB])
  return byCultivar(
    sets.filter((one) => !left.has(one.matchedSetId) && (!rules.crops?.length || rules.crops.includes(one.crop))),
  ).sort((a, b) => (a.name < b.name ? -1 : 1))
}

/** Grams that the rules count, by method. */
export function gramsCounted(record: TrialRecord, seasonId: string, pair: Pair, rules: CountingRules) {
  const crops = countedCrops(record, seasonId, pair, rules)
  return new Map(
    [pair.methodA, pair.methodB].map((id) => [id, sumOf(crops.map((crop) => gramsOf(crop, id, rules)))] as const),
  )
}

function setsWithOutsideLoss(record: TrialRecord): ReadonlySet<string> {
  const known = outside.get(record) ?? makeSetsWithOutsideLoss(record)
  outside.set(record, known)
  return known
}

const outside = new WeakMap<TrialRecord, ReadonlySet<string>>()

function makeSetsWithOutsideLoss(record: TrialRecord): ReadonlySet<string> {
  const lost = new Set(record.losses.filter((loss) => loss.outsideMethod).map((loss) => loss.plantingId))
  return new Set(record.plantings.flatMap((one) => (lost.has(one.id) && one.matchedSetId ? [one.matchedSetId] : [])))
}

function rateOf(crop: MatchedCrop, methodId: string, rules: CountingRules): number {
  const own = crop.byMethod.get(methodId)
  if (!own || own.plantedAreaCm2 === 0) return 0
  return (10 * gramsOf(crop, methodId, rules)) / own.plantedAreaCm2
}

function gramsOf(crop: MatchedCrop, methodId: string, rules: CountingRules): number {
  const own = crop.byMethod.get(methodId)
  // A planting that came to nothing counts as nothing, with its area in.
  return (own?.marketableG ?? 0) + (rules.weights === 'all' ? (own?.unmarketableG ?? 0) : 0)
}

const onMix = (crops: readonly CropPair[], side: 'rateA' | 'rateB') =>
  sumOf(crops.map((crop) => crop.share * crop[side]))

function leavingOut(crops: readonly CropPair[]): MatchedSeason['leavingOut'] {
  if (crops.length < 2) return null
  const ratios = crops.map((_, left) => {
    const rest = crops.filter((_crop, i) => i !== left)
    return onMix(rest, 'rateB') / onMix(rest, 'rateA')
  })
  const known = ratios.filter(Number.isFinite)
  return known.length === 0 ? null : { low: Math.min(...known), high: Math.max(...known) }
}

function cropsOnce(crops: readonly CropPair[], side: 'rateA' | 'rateB'): number {
  // Of the crops that the ratio is of: a mix over seasons leaves out those that not every season has.
  const counted = crops.filter((crop) => crop.share > 0 && crop.rateA + crop.rateB > 0)
  return sumOf(counted.map((crop) => (2 * crop[side]) / (crop.rateA + crop.rateB))) / counted.length
}
