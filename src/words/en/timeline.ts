import { ground } from './ground.ts'
import { plural } from './plural.ts'

/** What a sentence may tell of an event; which of them are there goes by what it is. */
type Told = Readonly<Record<string, string | number | boolean | null>> & {
  readonly bed: string
  readonly subject: string
}

const inBed = (bed: string) => (bed === '' ? 'in the whole garden' : `in ${bed}`)

/** A garden's year, as dated sentences. */
export const timeline = {
  ground,
  sentences: {
    sown: ({ subject, bed, amount, planned }: Told) =>
      `${planned ? 'To be sown for' : 'Sown in'} ${bed}: ${subject}, ${amount}.`,
    planted: ({ subject, bed, amount, planned }: Told) =>
      `${planned ? 'To be planted in' : 'Planted in'} ${bed}: ${subject}, ${amount}.`,
    sownAfter: ({ subject, bed, days, after, planned }: Told) =>
      `${subject} ${planned ? 'is to come' : 'came'} into ${bed}` +
      (days === 0 ? ' on the day that' : `, ${days} ${plural(Number(days), { one: 'day', other: 'days' })} after`) +
      ` ${after} was spread there.`,
    cleared: ({ subject, bed }: Told) => `Cleared from ${bed}: ${subject}.`,
    picked: ({ subject, bed, week, good, bad }: Told) =>
      `Picked in ${bed} in week ${week}: ${subject}, ${good} marketable${bad === null ? '' : `, ${bad} not`}.`,
    lost: ({ subject, bed, amount, causeName }: Told) =>
      `Lost in ${bed}: ${amount} of what stood of ${subject} (${causeName}).`,
    spread: ({ subject, bed, amount }: Told) =>
      `Spread ${bed === '' ? 'over the garden' : `on ${bed}`}: ${amount} of ${subject}.`,
    covered: ({ subject, bed, material, planned }: Told) =>
      `${bed} ${planned ? 'is to be covered' : 'covered'}${material === null ? '' : ` with ${material}`}: ${subject}.`,
    uncovered: ({ bed, planned }: Told) => `${bed} ${planned ? 'is to be uncovered' : 'uncovered'}.`,
    noted: ({ subject, bed, kindName, severityName }: Told) =>
      `Seen ${inBed(bed)} (${kindName}${severityName ? `, ${severityName}` : ''}): ${subject}`,
    counted: ({ subject, bed, value, outOf, unit, method, planting }: Told) =>
      `Counted ${inBed(bed)}` +
      (planting === null ? '' : `, of ${planting}`) +
      `: ${subject}, ${value}${outOf === null ? '' : ` of ${outOf}`} ${unit} (${method}).`,
    patch: ({ subject, bed, amount, cover, shoots }: Told) => {
      const told = [
        amount,
        cover !== null && `${cover} % of the ground covered`,
        shoots !== null && `${shoots} shoots per m²`,
      ]
      return `${amount === null ? 'Weed' : 'Patch of'} ${subject} ${inBed(bed)}: ${told.filter(Boolean).join(', ')}.`
    },
    tested: ({ subject, bed, value, unit, extractant, depth, laboratory, wholeSite }: Told) =>
      `Soil sampled ${wholeSite ? 'over the whole site' : inBed(bed)}: ${subject} ` +
      `${value}${unit === subject ? '' : ` ${unit}`}` +
      (extractant === null ? '' : ` by ${extractant}`) +
      `${depth === null ? '' : `, 0 to ${depth} cm`} (${laboratory}).`,
  },
  kinds: {
    growing: 'sown, planted, cleared',
    timing: 'days from spreading to sowing',
    picked: 'picked',
    lost: 'lost',
    spread: 'spread',
    covered: 'covered',
    noted: 'field notes',
    counted: 'counts and patches of weeds',
    tested: 'soil tests',
  },
  filter: {
    title: 'Choose what is shown',
    kind: 'What is shown',
    allKinds: 'everything',
    season: 'Season',
    allSeasons: 'every day that is written down',
    show: 'Show',
  },
  shown: (shown: string, inAll: string) => `${shown} of ${inAll} entries are shown.`,
  months: 'Month',
  allMonths: 'all months',
  noneShown: 'Nothing of this kind is written down for these days.',
  weeksSummed: 'What was picked is summed over a week, at the last day on which it was weighed.',
  timingSay:
    'How many days lie between spreading and the next sowing on that ground explains a poor stand as often as ' +
    'the method does: fresh compost or manure can hold seed back (common practice, no source).',
  asJson: 'The same as JSON',
  daysAfter: (days: number) =>
    days === 0
      ? 'the same day'
      : `${days} ${plural(Number(days), { one: 'day', other: 'days' })} after what stands above`,
  cover: 'Cover a bed, to rest it or to start again',
  coverSay: 'Its area stays in every figure per square metre: ground that is covered yields nothing.',
  bed: 'Bed',
  from: 'Covered from',
  to: 'Uncovered on, if it was',
  why: 'Why',
  material: 'With what',
  save: 'Save',
  closures: 'Beds that were covered',
  closuresSay:
    'Hours are those written for that bed, or for what stood in it, from the day it was covered to the day it ' +
    'was uncovered; hours written for the whole garden belong to no bed. What could not be grown is the bed’s ' +
    'area times the weeks.',
  closuresLimit:
    'The worst bed is the one that is started again, and a worst bed is partly bad luck: it would have come out ' +
    'better anyway. Weeds also come back from the edge.',
  covered: 'Covered',
  fromTo: (from: string, to: string | null, weeks: string) =>
    to === null ? `since ${from}, ${weeks} weeks so far` : `${from} to ${to}, ${weeks} weeks`,
  hours: 'Hours for this bed meanwhile',
  noHours: 'none written for this bed',
  idle: 'Not grown, m² × weeks',
  regrown: 'Shoots per m² that came again',
  shootsAfter: (weeks: number) => `Shoots per m², ${weeks} weeks after uncovering`,
  afterWeeks: (weeks: number, shoots: string) => `${weeks} weeks: ${shoots}`,
  notCounted: 'not counted',
  dueOn: (day: string) => `due on ${day}`,
  regrowthWords: 'What came again, in words',
  closureOf: (bed: string, day: string) => `${bed}, covered from ${day}`,
  regrowthLater: 'counted 4, 8 and 12 weeks after it is uncovered',
  countNow: 'Write down what came again',
  countedTooSoon: (weeks: number, day: string) =>
    `${weeks} weeks after uncovering is ${day}: this count is still to come.`,
  standsThere: (names: readonly string[]) =>
    `In this bed stand then: ${names.join('; ')}. Say when they were cleared, or cover them all the same.`,
  surely: 'Yes, cover it with what stands there',
  stillCovered: 'Say when it was uncovered: shoots are counted after that.',
  closureSaved: 'Saved. The bed’s area stays in the figures.',
}
