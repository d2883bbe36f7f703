import type { TrialRecord } from '../record/trial-record.ts'
import { type MethodTotals, methodTotals, sumOfSeasons } from '../totals/method-totals.ts'
import { oneGardenAMethod } from './laid-out.ts'
import { atCommonMix, matchedOver } from './matched-crops.ts'

/** A figure of the table: kept as two whole numbers until the page rounds once. `value` is in the unit of its key. */
export type Limit = 'so far' | 'at least' | 'weeks open'

export interface Figure {
  readonly key: FigureKey
  readonly numerator: number
  readonly denominator: number
  /** In the unit of the key; null where the denominator is zero. */
  readonly value: number | null
  /** What limits it: a planting that still stands, a week that is open, a delivery without a price. */
  readonly limit: Limit | null
}

/** Key, unit, and the factor that turns the two whole numbers into it. */
export const figureUnits = {
  marketablePerBed: { unit: 'kg/m2', factor: 10 },
  allPerBed: { unit: 'kg/m2', factor: 10 },
  marketablePerGross: { unit: 'kg/m2', factor: 10 },
  allPerGross: { unit: 'kg/m2', factor: 10 },
  hoursPerBed: { unit: 'h/m2', factor: 10_000 / 60 },
  hoursPerKg: { unit: 'h/kg', factor: 1000 / 60 },
  costPerKg: { unit: 'minor/kg', factor: 1000 },
  costPerBed: { unit: 'minor/m2', factor: 10_000 },
  lostArea: { unit: '1', factor: 1 / 1000 },
} as const

export type FigureKey = keyof typeof figureUnits

export interface MethodFigures {
  readonly methodId: string
  readonly method: string
  /** The seasons in which it lies on any ground, by their names. */
  readonly seasons: readonly string[]
  readonly totals: MethodTotals
  readonly figures: readonly Figure[]
}

export interface FirstTable {
  readonly schemaVersion: 1
  readonly season: string | null
  readonly oneGardenAMethod: boolean
  readonly methods: readonly MethodFigures[]
  readonly matched: readonly { crop: string; byMethod: readonly { methodId: string; kgPerM2: number }[] }[]
  readonly commonMix: readonly { methodId: string; kgPerM2: number }[]
}

/** The first table for one season, or for all of them where `seasonId` is null. */
export function firstTable(record: TrialRecord, seasonId: string | null): FirstTable {
  const seasonIds = seasonId === null ? record.seasons.map((season) => season.id) : [seasonId]
  const totals = sumOfSeasons(seasonIds.map((id) => methodTotals(record, id)))
  const seasonsOf = (methodId: string) =>
    record.seasons.filter((one) => seasonIds.includes(one.id) && methodTotals(record, one.id).has(methodId))
  const methods = record.methods.flatMap((method): MethodFigures[] => {
    const own = totals.get(method.id)
    const seasons = seasonsOf(method.id).map((one) => one.name)
    return own ? [{ methodId: method.id, method: method.name, seasons, totals: own, figures: figuresOf(own) }] : []
  })
  const methodIds = methods.map((method) => method.methodId)
  const matched = matchedOver(record, seasonIds, methodIds)
  return {
    schemaVersion: 1,
    season: seasonId,
    oneGardenAMethod: oneGardenAMethod(record, seasonIds),
    methods,
    matched: matched.map((crop) => ({
      crop: crop.name,
      byMethod: methodIds.map((methodId) => {
        const own = crop.byMethod.get(methodId)
        return { methodId, kgPerM2: (10 * (own?.marketableG ?? 0)) / (own?.plantedAreaCm2 ?? 1) }
      }),
    })),
    commonMix: methodIds.flatMap((methodId) => {
      const kgPerM2 = atCommonMix(matched, methodId)
      return kgPerM2 === undefined ? [] : [{ methodId, kgPerM2 }]
    }),
  }
}

function figuresOf(totals: MethodTotals): Figure[] {
  const all = totals.marketableG + totals.unmarketableG
  const minutes = totals.minutesWithoutHarvest + totals.minutesOfHarvest
  const yields = totals.standing > 0 || totals.weightsClosed < totals.weeks ? 'so far' : null
  const labour = totals.hoursClosed < totals.weeks ? 'at least' : null
  const costs = totals.unpricedCash > 0 ? 'at least' : null
  return [
    figure('marketablePerBed', totals.marketableG, totals.bedAreaCm2, yields),
    figure('allPerBed', all, totals.bedAreaCm2, yields),
    figure('marketablePerGross', totals.marketableG, totals.grossAreaCm2, yields),
    figure('allPerGross', all, totals.grossAreaCm2, yields),
    figure('hoursPerBed', totals.minutesWithoutHarvest, totals.bedAreaCm2, labour),
    figure('hoursPerKg', minutes, totals.marketableG, labour ? 'weeks open' : yields),
    figure('costPerKg', totals.cashMinor, totals.marketableG, yields ?? costs),
    figure('costPerBed', totals.cashMinor, totals.bedAreaCm2, costs),
    figure('lostArea', totals.lostAreaPermille, totals.plantedAreaCm2, yields),
  ]
}

function figure(key: FigureKey, numerator: number, denominator: number, limit: Figure['limit']): Figure {
  const value = denominator === 0 ? null : (numerator / denominator) * figureUnits[key].factor
  return { key, numerator, denominator, value, limit }
}
