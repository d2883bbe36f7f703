import { addDays, daysBetween, type IsoDate } from '../quantities/dates.ts'
import { degreeDaysByAverage, degreeDaysBySine } from './degree-days.ts'

/** Tenths of a degree and of a millimetre; null where the station has no figure. */
export interface WeatherDay {
  readonly day: string
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

/** Rain and degree days from one day to another, both counted. A day without a figure adds nothing and is not counted as known. */
export function weatherBetween(
  weather: ReadonlyMap<string, WeatherDay>,
  from: string,
  to: string,
  base: number,
): WeatherSums {
  const sums = { rainTenthsMm: 0, rainDays: 0, rainKnown: 0, byAverage: 0, bySine: 0, warmthKnown: 0 }
  const days = Math.max(0, daysBetween(from as IsoDate, to as IsoDate) + 1)
  for (let i = 0; i < days; i++) {
    const one = weather.get(addDays(from as IsoDate, i))
    if (one?.rainTenthsMm != null) {
      sums.rainKnown += 1
      sums.rainTenthsMm += one.rainTenthsMm
      if (one.rainTenthsMm > 0) sums.rainDays += 1
    }
    if (one?.minimumTenthsC != null && one.maximumTenthsC != null) {
      const extremes = { minimum: one.minimumTenthsC / 10, maximum: one.maximumTenthsC / 10 }
      sums.warmthKnown += 1
      sums.byAverage += degreeDaysByAverage(extremes, base)
      sums.bySine += degreeDaysBySine(extremes, base)
    }
  }
  return { days, ...sums }
}
