import { numberIn } from '../lookups/unsaid.ts'
import type { IsoDate } from '../quantities/dates.ts'
import { proportion } from '../quantities/split-exactly.ts'

export interface DeliveryRow {
  readonly id: string
  readonly inputId: string
  readonly inputName: string
  readonly kind: string
  readonly unit: string
  readonly orderedOn: IsoDate | null
  /** Null while it is ordered and has not come. */
  readonly deliveredOn: IsoDate | null
  readonly quantityThousandths: number
  readonly spreadThousandths: number
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
  readonly usefulLifeSeasons: number
  readonly ownMade: boolean
  readonly rawManure: number
  readonly moisturePermille: number | null
  readonly densityKgPerM3: number | null
  readonly nitrogenMgPerKg: number | null
  readonly phosphorusMgPerKg: number | null
  readonly potassiumMgPerKg: number | null
}

/** One spreading with what it was taken from. */
export interface SpreadingRow {
  readonly id: string
  readonly seasonId: string
  readonly seasonName: string
  readonly gardenId: string | null
  readonly bedId: string | null
  readonly plantingId: string | null
  readonly appliedOn: IsoDate
  readonly quantityThousandths: number
  /** Of the same load, what was spread before. */
  readonly beforeThousandths: number
  readonly depthMm: number | null
  /** Null where each of its beds has its own. */
  readonly phase: string | null
  readonly input: {
    readonly name: string
    readonly kind: string
    readonly unit: string
    readonly rawManure: number
    readonly moisturePermille: number | null
    readonly densityKgPerM3: number | null
    readonly nitrogenMgPerKg: number | null
    readonly phosphorusMgPerKg: number | null
    readonly potassiumMgPerKg: number | null
  }
  readonly load: Priced
}

interface Priced {
  readonly quantityThousandths: number
  readonly priceMinor: number | null
  readonly deliveryPriceMinor: number
}

/** A spreading's part of the price and carriage of its load, in whole minor units; null while the load has no price. */
export const costOf = ({ load, ...part }: Part & { readonly load: Priced }): number | null =>
  load.priceMinor === null ? null : partOf(load.priceMinor + load.deliveryPriceMinor, part, load.quantityThousandths)

export interface Part {
  readonly beforeThousandths: number
  readonly quantityThousandths: number
}

/**
 * Up to and with this part, less up to it: all parts add up to the load, and no later one moves what an earlier one
 * cost.
 */
export function partOf(minor: number, { beforeThousandths, quantityThousandths }: Part, whole: number): number {
  const upTo = (thousandths: number) => proportion(minor, thousandths, whole)
  return upTo(beforeThousandths + quantityThousandths) - upTo(beforeThousandths)
}

interface Spread {
  readonly id: string
  readonly deliveryId: string
  readonly appliedOn: IsoDate
  readonly quantityThousandths: number
}

/** What was spread of each one's load before it: on an earlier day, or on the same and written down before. */
export function spreadBefore(rows: readonly Spread[]): ReadonlyMap<string, number> {
  const [before, ofLoad] = [new Map<string, number>(), new Map<string, number>()]
  const place = ({ appliedOn, id }: Spread) => `${appliedOn} ${id}`
  for (const row of [...rows].sort((a, b) => (place(a) < place(b) ? -1 : 1))) {
    const sum = numberIn(ofLoad, row.deliveryId)
    before.set(row.id, sum)
    ofLoad.set(row.deliveryId, sum + row.quantityThousandths)
  }
  return before
}

/** What is left of a load. */
export const leftOf = ({ quantityThousandths, spreadThousandths }: DeliveryRow) =>
  quantityThousandths - spreadThousandths

/** The loads that had come by a day, latest first: the carrying that is written down is most often of the last one. */
export const loadsThen = (deliveries: readonly DeliveryRow[], day: string) =>
  deliveries
    .flatMap(({ id, inputName, deliveredOn }) =>
      deliveredOn !== null && deliveredOn <= day ? [{ id, inputName, deliveredOn }] : [],
    )
    .reverse()
