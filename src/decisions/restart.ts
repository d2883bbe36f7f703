/**
 * Covering a bed with a perennial weed and starting again, or hoeing on, over the same seasons; each way is what it
 * takes more than a clean bed of the same method. Times in person-minutes, weights in grams, money in minor units.
 */
export interface RestartCase {
  /** How many seasons ahead are looked at. */
  readonly seasons: number
  /** Seasons in which the bed lies covered. */
  readonly covered: number
  /** Laying, mending and lifting the cover, edge strip or barrier with it. */
  readonly coverMinutes: number
  /** Weeding that the weed takes in the first season, beyond what a clean bed takes. */
  readonly hoeMinutes: number
  /** Share by which that falls from one season to the next, 0..1. */
  readonly falls: number
  /** Share of the harvest that the weed takes while it stands, 0..1; it falls with the weeding. */
  readonly lostToWeed: number
  /** Chance that it comes back from the edge: then hoeing begins again in the second season after the cover. */
  readonly comesBack: number
  /** What a clean bed of this size gives and takes in a season, harvest included. */
  readonly ownG: number
  readonly ownMinutes: number
  /** A first season with transplants only: work it takes more, and the share of the harvest it loses. */
  readonly transplantMinutes: number
  readonly transplantLost: number
}

/** What the harvest and the hours are worth. */
export type Worth =
  | {
      readonly kind: 'hours' /** The group's own minutes for a kg; null where not known. */
      readonly minutesPerKg: number | null
    }
  | {
      readonly kind: 'money'
      readonly wageMinorPerHour: number
      readonly priceMinorPerKg: number
      readonly materialsMinor: number
    }

export interface WeedBurden {
  /** Work that it takes: hoeing, or covering and what follows it. */
  readonly minutes: number
  /** Harvest that it loses. */
  readonly lostG: number
  /** Work that the covered bed does not take; credited at most to the worth of the harvest lost with it. */
  readonly sparedMinutes: number
  /** Of the lost harvest, what was lost while the bed lay covered. */
  readonly coveredG: number
}

/**
 * Seasons of hoeing in the measure of the first one: 1 + (1 - falls) + (1 - falls)^2 ..., a part of a season as its
 * part. Example: 2.5 seasons that halve each time are 1 + 0.5 + 0.5 x 0.25 = 1.625.
 */
export function seasonsOfHoeing(seasons: number, falls: number): number {
  let [sum, weight, left] = [0, 1, Math.max(0, seasons)]
  while (left > 0) {
    sum += weight * Math.min(1, left)
    weight *= 1 - falls
    left -= 1
  }
  return sum
}

export function hoeing(given: RestartCase): WeedBurden {
  const times = seasonsOfHoeing(given.seasons, given.falls)
  return {
    minutes: given.hoeMinutes * times,
    lostG: given.ownG * given.lostToWeed * times,
    sparedMinutes: 0,
    coveredG: 0,
  }
}

export function covering(given: RestartCase): WeedBurden {
  const covered = Math.min(given.covered, given.seasons)
  const after = given.seasons - covered
  const transplants = Math.min(1, after)
  const back = given.comesBack * seasonsOfHoeing(after - 1, given.falls)
  const coveredG = given.ownG * covered
  return {
    minutes: given.coverMinutes + given.transplantMinutes * transplants + given.hoeMinutes * back,
    lostG: coveredG + given.ownG * (given.transplantLost * transplants + given.lostToWeed * back),
    sparedMinutes: given.ownMinutes * covered,
    coveredG,
  }
}

/**
 * A burden in minutes or in minor units. Work that a covered bed spares is credited at most to the worth of the harvest
 * that went with it: leaving any bed unplanted spares its work, so a bed without the weed never gains by a cover. In
 * hours a lost harvest is charged the time in which the group grows it elsewhere; where that is not known neither is
 * counted.
 */
export function burdenWeighed(burden: WeedBurden, worth: Worth): number {
  if (worth.kind === 'hours') {
    // Without own hours a kilogram nothing is charged for what is not grown.
    const perG = (worth.minutesPerKg ?? 0) / 1000
    return burden.minutes + burden.lostG * perG - Math.min(burden.sparedMinutes, burden.coveredG * perG)
  }
  const [perMinute, perG] = [worth.wageMinorPerHour / 60, worth.priceMinorPerKg / 1000]
  const spared = Math.min(burden.sparedMinutes * perMinute, burden.coveredG * perG)
  return burden.minutes * perMinute + burden.lostG * perG - spared
}

/** What covering takes less than hoeing on, in minutes or minor units; under nothing where it takes more. */
export const gainOfCovering = (given: RestartCase, worth: Worth): number =>
  burdenWeighed(hoeing(given), worth) -
  burdenWeighed(covering(given), worth) -
  (worth.kind === 'money' ? worth.materialsMinor : 0)

/**
 * The hoeing of a season, in minutes, above which covering takes less; 0 where it does at any, null where it never can.
 * The gain is a straight line in it, so two points give its zero.
 */
export function breakEvenHoeing(given: RestartCase, worth: Worth): number | null {
  const at = (hoeMinutes: number) => gainOfCovering({ ...given, hoeMinutes }, worth)
  const [none, slope] = [at(0), at(1) - at(0)]
  if (none >= 0) return 0
  // Below this the seasons that hoeing is saved in are none but for rounding.
  return slope > 1e-6 ? -none / slope : null
}

/** The number of seasons to look ahead from which covering takes less, to a hundredth; null where not within `most`. */
export function breakEvenSeasons(given: RestartCase, worth: Worth, most = 20): number | null {
  const at = (seasons: number) => gainOfCovering({ ...given, seasons }, worth)
  const step = 0.25
  for (let to = step; to <= most; to += step) {
    if (at(to) < 0) continue
    let [low, high] = [to - step, to]
    while (high - low > 0.005) {
      const middle = (low + high) / 2
      if (at(middle) >= 0) high = middle
      else low = middle
    }
    return high
  }
  return null
}
