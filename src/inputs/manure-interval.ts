import { asShown } from '../lookups/unsaid.ts'
import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'

/**
 * Days between working raw manure in and harvest: 120 where the edible part touches the soil or soil particles, 90 for
 * other food crops. 7 CFR 205.203(c)(1), the organic rule of the United States: shown as a reference. Local rules
 * decide.
 */
export const daysWhereTouching = 120
export const daysOtherwise = 90

/** Stored with an input. Partly rotted manure has not been composted by the rule's own terms, so it waits like raw. */
export const manureStates = { no: 0, raw: 1, 'partly rotted': 2 } as const
export type ManureState = keyof typeof manureStates

export const manureStateOf = (stored: number): ManureState =>
  stored === manureStates.raw ? 'raw' : stored === manureStates['partly rotted'] ? 'partly rotted' : 'no'

/** 1: the edible part touches the soil; 0: it does not; null: not known, and then treated as touching. */
type TouchesSoil = number | null

interface Waiting {
  readonly appliedOn: IsoDate
  readonly touchesSoil: TouchesSoil
}

export function manureInterval({ appliedOn, touchesSoil }: Waiting) {
  const days = touchesSoil === 0 ? daysOtherwise : daysWhereTouching
  return { days, earliest: addDays(appliedOn, days) }
}

/**
 * A harvest on the last day itself is late enough: "not less than 120 days prior". Null where it waited, or was picked
 * before the manure went on.
 */
export function pickedTooSoon(waiting: Waiting, harvestedOn: IsoDate) {
  const { days, earliest } = manureInterval(waiting)
  const waited = daysBetween(waiting.appliedOn, harvestedOn)
  return waited < 0 || waited >= days ? null : { days, waited, earliest }
}

interface Grown {
  readonly id: string
  readonly bedId: string
  readonly purpose: string
  readonly sownOn: IsoDate | null
  readonly plantedOn: IsoDate | null
  readonly clearedOn: IsoDate | null
  readonly touchesSoil: TouchesSoil
}

/** Raw or partly rotted manure on its beds. */
export interface Manured {
  readonly appliedOn: IsoDate
  readonly input: string
  readonly bedIds: readonly string[]
}

export interface ManureWait {
  readonly plantingId: string
  readonly input: string
  readonly appliedOn: IsoDate
  readonly touchesSoil: TouchesSoil
  readonly days: number
  readonly earliest: IsoDate
}

/**
 * For each planting that is grown to be picked, the raw manure on its bed that binds it longest. None where the wait
 * was over before it came into the ground, or where it was cleared before the manure went on.
 */
export function manureWaits(plantings: readonly Grown[], manured: readonly Manured[]): ManureWait[] {
  return plantings
    .filter((planting) => planting.purpose === 'harvest')
    .flatMap((planting) => {
      const { id, bedId, clearedOn, touchesSoil } = planting
      const from = asShown([planting.sownOn, planting.plantedOn].flatMap((day) => day ?? []).sort()[0])
      const binding = manured
        .filter((one) => one.bedIds.includes(bedId) && (clearedOn === null || one.appliedOn <= clearedOn))
        .map(({ appliedOn, input }) => ({
          plantingId: id,
          input,
          appliedOn,
          touchesSoil,
          ...manureInterval({ appliedOn, touchesSoil }),
        }))
        .filter((wait) => wait.earliest > from)
        .sort((a, b) => (a.appliedOn < b.appliedOn ? 1 : -1))
      return binding.slice(0, 1)
    })
}

interface Picked {
  readonly plantingId: string
  readonly harvestedOn: IsoDate
}

export interface PickedTooSoon extends Picked {
  readonly input: string
  readonly appliedOn: IsoDate
  readonly touchesSoil: TouchesSoil
  readonly days: number
  readonly waited: number
  readonly earliest: IsoDate
}

/**
 * Every picking that came sooner after raw manure on its bed than the interval, by day; the latest manure before it
 * counts.
 */
export function harvestsTooSoon(
  plantings: readonly Pick<Grown, 'id' | 'bedId' | 'touchesSoil'>[],
  manured: readonly Manured[],
  harvests: readonly Picked[],
): PickedTooSoon[] {
  const grown = new Map(plantings.map((planting) => [planting.id, planting]))
  return harvests.flatMap(({ plantingId, harvestedOn }) => {
    const planting = grown.get(plantingId)
    if (!planting) return []
    const { bedId, touchesSoil } = planting
    const soonest = manured
      .filter((one) => one.bedIds.includes(bedId))
      .flatMap(({ appliedOn, input }) => {
        const soon = pickedTooSoon({ appliedOn, touchesSoil }, harvestedOn)
        return soon ? [{ plantingId, harvestedOn, input, appliedOn, touchesSoil, ...soon }] : []
      })
      .sort((a, b) => a.waited - b.waited)
    return soonest.slice(0, 1)
  })
}
