import { formatDay, formatNumber } from '../quantities/formatting.ts'
import type { WeatherFile, WrongCell } from './read-weather.ts'
import { type WeatherDay, type WeatherSums, weatherBetween } from './weather-sums.ts'

interface WeatherRows {
  readonly weather: readonly (WeatherDay & { id: string; station: string })[]
  readonly seasons: readonly { id: string; name: string; startsOn: string; endsOn: string }[]
  readonly plantings: readonly {
    seasonId: string
    crop: string
    cultivar: string
    bedId: string
    how: string
    sownOn: string | null
    plantedOn: string | null
    clearedOn: string | null
  }[]
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
  readonly gardens: readonly { id: string; name: string }[]
}

interface Asked {
  readonly station: string | null
  readonly base: number
  readonly from: string | null
  readonly to: string | null
  readonly season: string | null
}

/** Stations, the one with most days first. */
function stationsOf(weather: readonly { station: string }[]): string[] {
  const days = new Map<string, number>()
  for (const one of weather) days.set(one.station, (days.get(one.station) ?? 0) + 1)
  return [...days].sort((a, b) => b[1] - a[1]).map(([station]) => station)
}

/** What was raised elsewhere has had no weather before it was planted out. */
const inBedFrom = (one: { how: string; sownOn: string | null; plantedOn: string | null }) =>
  one.how === 'transplanted' ? (one.plantedOn ?? one.sownOn) : (one.sownOn ?? one.plantedOn)

/**
 * Rain and degree days of one station between two days, by season, and for each planting of a season while it stood.
 */
export function weatherPage(rows: WeatherRows, asked: Asked, today: string, locale: string) {
  const stations = stationsOf(rows.weather)
  const station = stations.find((one) => one === asked.station) ?? stations[0] ?? ''
  const own = rows.weather.filter((one) => one.station === station)
  const season = rows.seasons.find((one) => one.id === asked.season) ?? rows.seasons.at(-1)
  const from = asked.from ?? own.at(0)?.day ?? today
  const to = asked.to ?? own.at(-1)?.day ?? today
  const sums = (start: string, end: string) => sumsShown(weatherBetween(own, start, end, asked.base), locale)
  const earlier = (day: string) => (day < today ? day : today)
  return {
    stations,
    station,
    from,
    to,
    season: season?.id ?? '',
    between: { from: formatDay(from, locale), to: formatDay(to, locale), ...sums(from, to) },
    seasons: rows.seasons
      .filter((one) => one.startsOn <= today)
      .map((one) => ({ name: one.name, ...sums(one.startsOn, earlier(one.endsOn)) })),
    plantings: rows.plantings
      .filter((one) => one.seasonId === season?.id)
      .map((one) => {
        const bed = rows.beds.find((each) => each.id === one.bedId)
        const start = inBedFrom(one) ?? today
        return {
          name: `${one.crop}, ${one.cultivar}`,
          garden: rows.gardens.find((garden) => garden.id === bed?.gardenId)?.name ?? '',
          bed: bed?.name ?? '',
          start: formatDay(start, locale),
          end: one.clearedOn ? formatDay(one.clearedOn, locale) : null,
          ...sums(start, one.clearedOn ?? today),
        }
      }),
    days: own
      .filter((one) => from <= one.day && one.day <= to)
      .toReversed()
      .map((one) => ({ id: one.id, ...dayShown(one, locale) })),
  }
}

function sumsShown(sums: WeatherSums, locale: string) {
  const number = (value: number, decimals: number) => formatNumber(value, locale, decimals)
  return {
    days: sums.days,
    rain: sums.rainKnown === 0 ? null : number(sums.rainTenthsMm / 10, 1),
    rainDays: sums.rainDays,
    rainMissing: sums.days - sums.rainKnown,
    average: sums.warmthKnown === 0 ? null : number(sums.byAverage, 0),
    sine: sums.warmthKnown === 0 ? null : number(sums.bySine, 0),
    warmthMissing: sums.days - sums.warmthKnown,
  }
}

const tenthsShown = (tenths: number | null, locale: string) =>
  tenths === null ? null : formatNumber(tenths / 10, locale, 1)

const dayShown = (one: WeatherDay, locale: string) => ({
  day: formatDay(one.day, locale),
  minimum: tenthsShown(one.minimumTenthsC, locale),
  maximum: tenthsShown(one.maximumTenthsC, locale),
  rain: tenthsShown(one.rainTenthsMm, locale),
})

const previewed = 10

/** What a file holds, before anything of it is stored; which it can be only as a whole. */
export function previewPage(
  file: WeatherFile,
  sorted: { fresh: readonly WeatherDay[]; same: number; different: readonly string[] },
  locale: string,
) {
  const shown = (wrong: WrongCell) => ({ ...wrong, column: file.columns[wrong.field] ?? '' })
  const [first, last] = [sorted.fresh.at(0)?.day, sorted.fresh.at(-1)?.day]
  return {
    columns: file.columns,
    leftOut: file.leftOut,
    fresh: sorted.fresh.length,
    from: first ? formatDay(first, locale) : null,
    to: last ? formatDay(last, locale) : null,
    same: sorted.same,
    different: sorted.different.map((day) => formatDay(day, locale)),
    wrong: file.wrong.map(shown),
    mayStore: file.wrong.length === 0 && sorted.fresh.length > 0,
    days: sorted.fresh.slice(0, previewed).map((day) => dayShown(day, locale)),
  }
}
