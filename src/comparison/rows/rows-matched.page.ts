import { nameIfAny } from '../../lookups/unsaid.ts'
import { formatArea, formatKilograms, formatNumber } from '../../quantities/formatting.ts'
import type { CountingRules } from '../matched/matched-season.ts'
import type { TrialRecord } from '../record/trial-record.ts'
import { mixBehind, pairBehind, steadyBehind, unitsBehind } from './rows-matched.ts'
import type { RowsScope } from './rows-scope.ts'
import { gardenAndBed, gardenName, seasonName } from './rows-tables.ts'

const figure = (value: number, locale: string) => formatNumber(value, locale, 2)
const percent = (share: number, locale: string) => `${formatNumber(100 * share, locale, 1)} %`

/** Crop by crop, how a method's figure on the common mix comes about; null where nothing is matched. */
export function mixShown(record: TrialRecord, seasonIds: readonly string[], methodId: string, locale: string) {
  const found = mixBehind(record, seasonIds, methodId)
  return (
    found && {
      rows: found.parts.map((one) => ({
        crop: one.name,
        area: formatArea(one.plantedAreaCm2, locale),
        good: formatKilograms(one.marketableG, locale),
        kgPerM2: figure((10 * one.marketableG) / one.plantedAreaCm2, locale),
        share: percent(one.share, locale),
        part: formatNumber(one.part, locale, 4),
      })),
      sum: figure(found.kgPerM2, locale),
    }
  )
}

interface Asked {
  readonly scope: RowsScope
  readonly seasonIds: readonly string[]
  readonly matchedRules: CountingRules
  readonly locale: string
}

/** What stands behind the ratio to another method, season by season; null where no crop is matched under both. */
export function pairShown(besideId: string, { scope, seasonIds, matchedRules, locale }: Asked) {
  const { record } = scope
  const name = (id: string) => nameIfAny(record.methods.find((one) => one.id === id))
  const found = pairBehind(record, seasonIds, { methodA: besideId, methodB: scope.id }, matchedRules)
  return {
    other: name(besideId),
    otherId: besideId,
    seasons: (found?.seasons ?? []).map((one) => ({
      season: seasonName(record, one.seasonId),
      seasonId: one.seasonId,
      rows: one.crops.map((crop) => ({
        crop: crop.crop,
        share: percent(crop.share, locale),
        own: figure(crop.rateB, locale),
        other: figure(crop.rateA, locale),
      })),
      own: figure(one.rateB, locale),
      other: figure(one.rateA, locale),
      ratio: one.rateA > 0 ? figure(one.rateB / one.rateA, locale) : null,
    })),
    mean: found?.mean ? figure(found.mean.ratio, locale) : null,
  }
}

/** The places of a method in a layout with replicates, and the figure that they make together. */
export function unitsShown(record: TrialRecord, seasonIds: readonly string[], methodId: string, locale: string) {
  const found = unitsBehind(record, seasonIds, methodId)
  return (
    found && {
      seasons: found.units[0]?.rates.map((one) => seasonName(record, one.seasonId)) ?? [],
      rows: found.units.map((one) => ({
        place: one.bedId === null ? gardenName(record, one.gardenId) : gardenAndBed(record, one.bedId).join(', '),
        gardenId: one.gardenId,
        rates: one.rates.map(({ rate }) => figure(rate, locale)),
        value: one.value === null ? null : figure(Math.exp(one.value), locale),
      })),
      grown: found.grown,
      sum: found.kgPerM2 === null ? null : figure(found.kgPerM2, locale),
    }
  )
}

/** Season by season on the crops matched in all of them. */
export function steadyShown(record: TrialRecord, seasonIds: readonly string[], methodId: string, locale: string) {
  const found = steadyBehind(record, seasonIds, methodId)
  return (
    found && {
      rows: found.seasons.map((one) => ({
        season: seasonName(record, one.seasonId),
        seasonId: one.seasonId,
        kgPerM2: figure(one.rate, locale),
      })),
      mean: figure(found.mean, locale),
    }
  )
}
