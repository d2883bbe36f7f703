import { daysBetween, type IsoDate } from '../quantities/dates.ts'
import { degreeDaysByAverage, degreeDaysBySine } from './degree-days.ts'

/** Tenths of a degree and of a millimetre; null where the station has no figure. */
export interface WeatherDay {
  readonly day: IsoDate
  readonly minimumTenthsC: number | null
  readonly maximumTenthsC: number | null
  readonly rainTenthsMm: number | null
}

export interface WeatherSums {
  readonly days: number
  readonly rainTenthsMm: number
  readonly rainDays: number
  /** Of how many days the rain is known. */
  readonly rainKnown: number
  readonly byAverage: number
  readonly bySine: number
  /** Of how many days both extremes are known. */
  readonly warmthKnown: number
}

/**
 * Rain and degree days from one day to another, both counted. A day without a figure adds nothing and is not counted as
 * known. `weather` holds each day of a station once, oldest first: only those asked for are looked at, however long the
 * span.
 */
export function weatherBetween(weather: readonly WeatherDay[], from: IsoDate, to: IsoDate, base: number): WeatherSums {
  const sums = { rainTenthsMm: 0, rainDays: 0, rainKnown: 0, byAverage: 0, bySine: 0, warmthKnown: 0 }
  for (let i = firstFrom(weather, from); i < weather.length; i++) {
    const one = weather[i]
    if (!one || one.day > to) break
    if (one.rainTenthsMm !== null) {
      sums.rainKnown += 1
      sums.rainTenthsMm += one.rainTenthsMm
      if (one.rainTenthsMm > 0) sums.rainDays += 1
    }
    if (one.minimumTenthsC !== null && one.maximumTenthsC !== null) {
      const extremes = { minimum: one.minimumTenthsC / 10, maximum: one.maximumTenthsC / 10 }
      sums.warmthKnown += 1
      sums.byAverage += degreeDaysByAverage(extremes, base)
      sums.bySine += degreeDaysBySine(extremes, base)
    }
  }
  return { days: Math.max(0, daysBetween(from, to) + 1), ...sums }
}

/** The place of the first day that is not before `from`, by halving. */
function firstFrom(weather: readonly WeatherDay[], from: string): number {
  let [low, high] = [0, weather.length]
  while (low < high) {
    const middle = Math.floor((low + high) / 2)
    // The middle of two places of the list is a place of the list.
    if ((weather[middle]?.day ?? '') < from) low = middle + 1
    else high = middle
  }
  return low
}
