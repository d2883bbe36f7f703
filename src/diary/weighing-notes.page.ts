import type { IsoDate } from '../quantities/dates.ts'
import { formatDay, formatKilograms, formatNumber } from '../quantities/formatting.ts'
import { catalogue } from '../words/catalogue.ts'
import { cutNumber } from './cuts.ts'
import { shrinkage } from './state.ts'

export interface WeighedNoted {
  readonly plantingId: string | null
  readonly harvestedOn: IsoDate
  readonly marketableG: number
  readonly unmarketableG: number
  readonly state: string | null
  readonly counts: number
  readonly liftedOn: IsoDate | null
  readonly sameLotAs: string | null
  readonly seedLot: string | null
}

export interface LotWeighed {
  readonly id: string
  readonly plantingId: string | null
  readonly harvestedOn: IsoDate
  readonly state: string | null
  readonly weighedAs: string | null
  readonly grams: number
}

interface Around {
  readonly locale: string
  readonly plantings: readonly { readonly id: string; readonly weighedAs: string | null }[]
  readonly lots: readonly LotWeighed[]
  readonly cuts: readonly { readonly plantingId: string; readonly seasonId: string; readonly day: string }[]
}

export const stateSaid = ({ state, weighedAs }: Pick<LotWeighed, 'state' | 'weighedAs'>): string => {
  const named: Readonly<Record<string, string>> = catalogue.diary.states
  return named[state ?? weighedAs ?? 'fresh'] ?? catalogue.diary.asItCounts
}

/**
 * What is said beside a weight: its state where that does not count, its cut, when it was lifted, what its lot lost.
 */
export function weighingNotes(harvest: WeighedNoted, { plantings, cuts, lots, locale }: Around): string[] {
  const w = catalogue.diary
  const planting = plantings.find((one) => one.id === harvest.plantingId)
  const weighedAs = planting?.weighedAs ?? null
  const season = cuts.filter((one) => one.plantingId === harvest.plantingId)
  const cutOn = harvest.harvestedOn
  const own = season.find((one) => one.day === cutOn)?.seasonId
  const number = cutNumber(
    season.filter((one) => one.seasonId === own).map((one) => one.day),
    cutOn,
  )
  const before = lots.find((one) => one.id === harvest.sameLotAs)
  const less = before && shrinkage(before.grams, harvest.marketableG + harvest.unmarketableG)
  return [
    harvest.counts === 0 ? w.notCounted(stateSaid({ state: harvest.state, weighedAs })) : '',
    harvest.counts === 1 && number !== null ? w.cut(number) : '',
    harvest.liftedOn === null ? '' : w.liftedThen(formatDay(harvest.liftedOn, locale)),
    harvest.seedLot === null ? '' : w.lotOfSeed(harvest.seedLot),
    before
      ? w.lotBefore({
          weight: formatKilograms(before.grams, locale),
          state: stateSaid(before),
          day: formatDay(before.harvestedOn, locale),
          less: less === null || less === undefined ? null : `${formatNumber(less / 10, locale, 1)} %`,
        })
      : '',
  ].filter((note) => note !== '')
}
