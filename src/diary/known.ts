import type { AreaFrom } from '../gardens/areas-held.ts'
import type { IsoDate } from '../quantities/dates.ts'
import type { IsoWeek } from '../quantities/iso-week.ts'
import type { Lot } from './state.ts'

/**
 * What the record holds that rows of the diary are held against: read once a request, and looked up through its keys.
 */
export interface Known {
  readonly today: IsoDate
  readonly gardens: ReadonlySet<string>
  /** What the gardens are called, in the order in which they are walked. */
  readonly names: ReadonlyMap<string, string>
  /** The garden of each bed. */
  readonly gardenOfBed: ReadonlyMap<string, string>
  /** The areas of each bed with the days from which they hold. */
  readonly areasOfBed: ReadonlyMap<string, readonly AreaFrom[]>
  /** The beds by their garden, with their area in square centimetres. */
  readonly ground: readonly { readonly id: string; readonly gardenId: string; readonly areaCm2: number }[]
  readonly seasons: readonly KnownSeason[]
  readonly assignments: readonly KnownAssignment[]
  readonly plantings: ReadonlyMap<string, KnownPlanting>
  /** The empty weight of each container. */
  readonly containers: ReadonlyMap<string, number>
  /** Loads that hours can be spent on. */
  readonly loads: ReadonlySet<string>
  /** By `closedKey`. */
  readonly closed: ReadonlySet<string>
  /** Earlier weighings of which this one may be the same lot, by their ids; read where a form names one. */
  readonly lots?: ReadonlyMap<string, Lot>
  /** Labels by `labelKey`, sealed or opened. */
  readonly labels: ReadonlyMap<string, { readonly plantingId: string; readonly sealed: boolean }>
  /** The sealed label of a planting in a week, by `sealedKey`. */
  readonly sealed: ReadonlyMap<string, string>
  /** The ids of the weighings that stand already, by `weighedKey`. */
  readonly weighed: Pick<ReadonlyMap<string, readonly string[]>, 'get'>
  /** Plantings that were weighed in the weeks that were read, but for those under a sealed label. */
  readonly picked: ReadonlySet<string>
  /** The first day on which all of a planting was lost. */
  readonly gone: ReadonlyMap<string, string>
}

interface KnownSeason {
  readonly id: string
  readonly startsOn: IsoDate
  readonly endsOn: IsoDate
  readonly closed: boolean
}

interface KnownAssignment {
  readonly seasonId: string
  readonly gardenId: string
  readonly bedId: string | null
  readonly methodId: string
  readonly phase: string
}

export interface KnownPlanting {
  readonly id: string
  readonly seasonId: string
  readonly bedId: string
  readonly crop: string
  readonly areaCm2: number
  readonly plants: number | null
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
  readonly askAboveGPerM2: number | null
  /** The state that counts for yield; null where it is fresh from the bed. */
  readonly weighedAs: string | null
  readonly matchedSetId: string | null
  readonly standsOverSeasons: number
  /** 1: it counts toward the season in which it is picked. */
  readonly countsWhenPicked: number
}

export type What = 'hours' | 'weights'

export const closedKey = (what: What, gardenId: string, isoWeek: IsoWeek) => `${what} ${gardenId} ${isoWeek}`
export const labelKey = (label: string, isoWeek: IsoWeek) => `${label} ${isoWeek}`
export const sealedKey = (plantingId: string, isoWeek: IsoWeek) => `${plantingId} ${isoWeek}`

interface Weight {
  readonly harvestedOn: IsoDate
  readonly marketableG: number
  readonly unmarketableG: number
}

export const weighedKey = (plantingId: string, { harvestedOn, marketableG, unmarketableG }: Weight) =>
  `${plantingId} ${harvestedOn} ${marketableG} ${unmarketableG}`

export const weekIsClosed = (known: Known, what: What, gardenIds: readonly string[], isoWeek: IsoWeek): boolean =>
  gardenIds.some((gardenId) => known.closed.has(closedKey(what, gardenId, isoWeek)))

/** The garden of a planting; a planting lies in a bed and a bed in a garden, or the record could not hold it. */
export function gardenOf(known: Known, planting: { readonly bedId: string }): string {
  const gardenId = known.gardenOfBed.get(planting.bedId)
  if (gardenId === undefined) throw new Error(`The bed ${planting.bedId} lies in no garden that is known.`)
  return gardenId
}
