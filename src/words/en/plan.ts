import { listed } from '../listed.ts'
import { plural } from './plural.ts'

interface Standing {
  readonly name: string
  readonly area: string
  readonly from: string
  readonly to: string | null
  readonly planned: boolean
}

const days = (count: number) => plural(count, { one: '1 day', other: `${count} days` })
const years = (count: number) => plural(count, { one: '1 year', other: `${count} years` })
const and = (names: readonly string[]) => listed(names, 'and')

export const plan = {
  link: 'The plan of this season, bed by bed',
  title: (season: string) => `Plan of ${season}`,
  say: 'Every bed in the order in which it is walked, what stands in it and when, and the days on which it lies empty.',
  noBeds: 'There is no bed yet.',
  bed: 'Bed',
  stands: 'What stands in it',
  toSeason: 'Back to the season',
  standing: ({ from, to, planned, name, area }: Standing) =>
    to === null
      ? `From ${from}, no end known: ${name}, ${area}`
      : `${from} to ${to}${planned ? ' (planned)' : ''}: ${name}, ${area}`,
  empty: (one: { from: string; to: string; days: number }) =>
    plural(one.days, {
      one: `${one.from}: empty (1 day)`,
      other: `${one.from} to ${one.to}: empty (${days(one.days)})`,
    }),
  raised: (from: string) => `raised elsewhere from ${from}`,
  interplanted: 'interplanted: takes no room of its own',
  ofSeason: (season: string) => `counts toward ${season}`,
  after: (names: readonly string[], empty: number) =>
    `follows ${and(names)}, ${empty === 0 ? 'on the day it goes' : `after ${days(empty)} of empty ground`}`,
  beside: (names: readonly string[]) => `beside ${and(names)}`,
  untouched: (area: string) => `all of ${area} is free`,
  free: (free: string, area: string) => `${area}; ${free} stays free on its fullest day`,
  full: (area: string) => `${area}, full on its fullest day`,
  rotation: 'Families that come back too soon',
  yearsField: 'A bed rests from a family for how many years',
  yearsHint: 'Three is common practice and without a source; your own rule may be longer.',
  ask: 'Look again',
  returns: (one: { family: string; earlier: string; season: string; years: number }) =>
    one.years === 0
      ? `${one.family} again in this bed: ${one.earlier} stood here in this season.`
      : `${one.family} again in this bed: ${one.earlier} stood here in ${one.season}, ${years(one.years)} before.`,
  returning: (count: number, rest: number) =>
    plural(count, {
      one:
        `1 planting brings its family back to a bed sooner than ${years(rest)} after it stood there; it says so ` +
        'beside it. Nothing is refused for it.',
      other:
        `${count} plantings bring their family back to a bed sooner than ${years(rest)} after it stood there; each ` +
        'says so beside it. Nothing is refused for it.',
    }),
  noneReturns: (rest: number) =>
    `No family comes back to a bed sooner than ${years(rest)} after it stood there, as far as it is written down.`,
  withoutFamily: (crops: readonly string[]) => `Not looked at, since no family is written down for it: ${and(crops)}.`,
  succession: 'Sow one cultivar again and again',
  successionSay:
    'The same cultivar in one bed of each garden, every so many days. Each sowing is a matched set of its own. ' +
    'All of them are planned, or none.',
  successionFields: {
    area: 'Area of each sowing in each garden',
    firstOn: 'Day of the first',
    firstOnHint: 'The day on which it comes into the bed: sown there, or planted out.',
    everyDays: 'Days from one to the next',
    times: 'How many times',
    standsDays: 'Days that each is meant to stand, if that is planned',
    standsDaysHint: 'Until then it takes its room in the bed; without, until it is cleared.',
  },
  sowingName: (cultivar: string, sowing: number, of: number) => `${cultivar}, ${sowing} of ${of}`,
  sown: 'All of them are in the plan.',
  lastAfterEnd: (day: string) =>
    `The last would be on ${day}, after the end of the season. Plan fewer, or closer together.`,
  bedTooFull: (times: number) =>
    `A bed would not hold all ${times} of them: without a day of clearing, or a day until which it is meant to ` +
    'stand, each counts as standing on. None is planned.',
  carry: {
    link: 'Carry plantings over from the season before',
    title: (season: string) => `Carried over into ${season}`,
    say: (before: string) =>
      `What stood in ${before}, on the same day of the year and of the week: the same cultivar, area, purpose ` +
      'and spacing. Each goes to the next bed of its garden under the same method that has room, unless you ' +
      'choose another; what stands on stays where it is. Nothing is stored before you confirm it.',
    first: 'First day of sowing, if it is another',
    firstHint: 'All others keep their distance from it. Blank: the days of the year are kept.',
    garden: (name: string, lines: number, ticked: number) =>
      `${name}: ${lines} ${plural(lines, { one: 'planting', other: 'plantings' })}, ${ticked} ticked`,
    noneBefore: 'There is no season before this one.',
    noneStood: (before: string) => `Nothing is written down for ${before}.`,
    already: (count: number) =>
      plural(count, {
        one: '1 planting stands in this season already; it stays.',
        other: `${count} plantings stand in this season already; they stay.`,
      }),
    without: (count: number) =>
      plural(count, {
        one: '1 planting stood in a bed that is there no more; it is left out.',
        other: `${count} plantings stood in beds that are there no more; they are left out.`,
      }),
    line: (one: { area: string; stoodFrom: string; stoodIn: string; there: string | null; staysOn: boolean }) =>
      `${one.area}; stood in ${one.stoodIn} from ${one.stoodFrom}` +
      (one.there === null ? '' : `; stands in ${one.there} of this season already`) +
      (one.staysOn ? '; stands on through this season' : ''),
    bedFor: (one: { name: string; stoodIn: string; garden: string }) =>
      `Bed for ${one.name} of ${one.stoodIn}, ${one.garden}`,
    dayFor: (one: { name: string; stoodIn: string; garden: string }) =>
      `Day of ${one.name} of ${one.stoodIn}, ${one.garden}`,
    look: 'Look at it first',
    preview: 'Not stored yet',
    previewSay: (count: number) =>
      plural(count, { one: '1 planting would be added.', other: `${count} plantings would be added.` }),
    columns: { day: 'Day', planting: 'Planting', area: 'Area', garden: 'Garden', bed: 'Bed' },
    noRoom: (one: { name: string; garden: string; bed: string }) =>
      `${one.name}: ${one.garden}, ${one.bed} has no room for it on that day. Choose another bed or day below; ` +
      'the rest can be stored without it. What has no day of clearing, and none until which it is meant to ' +
      'stand, counts as standing on.',
    keep: (count: number) => plural(count, { one: 'Store this planting', other: `Store these ${count} plantings` }),
    nothing: 'Tick at least one planting.',
    unreadable: 'This is not a list that this page made.',
    tooMuch: 'One bed would be too full. Nothing is stored.',
    saved: 'Carried over.',
    toPlan: 'Back to the plan',
  },
  picked: (one: { on: string; days: number; sown: boolean }) =>
    `first weighed on ${one.on}, ${days(one.days)} after ${one.sown ? 'sowing' : 'planting out'}`,
  cameUp: (one: { standing: string; sown: string; percent: string; on: string }) =>
    `${one.standing} of ${one.sown} came up (${one.percent} %), counted on ${one.on}`,
  twins: 'Cultivars that are not in every garden',
  twinsSay: 'Only what stands in several gardens can be compared like with like.',
  twinsMissing: (one: { name: string; there: readonly string[]; missing: readonly string[] }) =>
    `${one.name}: in ${and(one.there)}; not in ${and(one.missing)}.`,
  twinsNone: 'Every cultivar for harvest stands in every garden of this season.',
  notEverywhere: (missing: readonly string[]) =>
    `It is not in ${and(missing)}: plant it there too, or nothing there can be compared with it.`,
  fewerTimes: (gardens: readonly string[]) =>
    `In ${and(gardens)} it was sown or planted fewer times: do it there too, or this one has no twin.`,
  twinsStand: 'Gone in one garden, standing in another',
  twinsStandSay:
    'A matched set is compared best when it is cleared in every garden for the same reason. Is it time for these ' +
    'too, or were they spared?',
  stillStanding: (one: {
    name: string
    how: 'cleared' | 'lost'
    on: string
    place: string
    standing: readonly string[]
  }) => `${one.name}: ${one.how} in ${one.place} on ${one.on}; still stands in ${and(one.standing)}.`,
  rotationLimit:
    'Counted from season to season by bed and family; what stood before the first season here, or in a bed ' +
    'before it was split, is not known.',
}
