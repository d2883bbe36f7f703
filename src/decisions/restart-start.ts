import type { TrialRecord } from '../comparison/record/trial-record.ts'
import { methodsOfBeds, methodTotals } from '../comparison/totals/method-totals.ts'
import { splitExactly } from '../quantities/split-exactly.ts'

/** Laying, mending and lifting a cover, in minutes a m2: from memory, without a source. */
export const coverMinutesPerM2 = 6

/** What the record knows of the labour and the harvest of a bed; null for each that is not known. */
export function restartStart(record: TrialRecord, bedId: string) {
  const bed = record.beds.find((one) => one.id === bedId)
  if (!bed) return null
  const weeded = record.seasons.findLast((season) => weedingOn(record, season.id, bedId) > 0)
  const harvested = record.seasons.findLast((season) => {
    const totals = totalsOf(record, season.id, bedId)
    return totals !== undefined && totals.marketableG > 0 && minutesOf(totals) > 0
  })
  const totals = harvested && totalsOf(record, harvested.id, bedId)
  const methodId = harvested && methodsOfBeds(record, harvested.id).get(bedId)
  return {
    areaCm2: bed.areaCm2,
    hoe: weeded ? { season: weeded.name, minutes: weedingOn(record, weeded.id, bedId) } : null,
    coverMinutes: Math.round((coverMinutesPerM2 * bed.areaCm2) / 10_000),
    harvest:
      harvested && totals
        ? {
            season: harvested.name,
            method: record.methods.find((one) => one.id === methodId)?.name ?? '',
            kgPerM2: (10 * totals.marketableG) / totals.bedAreaCm2,
            kgPerHour: (60 * totals.marketableG) / 1000 / minutesOf(totals),
          }
        : null,
  }
}

const totalsOf = (record: TrialRecord, seasonId: string, bedId: string) =>
  methodTotals(record, seasonId).get(methodsOfBeds(record, seasonId).get(bedId) ?? '')

const minutesOf = (totals: { minutesWithoutHarvest: number; minutesOfHarvest: number }) =>
  totals.minutesWithoutHarvest + totals.minutesOfHarvest

/** The bed's part of all weeding of a season: what was written for a garden is divided over its beds by area. */
function weedingOn(record: TrialRecord, seasonId: string, bedId: string): number {
  return record.labour
    .filter((entry) => entry.seasonId === seasonId && entry.task === 'weeding' && entry.bedIds.includes(bedId))
    .reduce((sum, entry) => {
      const beds = record.beds.filter((bed) => entry.bedIds.includes(bed.id))
      const parts = splitExactly(
        entry.personMinutes,
        beds.map((bed) => bed.areaCm2),
      )
      return sum + (parts?.[beds.findIndex((bed) => bed.id === bedId)] ?? 0)
    }, 0)
}
