import { type Answer, answer, type Refusal } from '../statistics/answer.ts'
import { capitalRecovery } from '../statistics/capital-recovery.ts'
import { straightLine } from '../statistics/straight-line.ts'

export interface BoughtThing {
  readonly priceMinor: number
  readonly salvageMinor: number
  readonly years: number
  /** A real yearly rate, 0.05 for five per cent: nominal less inflation. */
  readonly rate: number
  readonly minutesSavedPerYear: number
}

interface ThingCost {
  readonly straightMinor: number
  readonly recoveryMinor: number
  /** What an hour that it saves costs, by capital recovery; null where it saves none. */
  readonly minorPerHourSaved: number | null
}

/**
 * The yearly cost of a tool or machine: in equal parts, and by capital recovery with interest, after Iowa State
 * University Extension, Ag Decision Maker A3-29. Fuel, repairs and housing are not in it.
 */
export function thingCost(thing: BoughtThing): Answer<ThingCost> | Refusal {
  const { priceMinor: price, salvageMinor: salvage, years, rate, minutesSavedPerYear } = thing
  const straight = straightLine({ price, salvage, years })
  const recovery = capitalRecovery({ price, salvage, years, rate })
  if (straight.kind === 'refused') return straight
  if (recovery.kind === 'refused') return recovery
  return answer({
    straightMinor: straight.yearlyCost,
    recoveryMinor: recovery.yearlyCost,
    minorPerHourSaved: minutesSavedPerYear > 0 ? (60 * recovery.yearlyCost) / minutesSavedPerYear : null,
  })
}
