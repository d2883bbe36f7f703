import { formatNumber } from '../../quantities/formatting.ts'

/** Sentences made of figures, each with its limit inside: what was seen, where, how sure; never that one is better. */
interface OfPair {
  readonly methodA: string
  readonly methodB: string
  readonly gardensA: readonly string[]
  readonly gardensB: readonly string[]
}

interface Range {
  readonly low: number
  readonly high: number
}

const times = (ratio: number, locale: string) => formatNumber(ratio, locale, 2)
const side = (method: string, gardens: readonly string[]) => `${gardens.join(' and ')} (${method})`
const seasonsOf = (seasons: number) => (seasons === 1 ? '1 season' : `${seasons} seasons`)
const cropsOf = (crops: number) => (crops === 1 ? '1 matched crop' : `${crops} matched crops`)
const plots = 'This compares these gardens; it cannot tell the method from the plot.'

export const findings = {
  title: 'What was seen',
  none: 'There is nothing to say yet: no crop has stood under two methods and been cleared.',
  reference: (method: string) => `Each method beside ${method}, on matched crops, weighed alike in every season.`,
  seen: (f: OfPair & Range & { ratio: number; seasons: number; crops: number; next: Range }, locale: string) =>
    `Over ${seasonsOf(f.seasons)} ${side(f.methodB, f.gardensB)} gave ${times(f.ratio, locale)} times the weight per planted m² of ${side(f.methodA, f.gardensA)}, on ${cropsOf(f.crops)}; 95 % interval ${times(f.low, locale)} to ${times(f.high, locale)}. A season more would be expected between ${times(f.next.low, locale)} and ${times(f.next.high, locale)}. ${plots}`,
  'not seen': (
    f: OfPair & Range & { ratio: number; seasons: number; crops: number; smallestSeen: number | null },
    locale: string,
  ) =>
    `Over ${seasonsOf(f.seasons)} no difference could be told between ${side(f.methodB, f.gardensB)} and ${side(f.methodA, f.gardensA)} on ${cropsOf(f.crops)}: the ratio was ${times(f.ratio, locale)}, and anything from ${times(f.low, locale)} to ${times(f.high, locale)} goes with these figures.${f.smallestSeen === null ? '' : ` A true ratio between ${times(1 / f.smallestSeen, locale)} and ${times(f.smallestSeen, locale)} would often have stayed unseen.`} This is not to say that they are alike. ${plots}`,
  'one season': (f: OfPair & { ratio: number; crops: number; leavingOut: Range | null }, locale: string) =>
    `In this one season ${side(f.methodB, f.gardensB)} gave ${times(f.ratio, locale)} times the weight per planted m² of ${side(f.methodA, f.gardensA)}, on ${cropsOf(f.crops)}${f.leavingOut ? `; leaving out one crop at a time, ${times(f.leavingOut.low, locale)} to ${times(f.leavingOut.high, locale)}` : ''}. One season has no interval: how sure this is cannot be told. ${plots}`,
  'nothing matched': (f: OfPair) =>
    `${side(f.methodB, f.gardensB)} and ${side(f.methodA, f.gardensA)} have no matched crop that was cleared under both: nothing can be compared like with like.`,
  'labour seen': (f: OfPair & Range & { ratio: number; seasons: number }, locale: string) =>
    `Hours per m² of bed without harvest work were ${times(f.ratio, locale)} times those of ${side(f.methodA, f.gardensA)} in ${side(f.methodB, f.gardensB)}, over ${seasonsOf(f.seasons)} with all weeks closed; 95 % interval ${times(f.low, locale)} to ${times(f.high, locale)}. These gardens and the people who work them, not the methods alone.`,
  'labour not seen': (f: OfPair & Range & { ratio: number; seasons: number }, locale: string) =>
    `Hours per m² of bed without harvest work could not be told apart between ${side(f.methodB, f.gardensB)} and ${side(f.methodA, f.gardensA)} over ${seasonsOf(f.seasons)} with all weeks closed: the ratio was ${times(f.ratio, locale)}, ${times(f.low, locale)} to ${times(f.high, locale)} goes with these figures.`,
  exploratory: 'Nobody fixed this question beforehand, so it is a look around and not a test.',
  aboutPlots: (level: string) => `How sure about these plots: ${level}.`,
  aboutMethod:
    'About the method: cannot be told from the plot, with one garden a method, however many seasons there are.',
  because: 'Lowered because of: ',
  steps: {
    'few seasons': 'fewer than five seasons',
    'two seasons': 'two seasons only',
    'few matched crops': 'fewer than three matched crops',
    'weeks open': 'more than a tenth of the weeks of weights open',
    'no question beforehand': 'no question fixed beforehand',
    'wide interval': 'a wide interval',
  },
  everyWay: (same: number, counted: number, low: string, high: string) =>
    `Counted in every sensible way (${counted}), the order holds in ${same}; the ratio lies between ${low} and ${high}. That share is no probability.`,
  turned: (rules: string) => `What turns it: ${rules}.`,
  rules: {
    weights: 'marketable or all weight',
    mix: 'the mix of crops',
    outsideLosses: 'losses from outside the method',
  },
  whyTitle: 'Why the gap',
  whySay:
    'The gap in marketable kg per m² of bed, split into parts that add up: how fully the ground was used, what was grown, how well it grew, and the crops that stood in one of the two alone.',
  pair: 'Beside the reference',
  columns: {
    gap: 'Gap',
    intensity: 'How fully the ground was used',
    mix: 'What was grown',
    growth: 'How well it grew',
    onlyB: 'Crops of its own',
    onlyA: 'Crops of the reference alone',
  },
  seasonsTitle: 'Over the seasons',
  seasonsSay: 'The ratio of each season on the common mix of the crops that all seasons share; then the mean of them.',
  mean: 'Mean over the seasons',
  interval: '95 % interval',
  noneOfOne: 'one season: none',
}
