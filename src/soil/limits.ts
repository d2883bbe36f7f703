import { lastOf } from '../lookups/nth.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { type GardenLedger, kgPerHaOf, type SpreadOn } from './ledger.ts'

/** Where rules differ by what is spread. */
const sourceKinds = ['manure', 'compost', 'mulch', 'other'] as const
export type SourceKind = (typeof sourceKinds)[number]

/** "all": whatever was spread, together. */
export const limitedSources = [...sourceKinds, 'all'] as const
export type LimitedSource = (typeof limitedSources)[number]

export const limitedNutrients = ['nitrogen', 'phosphorus'] as const
export type LimitedNutrient = (typeof limitedNutrients)[number]

export const limitNames = limitedSources.flatMap((source) =>
  limitedNutrients.map((nutrient) => ({ name: `${source}-${nutrient}`, source, nutrient })),
)

export const sourceKindOf = ({ kind, rawManure }: { readonly kind: string; readonly rawManure: number }): SourceKind =>
  kind === 'manure' || rawManure > 0 ? 'manure' : kind === 'compost' || kind === 'mulch' ? kind : 'other'

interface Limited {
  readonly source: LimitedSource
  readonly nutrient: LimitedNutrient
}

/** The most in a year, from a day on; a null of the amount is none, of the day the beginning. */
export interface SpreadingLimit extends Limited {
  readonly mostMgPerM2: number | null
  readonly from: IsoDate | null
  /** Whose rule it is; null where it is only typed for a look. */
  readonly rule: string | null
}

/** Of livestock manure, 170 kg of nitrogen a hectare and year: Directive 91/676/EEC, annex III, 2. */
const directive: SpreadingLimit = {
  source: 'manure',
  nutrient: 'nitrogen',
  mostMgPerM2: 17_000,
  from: null,
  rule: 'Directive 91/676/EEC, annex III',
}

const isOf =
  ({ source, nutrient }: Limited) =>
  (one: Limited) =>
    one.source === source && one.nutrient === nutrient

/**
 * The limits that the group holds itself to, in the order of their days, and the directive's until one of its kind is
 * written down. What is typed for a look stands for all days in place of the others of its kind.
 */
export function limitsHeld(kept: readonly SpreadingLimit[], typed: readonly SpreadingLimit[] = []): SpreadingLimit[] {
  const own = kept.some(isOf(directive)) ? kept : [directive, ...kept]
  return [...own.filter((one) => !typed.some(isOf(one))), ...typed]
}

/** The one that holds on a day; null where none does, or where it says that there is none. */
export function limitOn(limits: readonly SpreadingLimit[], of: Limited, day: IsoDate): HeldLimit | null {
  const found = limits.findLast((one) => isOf(of)(one) && (one.from === null || one.from <= day))
  return found === undefined || found.mostMgPerM2 === null ? null : { ...found, mostMgPerM2: found.mostMgPerM2 }
}

export interface HeldLimit extends SpreadingLimit {
  readonly mostMgPerM2: number
}

interface OverLimit {
  readonly gardenId: string
  readonly seasonId: string
  readonly kgPerHa: number
  readonly limit: HeldLimit
}

type Spread = SpreadOn & { readonly appliedOn: IsoDate }

/**
 * Every season of a garden in which what is known of one kind of source, or of all, is more than its limit: the one
 * that held on the day on which it was spread last. A season counts as a year.
 */
export function overLimits(
  { spreadings }: { readonly spreadings: readonly Spread[] },
  ledger: readonly GardenLedger[],
  limits: readonly SpreadingLimit[],
): OverLimit[] {
  return ledger.flatMap(({ gardenId, seasons }) =>
    seasons.flatMap(({ seasonId, bedAreaCm2 }) =>
      limitNames.flatMap((of) => {
        const own = spreadings.filter(
          (one) =>
            one.gardenId === gardenId &&
            one.seasonId === seasonId &&
            (of.source === 'all' || sourceKindOf(one) === of.source),
        )
        if (own.length === 0) return []
        const limit = limitOn(limits, of, lastOf(own.map((one) => one.appliedOn).sort()))
        const mg = own.flatMap(({ carriedMg }) => carriedMg[of.nutrient] ?? []).reduce((sum, one) => sum + one, 0)
        const mgPerM2 = (10_000 * mg) / bedAreaCm2
        return limit !== null && mgPerM2 > limit.mostMgPerM2
          ? [{ gardenId, seasonId, kgPerHa: kgPerHaOf(mgPerM2), limit }]
          : []
      }),
    ),
  )
}
