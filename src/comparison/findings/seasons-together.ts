import { nth } from '../../lookups/nth.ts'
import { amongThem, linkOf, textIn } from '../../lookups/unsaid.ts'
import type { LayoutKind } from '../../seasons/layout.ts'
import { type Answer, answer, type Refusal, refused } from '../../statistics/answer.ts'
import { fitMixedModel } from '../../statistics/fit-mixed-model.ts'
import { type PooledSeasons, poolSeasons } from '../../statistics/pool-seasons.ts'
import { qt } from '../../statistics/qt.ts'
import { type MethodStability, stability } from '../../statistics/stability.ts'
import { closedSeasons } from '../matched/closed-seasons.ts'
import { unitsIn } from '../matched/laid-out.ts'
import { layoutValues } from '../matched/layout-values.ts'
import { matchedCrops, matchedOver } from '../matched/matched-crops.ts'
import type { Pair } from '../matched/matched-season.ts'
import { cropName } from '../record/crop-name.ts'
import { onceForRecord } from '../record/once-for-record.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { methodsOfBeds } from '../totals/method-totals.ts'
import { aboutMethods } from './about-methods.ts'

/**
 * How much the difference of two methods moves from season to season, where each season has true replicates: one log
 * ratio a season, on the crops and the mix of all of them, with the variance that its own units give it, by random
 * effects (REML) with the modified Hartung-Knapp interval. This is about season by method; the interval of the methods
 * themselves comes from the gardens. Refused for one garden a method, and for fewer than two seasons.
 */
export const seasonsTogether = onceForRecord(makeSeasonsTogether)

function makeSeasonsTogether(
  record: TrialRecord,
  seasonIds: readonly string[],
  pair: Pair,
): Answer<PooledSeasons> | Refusal {
  const counted = closedSeasons(record, seasonIds, [pair.methodA, pair.methodB])
  const effects = counted.flatMap((id) => {
    const found = aboutMethods(record, [id], pair, { mixOf: counted })
    if (found.kind === 'refused') return []
    const reach = (Math.log(found.high) - Math.log(found.low)) / 2
    const se = reach / qt((1 + found.level) / 2, found.df)
    return [{ estimate: Math.log(found.ratio), variance: se * se }]
  })
  if (effects.length < 2) return refused('too few', `${effects.length} seasons with replicates`)
  return poolSeasons(effects)
}

interface StableMethods {
  readonly methods: readonly (MethodStability & { readonly methodId: string })[]
  readonly seasons: number
}

/**
 * How steady each method's weight on the common mix was over the seasons: of these plots where there is one garden a
 * method. Estimators are those of the statistic's docstring; with few seasons all of them are noise for the most part.
 * Refused for fewer than three seasons.
 */
export function stableMethods(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
): Answer<StableMethods> | Refusal {
  const rates = ratesBySeason(record, seasonIds, methodIds)
  if (rates === null) return refused('nothing in common', 'no crop in every season')
  const found = stability(rates)
  if (found.kind === 'refused') return found
  return answer({
    methods: found.methods.map((one, i) => ({ ...one, methodId: nth(methodIds, i) })),
    seasons: seasonIds.length,
  })
}

/**
 * kg per m2 of every method in every season on the crops that were matched in all of them, in one mix; null where none
 * was.
 */
export function ratesBySeason(
  record: TrialRecord,
  seasonIds: readonly string[],
  methodIds: readonly string[],
): readonly (readonly number[])[] | null {
  const seasons = seasonIds.map((id) => matchedOver(record, [id], methodIds))
  const shared = (seasons[0] ?? [])
    .map((crop) => crop.name)
    .filter((name) => seasons.every((own) => own.some((crop) => crop.name === name)))
  if (shared.length === 0) return null
  const area = (name: string) =>
    // A crop that was not grown in a season stood on no ground.
    seasons.reduce((sum, own) => sum + (own.find((crop) => crop.name === name)?.plantedAreaCm2 ?? 0), 0)
  const whole = shared.reduce((sum, name) => sum + area(name), 0)
  return methodIds.map((methodId) =>
    seasons.map((own) =>
      shared.reduce((sum, name) => {
        const cell = own.find((crop) => crop.name === name)?.byMethod.get(methodId)
        // Nothing came of what was not grown; its area beside it is none.
        return sum + (area(name) / whole) * ((10 * (cell?.marketableG ?? 0)) / (cell?.plantedAreaCm2 ?? 1))
      }, 0),
    ),
  )
}

interface PlotModel {
  readonly ratio: number
  readonly low: number
  readonly high: number
  readonly df: number
  readonly plots: number
  readonly failed: number
  /** What holds places of both methods, and is taken out of the spreads between the places. */
  readonly after: Holder | null
  /** Standard deviations on the log scale, by what they are between. */
  readonly spreads: Readonly<Record<string, number>>
  /** A spread was estimated as none at all. */
  readonly singular: boolean
}

export type Holder = 'garden' | 'site' | 'block'

/** In these layouts something holds places of both methods: it stands in every model of them. */
export const holderOf: Partial<Record<LayoutKind, Holder>> = {
  'split gardens': 'garden',
  uneven: 'garden',
  'gardens within sites': 'site',
  'blocks of beds': 'block',
}

const fewestLevels = 5

/**
 * Single plantings in one linear mixed model of their log rates by REML: method fixed, gardens (or beds) random, with
 * crops, seasons and what holds places of both methods (blocks, sites, gardens) random from five levels on and fixed
 * below; Satterthwaite's degrees of freedom. Only plantings of whole matched sets: under both methods and all of them
 * cleared. Plantings off which nothing came have no logarithm: it is about survivors. Refused for layouts without
 * replicates, so that no planting stands in for a garden.
 */
export const plotModel = onceForRecord(makePlotModel)

function makePlotModel(
  record: TrialRecord,
  seasonIds: readonly string[],
  { methodA, methodB }: Pair,
): Answer<PlotModel> | Refusal {
  const found = layoutValues(record, seasonIds, [methodA, methodB])
  if (found.kind === 'refused') return found
  if (found.turned || found.layout.alone.length > 0) return refused('no error term', found.layout.kind)
  const gardenOf = new Map(record.beds.map((bed) => [bed.id, bed.gardenId]))
  const holder = holderOf[found.layout.kind]
  const holderAt = new Map(
    found.seasonIds.flatMap((id) => unitsIn(found, id)).map((unit) => [unit.unitId, linkOf(unit.blockId)]),
  )
  const rows = found.seasonIds.flatMap((seasonId) => {
    const methodOf = methodsOfBeds(record, seasonId)
    const whole = new Set(matchedCrops(record, seasonId, [methodA, methodB]).map((set) => set.matchedSetId))
    return record.plantings.flatMap((one) => {
      const methodId = methodOf.get(one.bedId)
      const matched = one.seasonId === seasonId && amongThem(whole, one.matchedSetId) && one.purpose === 'harvest'
      if (!matched || (methodId !== methodA && methodId !== methodB)) return []
      const unit = `${found.unit === 'bed' ? one.bedId : gardenOf.get(one.bedId)} ${methodId}`
      const rate = (10 * one.marketableG) / one.areaCm2
      return [{ methodId, unit, seasonId, held: textIn(holderAt, unit), crop: cropName(one), rate }]
    })
  })
  const plots = rows
    .filter((one) => one.rate > 0)
    .sort((a, b) => Number(b.methodId === methodA) - Number(a.methodId === methodA))
  const labels = (of: (one: (typeof plots)[number]) => string) => plots.map(of)
  const factors = {
    crop: labels((one) => one.crop),
    season: labels((one) => one.seasonId),
    ...(holder === undefined ? {} : { [holder]: labels((one) => one.held) }),
  }
  const few = (column: readonly string[]) => new Set(column).size < fewestLevels
  const fixed = Object.fromEntries(
    Object.entries(factors).filter(([, column]) => few(column) && new Set(column).size > 1),
  )
  const random = Object.fromEntries(Object.entries(factors).filter(([, column]) => !few(column)))
  const model = fitMixedModel({
    y: plots.map((one) => Math.log(one.rate)),
    fixed: { ...fixed, method: labels((one) => one.methodId) },
    random: { ...random, [holder === 'garden' ? 'garden by method' : found.unit]: labels((one) => one.unit) },
    reference: { method: methodA },
  })
  if (model.kind === 'refused') return model
  const own = model.coefficients.find((one) => one.name === `method=${methodB}`)
  if (!own || !(own.se > 0)) return refused('aliased', 'method')
  const reach = qt(0.975, own.df) * own.se
  return answer({
    ratio: Math.exp(own.estimate),
    low: Math.exp(own.estimate - reach),
    high: Math.exp(own.estimate + reach),
    df: own.df,
    plots: plots.length,
    failed: rows.length - plots.length,
    singular: model.singular,
    after: holder ?? null,
    spreads: Object.fromEntries(
      Object.entries(model.varianceComponents).map(([name, variance]) => [name, Math.sqrt(variance)]),
    ),
  })
}
