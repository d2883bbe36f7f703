import type { TrialRecord } from '../record/trial-record.ts'
import { type FigureKey, figureKeys, figureOf, type Measure, type MethodTotals, units } from '../totals/figures.ts'
import { methodTotals, sumOfSeasons } from '../totals/method-totals.ts'
import { oneGardenAMethod } from './laid-out.ts'
import { atCommonMix, matchedOver } from './matched-crops.ts'

/** A figure of the table: kept as two whole numbers until the page rounds once. */
export interface Figure extends Measure {
  readonly key: FigureKey
}

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
    return own
      ? [
          {
            methodId: method.id,
            method: method.name,
            seasons,
            totals: own,
            figures: figureKeys.map((key) => ({ key, ...figureOf(own, key) })),
          },
        ]
      : []
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
        // Nothing picked is nothing, with the area in.
        return { methodId, kgPerM2: units['kg/m2'].quotient(own?.marketableG ?? 0, own?.plantedAreaCm2 ?? 1) }
      }),
    })),
    commonMix: methodIds.flatMap((methodId) => {
      const kgPerM2 = atCommonMix(matched, methodId)
      return kgPerM2 === undefined ? [] : [{ methodId, kgPerM2 }]
    }),
  }
}
