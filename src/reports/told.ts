import type { IsoDate } from '../quantities/dates.ts'

/** What a newcomer asks first: where the gardens lie, how large, on what ground, and how many work there; no names. */
export interface GardenTold {
  readonly garden: string
  readonly site: string
  readonly methods: readonly string[]
  readonly grossAreaCm2: number
  readonly bedAreaCm2: number
  readonly beds: number
  readonly groundBefore: string | null
  readonly exposure: string | null
  readonly soil: string | null
  /** Different people who wrote down hours here, and the most who worked at one time. */
  readonly writers: number
  readonly mostAtOnce: number
}

export interface MethodTold {
  readonly method: string
  readonly workingRules: string
  readonly seasons: number
}

/**
 * A planting that was picked sooner after raw manure than the interval of 7 CFR 205.203(c)(1), at its soonest picking.
 */
export interface TooSoonTold {
  readonly planting: string
  readonly garden: string
  readonly input: string
  readonly pickedOn: IsoDate
  readonly waited: number
  readonly days: number
  readonly notKnown: boolean
}

export interface Told {
  /** Entries of these seasons written or changed after they had closed; not in reports of before this was told. */
  readonly changedAfterClosing?: number
  /** Not in reports of before this was told. */
  readonly tooSoon?: readonly TooSoonTold[]
  readonly gardens: readonly GardenTold[]
  readonly methods: readonly MethodTold[]
}
