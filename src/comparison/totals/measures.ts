import type { WorkKind } from './adding-up.ts'
import type { MethodTotals } from './method-totals.ts'

/** The choices that change a measure of all that was grown; each is one field. */
export interface MeasureRules {
  readonly weights: 'marketable' | 'all'
  readonly area: 'bed' | 'gross'
  /** Harvest, washing and packing: in the hours, or left out. */
  readonly harvestWork: 'with' | 'without'
  /** Work and inputs of establishing: in their season, left out, or spread over the seasons that the group states. */
  readonly establishing: 'counted' | 'left out' | 'spread'
  /**
   * The group's own compost: free, with the hours of making it; or at its stated value, without them. Never the value and the
   * hours both, and never neither.
   */
  readonly ownMade: 'free' | 'valued'
}

export const measureChoices: { readonly [K in keyof MeasureRules]: readonly MeasureRules[K][] } = {
  weights: ['marketable', 'all'],
  area: ['bed', 'gross'],
  harvestWork: ['with', 'without'],
  establishing: ['counted', 'left out', 'spread'],
  ownMade: ['free', 'valued'],
}

export const plainMeasureRules: MeasureRules = {
  weights: 'marketable',
  area: 'bed',
  harvestWork: 'with',
  establishing: 'counted',
  ownMade: 'free',
}

export const measureKeys = ['kgPerArea', 'hoursPerArea', 'hoursPerKg', 'costPerKg', 'costPerArea', 'lostArea'] as const
export type MeasureKey = (typeof measureKeys)[number]

/** Unit of each measure, and the factor that turns its two whole numbers into it. */
export const measureUnits: Record<MeasureKey, { readonly unit: string; readonly factor: number }> = {
  kgPerArea: { unit: 'kg/m2', factor: 10 },
  hoursPerArea: { unit: 'h/m2', factor: 10_000 / 60 },
  hoursPerKg: { unit: 'h/kg', factor: 1000 / 60 },
  costPerKg: { unit: 'minor/kg', factor: 1000 },
  costPerArea: { unit: 'minor/m2', factor: 10_000 },
  lostArea: { unit: '1', factor: 1 / 1000 },
}

type MeasureLimit = 'so far' | 'at least' | 'weeks open'

interface Measure {
  readonly numerator: number
  readonly denominator: number
  /** In the unit of its key; null where the denominator is zero. */
  readonly value: number | null
  readonly limit: MeasureLimit | null
}

/** Which rules touch a measure: only these are varied when it is counted in every way. */
export const rulesOf: Record<MeasureKey, readonly (keyof MeasureRules)[]> = {
  kgPerArea: ['weights', 'area'],
  hoursPerArea: ['area', 'harvestWork', 'establishing', 'ownMade'],
  hoursPerKg: ['weights', 'harvestWork', 'establishing', 'ownMade'],
  costPerKg: ['weights', 'establishing', 'ownMade'],
  costPerArea: ['area', 'establishing', 'ownMade'],
  lostArea: [],
}

/** Grams, minutes and minor units over square centimetres and grams: two whole numbers each, divided once. */
export function measuresOf(totals: MethodTotals, rules: MeasureRules): Readonly<Record<MeasureKey, Measure>> {
  const grams = totals.marketableG + (rules.weights === 'all' ? totals.unmarketableG : 0)
  const area = rules.area === 'bed' ? totals.bedAreaCm2 : totals.grossAreaCm2
  const [minutes, cost] = [minutesOf(totals, rules), costOf(totals, rules)]
  const yields = totals.standing > 0 || totals.weightsClosed < totals.weeks ? 'so far' : null
  const hours = totals.hoursClosed < totals.weeks
  const unpriced = (rules.ownMade === 'free' ? totals.unpricedCash : totals.unpriced) > 0 ? 'at least' : null
  const made = (key: MeasureKey, numerator: number, denominator: number, limit: MeasureLimit | null): Measure => {
    const value = denominator === 0 ? null : (numerator / denominator) * measureUnits[key].factor
    return { numerator, denominator, value, limit }
  }
  return {
    kgPerArea: made('kgPerArea', grams, area, yields),
    hoursPerArea: made('hoursPerArea', minutes, area, hours ? 'at least' : null),
    hoursPerKg: made('hoursPerKg', minutes, grams, hours ? 'weeks open' : yields),
    costPerKg: made('costPerKg', cost, grams, yields ?? unpriced),
    costPerArea: made('costPerArea', cost, area, unpriced),
    lostArea: made('lostArea', totals.lostAreaPermille, totals.plantedAreaCm2, yields),
  }
}

function minutesOf(t: MethodTotals, rules: MeasureRules): number {
  const all: Record<WorkKind, number> = {
    ground: t.minutesWithoutHarvest - t.minutesOfMakingCompost,
    harvest: t.minutesOfHarvest,
    compost: t.minutesOfMakingCompost,
  }
  const kinds: WorkKind[] = ['ground']
  if (rules.harvestWork === 'with') kinds.push('harvest')
  if (rules.ownMade === 'free') kinds.push('compost')
  return kinds.reduce((sum, kind) => {
    const without = rules.establishing === 'counted' ? 0 : t[`${kind}Establishing`]
    return sum + all[kind] - without + (rules.establishing === 'spread' ? t[`${kind}Spread`] : 0)
  }, 0)
}

function costOf(t: MethodTotals, { ownMade, establishing }: MeasureRules): number {
  const key = ownMade === 'free' ? 'cash' : 'cost'
  const without = establishing === 'counted' ? 0 : t[`${key}Establishing`]
  return t[`${key}Minor`] - without + (establishing === 'spread' ? t[`${key}Spread`] : 0)
}
