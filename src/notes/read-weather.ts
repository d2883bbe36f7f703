import { firstOf, nth } from '../lookups/nth.ts'
import { sent } from '../lookups/unsaid.ts'
import { type IsoDate, readDate } from '../quantities/dates.ts'
import { readSigned } from '../quantities/decimals.ts'
import { readSeparated, type SeparatedLine } from '../quantities/separated.ts'
import type { WeatherDay } from './weather-sums.ts'

const weatherFields = ['day', 'minimum', 'maximum', 'rain'] as const
type WeatherField = (typeof weatherFields)[number]

/** What columns are called, without case, spaces and units. */
const columnNames: Record<WeatherField, readonly string[]> = {
  day: ['day', 'date'],
  minimum: ['minimum', 'min', 'tmin', 'mintemp', 'mintemperature', 'minimumtemperature', 'tempmin', 'temperaturemin'],
  maximum: ['maximum', 'max', 'tmax', 'maxtemp', 'maxtemperature', 'maximumtemperature', 'tempmax', 'temperaturemax'],
  rain: ['rain', 'rainfall', 'precipitation', 'precip', 'prcp', 'rainmm', 'precipitationmm', 'rainfallmm'],
}

type WrongWhy =
  | 'no such day'
  | 'still to come'
  | 'twice'
  | 'not a number'
  | 'out of range'
  | 'minimum over maximum'
  | 'nothing'

export interface WrongWeatherCell {
  readonly line: number
  readonly field: WeatherField
  readonly typed: string
  readonly why: WrongWhy
}

export interface WeatherFile {
  /** The heading under which each field was found; missing where none was. */
  readonly columns: Partial<Record<WeatherField, string>>
  /** Headings that are not read; of a file that is refused, all of them. */
  readonly leftOut: readonly string[]
  readonly days: readonly WeatherDay[]
  readonly wrong: readonly WrongWeatherCell[]
  /** Of a file that cannot be read at all. */
  readonly refused: 'empty' | 'no day' | 'no figures' | null
}

/** The coldest, the hottest and the wettest day that any station has measured lie within these (tenths). */
const limits = { minimum: [-950, 650], maximum: [-950, 650], rain: [0, 20_000] } as const

/**
 * Reads daily weather as a station's file or a copied table gives it: columns by their names in the first line,
 * whatever their order; degrees Celsius and millimetres. Each wrong cell is said with its line and its reason: while
 * there is one, nothing of the file may be stored.
 */
export function readWeather(text: string, today: IsoDate, locale?: string): WeatherFile {
  const [head, ...lines] = readSeparated(text).lines
  const nothing = { columns: {}, leftOut: [], days: [], wrong: [] }
  if (!head || lines.length === 0) return { ...nothing, refused: 'empty' }
  const at = columnsOf(head)
  const columns = Object.fromEntries([...at].map(([field, i]) => [field, nth(head.cells, i)]))
  const leftOut = head.cells.filter((cell, i) => cell !== '' && ![...at.values()].includes(i))
  const named = head.cells.filter((cell) => cell !== '')
  if (!at.has('day')) return { ...nothing, leftOut: named, refused: 'no day' }
  if (at.size === 1) return { ...nothing, leftOut: named, refused: 'no figures' }
  const seen = new Set<string>()
  const read = lines.map((line) => readLine(line, at, { seen, today, locale }))
  return {
    columns,
    leftOut,
    days: read.flatMap((one) => ('day' in one ? [one] : [])),
    wrong: read.flatMap((one) => ('day' in one ? [] : one.wrong)),
    refused: null,
  }
}

function columnsOf({ cells }: SeparatedLine): Map<WeatherField, number> {
  const plain = (heading: string) => firstOf(heading.toLowerCase().split(/[([]/, 1)).replace(/[^a-z]/g, '')
  const found = weatherFields.map((field): [WeatherField, number] => [
    field,
    cells.findIndex((cell) => columnNames[field].includes(plain(cell))),
  ])
  return new Map(found.filter(([, i]) => i >= 0))
}

interface Within {
  readonly seen: Set<string>
  readonly today: IsoDate
  readonly locale: string | undefined
}

function readLine({ line, cells }: SeparatedLine, at: ReadonlyMap<WeatherField, number>, within: Within) {
  const { seen, today, locale } = within
  const wrong: WrongWeatherCell[] = []
  const typed = (field: WeatherField) => sent(cells[at.get(field) ?? -1])
  const say = (field: WeatherField, why: WrongWhy) => wrong.push({ line, field, typed: typed(field), why })
  const day = readDate(typed('day'))
  if (!day) say('day', 'no such day')
  else if (day > today) say('day', 'still to come')
  else if (seen.has(day)) say('day', 'twice')
  const tenths = (field: 'minimum' | 'maximum' | 'rain') => {
    if (typed(field) === '') return null
    const found = readSigned(typed(field), locale)
    if (found.kind === 'refused') {
      say(field, 'not a number')
      return null
    }
    const value = Math.round(10 * found.value)
    const [least, most] = limits[field]
    if (value < least || value > most) say(field, 'out of range')
    return value
  }
  const figures = {
    minimumTenthsC: tenths('minimum'),
    maximumTenthsC: tenths('maximum'),
    rainTenthsMm: tenths('rain'),
  }
  const { minimumTenthsC, maximumTenthsC } = figures
  if (minimumTenthsC !== null && maximumTenthsC !== null && minimumTenthsC > maximumTenthsC) {
    say('minimum', 'minimum over maximum')
  }
  if (wrong.length === 0 && Object.values(figures).every((figure) => figure === null)) say('day', 'nothing')
  if (!day || wrong.length > 0) return { wrong }
  seen.add(day)
  return { day, ...figures }
}

interface Sorted {
  readonly fresh: readonly WeatherDay[]
  /** How many stand in the record already, with the same figures. */
  readonly same: number
  /** Days that stand with other figures: those stay, and are corrected on their own page. */
  readonly different: readonly string[]
}

/** What of a file is new to a station's record: the same file twice adds nothing. */
export function sortIn(days: readonly WeatherDay[], standing: ReadonlyMap<string, WeatherDay>): Sorted {
  const there = days.filter((one) => standing.has(one.day))
  const different = there.filter((one) => !alike(one, standing.get(one.day)))
  return {
    fresh: days.filter((one) => !standing.has(one.day)),
    same: there.length - different.length,
    different: different.map((one) => one.day),
  }
}

const alike = (one: WeatherDay, other: WeatherDay | undefined) =>
  one.minimumTenthsC === other?.minimumTenthsC &&
  one.maximumTenthsC === other.maximumTenthsC &&
  one.rainTenthsMm === other.rainTenthsMm
