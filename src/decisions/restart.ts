import { type Answer, answer, type Refusal, refused } from '../statistics/answer.ts'

/** One bed with a perennial weed, and two ways with it. Times in person-minutes, weights in grams, areas in cm2. */
export interface RestartScenario {
  readonly areaCm2: number
  /** Hoeing that the weed takes in one season, over what the bed would take without it. */
  readonly hoeMinutesPerSeason: number
  /** How many seasons hoeing would go on. */
  readonly hoeSeasons: number
  /** Laying, mending and lifting the cover, all in all. */
  readonly coverMinutes: number
  readonly coveredSeasons: number
  /** Marketable weight that the bed gives in a season, and how much an hour of work brings. */
  readonly yieldGPerM2: number
  readonly gramsPerHour: number
}

export interface RestartHours {
  readonly hoeMinutes: number
  readonly coverMinutes: number
  readonly forgoneG: number
  /** The time in which the forgone harvest could be grown elsewhere. */
  readonly forgoneMinutes: number
  readonly coveringMinutes: number
  /** Covering takes less only where hoeing would go on for more seasons than this. */
  readonly breakEvenSeasons: number
}

/**
 * Cover and start again, or keep hoeing, in hours: covering is worth it where
 * hoe x T > cover + yield x area x covered seasons / (kg an hour brings).
 * A scenario and no forecast: what the weed does afterwards is not in it. Refused where hoeing takes no time or an hour
 * brings nothing.
 * Example: 10 m2, 5 h of hoeing a season, 4 h of covering, one season without 2 kg/m2 at 4 kg/h: 4 + 20/4 = 9 h, break-even
 * after 1.8 seasons.
 */
export function restart(scenario: RestartScenario): Answer<RestartHours> | Refusal {
  const { areaCm2, hoeMinutesPerSeason, hoeSeasons, coverMinutes, coveredSeasons, yieldGPerM2, gramsPerHour } = scenario
  if (!(hoeMinutesPerSeason > 0)) return refused('zero total', 'no hoeing')
  if (!(gramsPerHour > 0) || !(areaCm2 > 0)) return refused('out of range', `${gramsPerHour} g/h, ${areaCm2} cm2`)
  const forgoneG = (areaCm2 / 10_000) * coveredSeasons * yieldGPerM2
  const forgoneMinutes = (60 * forgoneG) / gramsPerHour
  const coveringMinutes = coverMinutes + forgoneMinutes
  return answer({
    hoeMinutes: hoeMinutesPerSeason * hoeSeasons,
    coverMinutes,
    forgoneG,
    forgoneMinutes,
    coveringMinutes,
    breakEvenSeasons: coveringMinutes / hoeMinutesPerSeason,
  })
}

export interface Worth {
  readonly wageMinorPerHour: number
  readonly priceMinorPerKg: number
  readonly materialsMinor: number
}

/** The same in money: hours x wage + materials + forgone yield x price. */
export function restartCost(scenario: RestartScenario, { wageMinorPerHour, priceMinorPerKg, materialsMinor }: Worth) {
  const forgoneG = (scenario.areaCm2 / 10_000) * scenario.coveredSeasons * scenario.yieldGPerM2
  const hoeMinor = (scenario.hoeMinutesPerSeason * scenario.hoeSeasons * wageMinorPerHour) / 60
  const coverMinor =
    (scenario.coverMinutes * wageMinorPerHour) / 60 + materialsMinor + (forgoneG * priceMinorPerKg) / 1000
  return { hoeMinor, coverMinor }
}

export interface Spans {
  readonly middle: RestartScenario
  readonly coveredSeasons: { readonly low: number; readonly high: number }
  readonly hoeSeasons: { readonly low: number; readonly high: number }
  /** Every other figure may be this many times larger or smaller: 1.5 is half as much again, or two thirds. */
  readonly factor: number
}

/** The two ends at which every unsure figure leans the same way: kindest to covering, kindest to hoeing. */
export function endsOf({ middle, coveredSeasons, hoeSeasons, factor }: Spans) {
  const leaning = (by: number, covered: number, hoeing: number): RestartScenario => ({
    ...middle,
    hoeMinutesPerSeason: middle.hoeMinutesPerSeason * by,
    coverMinutes: middle.coverMinutes / by,
    yieldGPerM2: middle.yieldGPerM2 / by,
    gramsPerHour: middle.gramsPerHour * by,
    coveredSeasons: covered,
    hoeSeasons: hoeing,
  })
  return {
    forCovering: leaning(factor, coveredSeasons.low, hoeSeasons.high),
    forHoeing: leaning(1 / factor, coveredSeasons.high, hoeSeasons.low),
  }
}

export type Verdict = 'covering' | 'hoeing' | 'undecided'

/** Covering or hoeing only where it takes less at both ends; otherwise these figures do not decide it. */
export function verdictOf(forCovering: RestartHours, forHoeing: RestartHours): Verdict {
  if (forHoeing.hoeMinutes > forHoeing.coveringMinutes) return 'covering'
  return forCovering.hoeMinutes < forCovering.coveringMinutes ? 'hoeing' : 'undecided'
}
