import { proportion } from '../quantities/split-exactly.ts'

export interface DeliveryRow {
  readonly id: string
  readonly inputId: string
  readonly inputName: string
  readonly kind: string
  readonly unit: string
  readonly orderedOn: string | null
  /** Null while it is ordered and has not come. */
  readonly deliveredOn: string | null
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
  readonly appliedOn: string
  readonly quantityThousandths: number
  readonly depthMm: number | null
  readonly phase: string
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
export const costOf = ({ load, quantityThousandths }: { load: Priced; quantityThousandths: number }): number | null =>
  load.priceMinor === null
    ? null
    : proportion(load.priceMinor + load.deliveryPriceMinor, quantityThousandths, load.quantityThousandths)

/** The loads that had come by a day, latest first: the carrying that is written down is most often of the last one. */
export const loadsThen = (deliveries: readonly DeliveryRow[], day: string) =>
  deliveries
    .flatMap(({ id, inputName, deliveredOn }) =>
      deliveredOn !== null && deliveredOn <= day ? [{ id, inputName, deliveredOn }] : [],
    )
    .reverse()
