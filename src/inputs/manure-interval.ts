import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'

/**
 * Days between working raw manure in and harvest: 120 where the edible part touches the soil or soil particles, 90 for
 * other food crops. 7 CFR 205.203(c)(1), the organic rule of the United States: shown as a reference. Local rules decide.
 */
export const daysWhereTouching = 120
export const daysOtherwise = 90

/** Stored with an input. Partly rotted manure has not been composted by the rule's own terms, so it waits like raw. */
export const manureStates = { no: 0, raw: 1, 'partly rotted': 2 } as const
export type ManureState = keyof typeof manureStates

export const manureStateOf = (stored: number): ManureState =>
  stored === manureStates.raw ? 'raw' : stored === manureStates['partly rotted'] ? 'partly rotted' : 'no'

/** 1: the edible part touches the soil; 0: it does not; null: not known, and then treated as touching. */
export type TouchesSoil = number | null

export interface Waiting {
  readonly appliedOn: string
  readonly touchesSoil: TouchesSoil
}

export function manureInterval({ appliedOn, touchesSoil }: Waiting) {
  const days = touchesSoil === 0 ? daysOtherwise : daysWhereTouching
  return { days, earliest: addDays(appliedOn as IsoDate, days) }
}

/** A harvest on the day itself is late enough: "not less than 120 days prior". Null where it is, or came before the manure. */
export function pickedTooSoon(waiting: Waiting, harvestedOn: string) {
  const { days, earliest } = manureInterval(waiting)
  const waited = daysBetween(waiting.appliedOn as IsoDate, harvestedOn as IsoDate)
  return waited < 0 || waited >= days ? null : { days, waited, earliest }
}

interface Grown {
  readonly id: string
  readonly bedId: string
  readonly purpose: string
  readonly clearedOn: string | null
  readonly touchesSoil: TouchesSoil
}

interface Manured {
  readonly appliedOn: string
  readonly input: string
  readonly bedIds: readonly string[]
}

export interface ManureWait {
  readonly plantingId: string
  readonly input: string
  readonly appliedOn: string
  readonly touchesSoil: TouchesSoil
  readonly days: number
  readonly earliest: IsoDate
}

/** For each planting the raw manure on its bed that still binds it longest; none where it was cleared before. */
export function manureWaits(plantings: readonly Grown[], manured: readonly Manured[]): ManureWait[] {
  return plantings.flatMap(({ id, bedId, purpose, clearedOn, touchesSoil }) => {
    if (purpose !== 'harvest') return []
    const binding = manured
      .filter((one) => one.bedIds.includes(bedId) && (clearedOn === null || one.appliedOn <= clearedOn))
      .sort((a, b) => (a.appliedOn < b.appliedOn ? 1 : -1))
    const latest = binding[0]
    if (!latest) return []
    const { appliedOn, input } = latest
    return [{ plantingId: id, input, appliedOn, touchesSoil, ...manureInterval({ appliedOn, touchesSoil }) }]
  })
}
