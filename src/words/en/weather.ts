import { plural } from './plural.ts'

const counted = (days: number) => plural(days, { one: '1 day', other: `${days} days` })
interface Ends {
  readonly low: string
  readonly high: string
}
const between = ({ low, high }: Ends) => (low === high ? low : `${low} to ${high}`)
const listed = (names: readonly string[]) => names.join(', ')

export const weather = {
  title: 'Weather',
  intro:
    'Daily extremes and rain of a station near the gardens, in degrees Celsius and millimetres. One station is ' +
    'the weather of all gardens here: it explains no difference between two of them.',
  empty: 'No weather is written down yet.',
  asked: 'Another station, base or span of days',
  soFarSaid: (season: string, day: string, rain: string | null, warmth: string | null, base: string) =>
    `${season} to ${day}: ${[
      ...(rain === null ? [] : [`${rain} mm of rain`]),
      ...(warmth === null ? [] : [`${warmth} degree days over ${base} °C`]),
    ].join(' and ')}.`,
  earlierSaid: (seasons: number, rain: Ends, warmth: Ends) =>
    'By the same day ' +
    plural(seasons, { one: 'the season before had', other: `the ${seasons} seasons before had` }) +
    ` ${between(rain)} mm and ${between(warmth)} degree days.`,
  latestDays: (shown: number, all: number) =>
    `The latest ${shown} of ${counted(all)}: choose a span above, or take the file.`,
  show: 'Show',
  period: (from: string, to: string, days: number) => `From ${from} to ${to}, ${counted(days)}`,
  rainSum: (rain: string, rainDays: number) => `Rain: ${rain} mm, on ${counted(rainDays)}`,
  noRain: 'Rain is not known',
  warmthSum: (average: string, sine: string, base: string) =>
    `degree days over ${base} °C: ${average} by the average, ${sine} by the sine`,
  noWarmth: 'warmth is not known',
  missing: (days: number) => `${counted(days)} not known`,
  atLeast: (figure: string) => `at least ${figure}`,
  notKnown: 'not known',
  seasons: 'By season',
  plantings: 'By planting, from its first day in the bed to cleared',
  noPlantings: 'Nothing is planted in this season.',
  soFar: 'so far',
  methods: 'How degree days are made',
  methodsSay: [
    'By the average: the day’s mean, (maximum + minimum) / 2, less the base, and nothing where the mean is ' +
      'colder than the base (McMaster and Wilhelm, 1997).',
    'By the sine: the area over the base under a sine between the day’s extremes (Baskerville and Emin, 1969). ' +
      'It also counts the warm hours of a day whose mean is under the base, so it is never less.',
    'The base is the crop’s: 4 to 5 °C is common for cool crops, 10 °C for maize, beans and cucumbers (common ' +
      'practice). There is no upper threshold here. Sums by different methods or bases are different quantities.',
    'A planting counts from the day it was sown, or planted out where it was raised elsewhere, to the day it was ' +
      'cleared.',
    'A day without a figure adds nothing, and how many there are stands beside the sum.',
  ],
  days: 'Every day',
  json: 'Every day as JSON, in tenths',
  csv: 'Every day as CSV, in tenths',
  add: 'Bring in days from a file or from the clipboard',
  addSay:
    'A file of comma-separated values, or rows copied from a spreadsheet, with a first line that names the ' +
    'columns: day (2026-01-05), minimum, maximum, rain. You see what was read before anything is stored.',
  look: 'Look at what it holds',
  preview: 'Before anything is stored',
  found: 'Columns that were found',
  leftOut: (names: readonly string[]) => `Columns that are not read: ${listed(names)}.`,
  freshDays: (days: number, from: string | null, to: string | null) =>
    days === 0 || !from || !to ? 'It holds no day that is new.' : `New: ${counted(days)}, from ${from} to ${to}.`,
  sameDays: (days: number) => `Written down already with the same figures, and not added again: ${counted(days)}.`,
  differentDays: (days: readonly string[]) =>
    `Written down already with other figures: ${counted(days.length)}. What stands is kept; correct it by hand ` +
    `if the file is right: ${days.slice(0, 10).join('; ')}${days.length > 10 ? '; and more' : ''}.`,
  wrongLines: 'Lines that are wrong',
  wrongSay:
    'Nothing of this file can be stored while a line of it is wrong. Mend these lines in the file and bring it ' +
    'in again.',
  firstDays: 'The first of the new days',
  nothingStored: 'Nothing is stored yet.',
  store: (days: number) => `Store ${counted(days)}`,
  backOut: 'Leave it',
  added: (days: number) => (days === 0 ? 'There was nothing new to store.' : `Stored: ${counted(days)}.`),
  tooLarge: 'This file is larger than 1 MB. Send it in parts.',
  refused: {
    empty: () => 'There is nothing to read: a first line with names of columns, then a line a day.',
    'no day': (names: readonly string[]) =>
      `No column is called day or date. These were found: ${listed(names)}. Name one and try again.`,
    'no figures': (names: readonly string[]) =>
      `No column is called minimum, maximum or rain. These were found: ${listed(names)}.`,
  },
  why: {
    'no such day': 'not a day of the calendar: write it as 2026-01-05',
    'still to come': 'a day that is still to come',
    twice: 'a day that stands in the file before',
    'not a number': 'not a number',
    'out of range': 'outside what any station has measured',
    'minimum over maximum': 'the minimum is over the maximum',
    nothing: 'a day without any figure',
  },
  between: (least: number, most: number) => `Write a number from ${least} to ${most}.`,
  endFirst: 'The last day must not be before the first.',
  minimumOverMaximum: 'The minimum must not be over the maximum.',
  dayOf: (station: string, day: string) => `${station}, ${day}`,
  columns: {
    line: 'Line',
    field: 'Column',
    typed: 'What stands there',
    why: 'Why',
    day: 'Day',
    minimum: 'Minimum °C',
    maximum: 'Maximum °C',
    rain: 'Rain mm',
    season: 'Season',
    planting: 'Planting',
    where: 'Where',
    from: 'From',
    to: 'To',
    average: 'Degree days, average',
    sine: 'Degree days, sine',
  },
  names: { day: 'day', minimum: 'minimum', maximum: 'maximum', rain: 'rain' },
  fields: {
    station: 'Station',
    stationHint: 'Its name, the same each time',
    base: 'Base for degree days, °C',
    from: 'From',
    to: 'To',
    season: 'Plantings of season',
    file: 'File',
    fileHint: 'Comma-separated values, up to 1 MB',
    pasted: 'Or paste the rows here',
    minimum: 'Minimum, °C',
    maximum: 'Maximum, °C',
    rain: 'Rain, mm',
  },
}
