import { asShown, nameIfAny, numberIn } from '../lookups/unsaid.ts'
import { addDays, daysBetween, type IsoDate, readDate } from '../quantities/dates.ts'
import { formatDay, formatNumber } from '../quantities/formatting.ts'
import type { WeatherFile, WrongWeatherCell } from './read-weather.ts'
import { type WeatherDay, type WeatherSums, weatherBetween } from './weather-sums.ts'

interface WeatherRows {
  readonly weather: readonly (WeatherDay & { id: string; station: string })[]
  readonly seasons: readonly { id: string; name: string; startsOn: IsoDate; endsOn: IsoDate }[]
  readonly plantings: readonly {
    seasonId: string
    crop: string
    cultivar: string
    bedId: string
    how: string
    sownOn: IsoDate | null
    plantedOn: IsoDate | null
    clearedOn: IsoDate | null
  }[]
  readonly beds: readonly { id: string; gardenId: string; name: string }[]
  readonly gardens: readonly { id: string; name: string }[]
}

interface Asked {
  readonly station: string | null
  readonly base: number
  readonly from: IsoDate | null
  readonly to: IsoDate | null
  readonly season: string | null
}

/** Stations, the one with most days first. */
function stationsOf(weather: readonly { station: string }[]): string[] {
  const days = new Map<string, number>()
  for (const one of weather) days.set(one.station, numberIn(days, one.station) + 1)
  return [...days].sort((a, b) => b[1] - a[1]).map(([station]) => station)
}

/** What was raised elsewhere has had no weather before it was planted out. */
const inBedFrom = (one: { how: string; sownOn: IsoDate | null; plantedOn: IsoDate | null }) =>
  one.how === 'transplanted' ? (one.plantedOn ?? one.sownOn) : (one.sownOn ?? one.plantedOn)

/**
 * Rain and degree days of one station between two days, by season, and for each planting of a season while it stood.
 */
export function weatherPage(rows: WeatherRows, asked: Asked, today: IsoDate, locale: string) {
  const stations = stationsOf(rows.weather)
  const station = asShown(stations.find((one) => one === asked.station) ?? stations[0])
  const own = rows.weather.filter((one) => one.station === station)
  const season = rows.seasons.find((one) => one.id === asked.season) ?? rows.seasons.at(-1)
  const from = asked.from ?? own.at(0)?.day ?? today
  const to = asked.to ?? own.at(-1)?.day ?? today
  const sums = (start: IsoDate, end: IsoDate) => sumsShown(weatherBetween(own, start, end, asked.base), locale)
  const earlier = (day: IsoDate) => (day < today ? day : today)
  return {
    stations,
    station,
    from,
    to,
    season: asShown(season?.id),
    sofar: soFar(rows.seasons, own, { today, base: asked.base, locale }),
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
          garden: nameIfAny(rows.gardens.find((garden) => garden.id === bed?.gardenId)),
          bed: nameIfAny(bed),
          start: formatDay(start, locale),
          end: one.clearedOn ? formatDay(one.clearedOn, locale) : null,
          ...sums(start, one.clearedOn ?? today),
        }
      }),
    days: own
      .filter((one) => from <= one.day && one.day <= to)
      .slice(-mostDays)
      .toReversed()
      .map((one) => ({ id: one.id, ...dayShown(one, locale) })),
  }
}

/** A page of a long ledger. */
const mostDays = 100

interface AtDay {
  readonly today: string
  readonly base: number
  readonly locale: string
}

/**
 * The running season as far as its day, beside the earlier ones as far as the same day of theirs; of those only the
 * ones in which no day is unknown. Null before the first season, and where nothing of the running one is known.
 */
function soFar(seasons: WeatherRows['seasons'], own: readonly WeatherDay[], { today, base, locale }: AtDay) {
  const begun = seasons.filter((one) => one.startsOn <= today)
  const [running, day] = [begun.at(-1), readDate(today)]
  const start = running ? readDate(running.startsOn) : null
  if (!running || !day || !start) return null
  const last = running.endsOn < day ? (readDate(running.endsOn) ?? day) : day
  const length = daysBetween(start, last)
  const now = weatherBetween(own, start, last, base)
  if (now.rainKnown === 0 && now.warmthKnown === 0) return null
  const earlier = begun.slice(0, -1).flatMap((one) => {
    const from = readDate(one.startsOn)
    const sums = from && weatherBetween(own, from, addDays(from, length), base)
    return sums && sums.rainKnown === sums.days && sums.warmthKnown === sums.days ? [sums] : []
  })
  const number = (value: number) => formatNumber(value, locale, 0)
  const ends = (of: (sums: WeatherSums) => number) =>
    earlier.length === 0
      ? null
      : { low: number(Math.min(...earlier.map(of))), high: number(Math.max(...earlier.map(of))) }
  return {
    season: running.name,
    day: formatDay(last, locale),
    now: sumsShown(now, locale),
    earlier: earlier.length,
    rain: ends((sums) => sums.rainTenthsMm / 10),
    warmth: ends((sums) => sums.byAverage),
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
  const shown = (wrong: WrongWeatherCell) => ({ ...wrong, column: asShown(file.columns[wrong.field]) })
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
