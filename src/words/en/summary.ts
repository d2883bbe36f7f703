import { listed } from '../listed.ts'
import { plural } from './plural.ts'

/** The few sentences that say what a comparison found; figures come in as they are read. */
interface BesideSaid {
  readonly name: string
  readonly times: string
  /** "0.52 to 0.76", or null where there is no interval. */
  readonly range: string | null
}

interface EndSaid {
  readonly name: string
  readonly times: string
}

type Measure = 'weight' | 'work' | 'cost'
/** Three or more that are all there are; those that are left of a sentence that named the rest; or by their names. */
export type Which = 'all' | 'the others' | 'named'

const both = (names: readonly string[]) => listed(names, 'and')
const counts = [
  'none',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
]
const count = (n: number) => counts[n] ?? String(n)
const seasons = (n: number) => plural(n, { one: 'one season', other: `${count(n)} seasons` })
const upper = (text: string) => text.charAt(0).toUpperCase() + text.slice(1)

const of: Record<Measure, (reference: string) => string> = {
  weight: (reference) => `the weight a square metre of ${reference}`,
  work: (reference) => `the hours a square metre of ${reference}`,
  cost: (reference) => `what ${reference} spent on a kilogram`,
}
const did: Record<Measure, string> = { weight: 'gave', work: 'took', cost: 'spent' }
const by: Record<Measure, string> = { weight: 'by weight', work: 'by hours', cost: 'by inputs for a kilogram' }
const anyOf = (measures: readonly Measure[]) =>
  listed(
    measures.map((measure) => by[measure]),
    'or',
  )
const more: Record<Measure, readonly [string, string]> = {
  weight: ['gave more', 'gave less'],
  work: ['took more work', 'took less work'],
  cost: ['spent more on a kilogram', 'spent less on a kilogram'],
}
const limits = {
  'these people': 'as these people work',
  'own crops': 'each with its own crops',
  'few seasons': 'over a few seasons only',
  'one season': 'one season cannot say how sure this is',
}

export const summary = {
  nothing: 'There is nothing to compare yet',
  nothingSay: 'It takes a season, and a crop that stood under two methods and was cleared.',
  title: {
    /** All of them, or those named, on one side; without the reference where the title has named it. */
    told: (
      measure: Measure,
      way: 'more' | 'less',
      names: readonly string[],
      others: number,
      reference: string | null,
    ) =>
      `${names.length === others && others > 2 ? `All ${count(others)}` : both(names)} ` +
      `${more[measure][way === 'more' ? 0 : 1]}` +
      (reference === null ? '' : ` than ${reference}`),
    both: (measure: Measure, names: readonly string[], reference: string) =>
      `${both(names)} ${plural(names.length, { one: 'differs', other: 'differ' })} from ${reference} ` +
      `${by[measure]}, some up and ` +
      'some down',
    untold: (measure: Measure, others: number, open: boolean) =>
      open
        ? `${by[measure]} ${plural(others, { one: 'the two', other: 'they' })} cannot be told apart while weeks ` +
          'are open'
        : plural(others, {
            one: `${by[measure]} the two could not be told apart`,
            other: `${by[measure]} none of the ${count(others)} could be told apart`,
          }),
    carried: (crop: string) => `carried by ${crop}`,
    failed: (measure: Measure) => `${by[measure]} a season off which nothing came leaves no interval`,
    described: (measures: readonly Measure[]) => `one season cannot tell the gardens apart ${anyOf(measures)}`,
    refused: (measures: readonly Measure[]) => `the gardens cannot be compared ${anyOf(measures)} yet`,
    alike: (measure: Measure) => `${by[measure]} alike within what was fixed as mattering`,
  },
  upper,
  few: (measure: Measure, own: readonly BesideSaid[], reference: string) =>
    both(
      own.map((one, i) => {
        const range = one.range === null ? '' : ` (${one.range})`
        return `${one.name} ${i === 0 ? `${did[measure]} ` : ''}about ${one.times} times${range}`
      }),
    ) + ` ${of[measure](reference)}`,
  /** All there are where no names are given; the ends by their own. */
  many: (
    measure: Measure,
    names: readonly string[] | null,
    [low, high]: readonly [EndSaid, EndSaid],
    { reference, count: n }: { reference: string; count: number },
  ) =>
    `${names === null ? `all ${count(n)}` : both(names)} ${did[measure]} between ${low.times} (${low.name}) and ` +
    `${high.times} times (${high.name}) ${of[measure](reference)}`,
  untold: (
    measure: Measure,
    names: readonly string[],
    [low, high]: readonly [string, string],
    { reference, which, first }: { reference: string; which: Which; first: boolean },
  ) =>
    which === 'the others' || !first
      ? (which === 'named'
          ? both(names)
          : `the other${plural(names.length, { one: '', other: ` ${count(names.length)}` })}`) +
        ' ' +
        `could not be told apart: anything from ${low} to ${high} times`
      : (which === 'all' ? `none of the ${count(names.length)} could` : `${both(names)} could not`) +
        ` be told apart from ${reference} ${by[measure]}: anything from ${low} to ${high} times fits`,
  open: (measure: Measure, names: readonly string[], reference: string) =>
    `${both(names)} ${plural(names.length, { one: 'is', other: 'are' })} not told apart from ${reference} ` +
    `${by[measure]} while ` +
    'weeks are open, since those could turn it',
  /** Without the reference where the sentence has named it. */
  unsayable: (measure: Measure, names: readonly string[], seasonsSeen: number, reference: string | null) =>
    reference === null
      ? `too few seasons for ${both(names)}`
      : `${seasons(seasonsSeen)} cannot tell ${both(names)} from ${reference} ${by[measure]}`,
  carried: (name: string | null, crops: readonly string[]) =>
    crops.length > 3
      ? `${name === null ? '' : `of ${name} `}it could not be told without any one of ${crops.length} crops`
      : `${name === null ? '' : `of ${name} `}it is carried by ${both(crops)}, without which it could not be told`,
  failed: (measure: Measure, name: string, times: string, seasonsSeen: number, reference: string) =>
    `nothing came off ${name} or ${reference} in a season: over ${seasons(seasonsSeen)} ${name} ${did[measure]} ` +
    `about ${times} times ${of[measure](reference)}, and no interval can be given`,
  alike: (measure: Measure, names: readonly string[], low: string, high: string, reference: string) =>
    `${both(names)} and ${reference} are alike ${by[measure]} within what was fixed beforehand as mattering ` +
    `(${low} to ${high} times)`,
  refused: (measures: readonly Measure[], names: readonly string[]) =>
    names.length === 0 ? '' : `${both(names)} cannot be compared ${anyOf(measures)}`,
  limits,
  sureTitle: 'How sure',
  aboutGardens: 'How sure about these gardens',
  aboutMethods: 'and about methods',
  sureGardens: (levels: readonly string[], because: string | null, work: number, cost: number): string[] => [
    ...(levels.length > 0 ? [`weight: ${levels.join(' to ')}${because === null ? '' : ` (${because})`}`] : []),
    ...(work > 0 ? [`work: ${seasons(work)} nearly whole`] : []),
    ...(cost > 0 ? [`inputs: ${seasons(cost)}, all priced`] : []),
  ],
  sureOneSeason: 'one season has no interval',
  sureMethods: (levels: readonly string[]) => `${levels.join(' to ')}, by how the ground was shared out`,
  oneGarden: 'cannot be told: one garden a method, so ground and method come together',
  notCarried: 'cannot be told: the layout does not carry it',
  levels: { 'very low': 'very low', low: 'low', moderate: 'moderate', high: 'high' },
  rests: (
    n: number,
    crops: { count: number; fewer: boolean; singly: boolean },
    plantings: string,
    closed: string,
    weeks: string,
  ) =>
    `${upper(seasons(n))}, ` +
    (crops.singly
      ? 'matched crops in single seasons alone'
      : crops.count === 0
        ? 'no matched crop'
        : plural(crops.count, {
            one: '1 matched crop',
            other: `${crops.fewer ? 'up to ' : ''}${crops.count} matched crops`,
          })) +
    `, ${plantings} plantings, ${closed} of ${weeks} garden weeks closed.`,
  price: (own: readonly { name: string; price: string; low: string; high: string }[]) =>
    'An hour saved cost ' +
    both(own.map((one, i) => `${one.price}${i === 0 ? ' in inputs' : ''} in ${one.name} (${one.low}–${one.high})`)),
  priceLess: (names: readonly string[]) => `${both(names)} saved hours and spent less as well`,
  priceSay: 'harvests not counted',
  settleTitle: 'What would settle it',
  settle: (n: number | 'over sixty' | 'not by seasons' | null, gardens: number) => {
    const ofMethods = `between the methods, ${count(gardens)} gardens of each, drawn by lot.`
    if (n === 'not by seasons') return upper(ofMethods)
    const between =
      n === null
        ? 'Between these gardens a second season is the first step'
        : 'Between these gardens ' +
          (n === 'over sixty' ? 'more than sixty' : `about ${count(n)}`) +
          ' such seasons in all, to tell a quarter by weight'
    return `${between}; ${ofMethods}`
  },
}
