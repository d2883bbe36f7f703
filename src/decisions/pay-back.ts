import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'
import { capitalRecovery } from '../statistics/capital-recovery.ts'
import { straightLine } from '../statistics/straight-line.ts'

/** Person-minutes on an area over seasons: the quotient is minutes per m2 and season. */
export interface Worked {
  readonly minutes: number
  /** cm2 summed over the seasons. */
  readonly areaCm2: number
}

export interface Establishing {
  /** What establishing took more than the other method took meanwhile, on its ground once; under nothing where less. */
  readonly establishing: Worked
  readonly ownYearly: Worked
  readonly otherYearly: Worked
}

export interface PayBack {
  readonly establishingPerM2: number
  readonly savedPerM2: number
  readonly seasons: number
}

/**
 * In how many seasons the hours of establishing a method are earned back: minutes per m2 of establishing / (yearly minutes
 * per m2 of the other method - its own). Hours are not discounted. Refused where it saves nothing: then it never is; and
 * where establishing took no more than the other method did meanwhile: then there is nothing to earn back.
 * Example: 30 min/m2 of establishing, 50 against 62 min/m2 a season: 30 / 12 = 2.5 seasons.
 */
export function payBack({ establishing, ownYearly, otherYearly }: Establishing): Answer<PayBack> | Refusal {
  if (![establishing, ownYearly, otherYearly].every((one) => one.areaCm2 > 0)) return refused('zero total', 'no ground')
  if (!(establishing.minutes > 0)) return refused('zero total', 'nothing to earn back')
  const savedPerM2 = perM2(otherYearly) - perM2(ownYearly)
  if (!(savedPerM2 > 0)) return refused('out of range', `${savedPerM2} min/m2 saved`)
  const establishingPerM2 = perM2(establishing)
  return answer({ establishingPerM2, savedPerM2, seasons: establishingPerM2 / savedPerM2 })
}

const perM2 = ({ minutes, areaCm2 }: Worked) => (10_000 * minutes) / areaCm2

export interface BoughtThing {
  readonly priceMinor: number
  readonly salvageMinor: number
  readonly years: number
  /** A real yearly rate, 0.05 for five per cent: nominal less inflation. */
  readonly rate: number
  readonly minutesSavedPerYear: number
}

export interface ThingCost {
  readonly straightMinor: number
  readonly recoveryMinor: number
  /** What an hour that it saves costs, by capital recovery; null where it saves none. */
  readonly minorPerHourSaved: number | null
}

/**
 * The yearly cost of a tool or machine: in equal parts, and by capital recovery with interest, after Iowa State University
 * Extension, Ag Decision Maker A3-29. Fuel, repairs and housing are not in it.
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
