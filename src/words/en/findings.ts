import { asShown } from '../../lookups/unsaid.ts'
import { formatNumber } from '../../quantities/formatting.ts'
import { listed } from '../listed.ts'
import { plural } from './plural.ts'

/** Sentences made of figures, each with its limit inside: what was seen, where, how sure; never that one is better. */
interface OfPair {
  readonly methodA: string
  readonly methodB: string
  readonly gardensA: readonly string[]
  readonly gardensB: readonly string[]
}

/** Seasons by their names: those it rests on, those left out while their weeks are open, those with nothing matched. */
export interface RestsOn {
  readonly seasons: readonly string[]
  readonly open: readonly { readonly season: string; readonly ratio: number }[]
  readonly gaps: readonly string[]
}

interface Range {
  readonly low: number
  readonly high: number
}

export interface LeftOutSaid {
  readonly low: string
  readonly high: string
  readonly lowWithout: string
  readonly highWithout: string
}

const times = (ratio: number, locale: string) => formatNumber(ratio, locale, 2)
/** A garden with its method, or a method with its gardens where it lies on several. */
const side = (method: string, gardens: readonly string[]) =>
  plural(gardens.length, { one: `${gardens[0]} (${method})`, other: `${method} (${both(gardens)})` })
/** The gardens where each method has one of its own, else the methods. */
function named({ methodA, methodB, gardensA, gardensB }: OfPair) {
  const alone = gardensA.length === 1 && gardensB.length === 1 && gardensA[0] !== gardensB[0]
  const [a, b] = alone ? [gardensA[0] ?? methodA, gardensB[0] ?? methodB] : [methodA, methodB]
  return { a, b, at: alone ? 'in' : 'under' }
}
/** An end that is read as 1.00 touches it. */
const touches = ({ low, high }: Range) => [low, high].some((end) => Math.round(100 * end) === 100)
const reach = (f: Range, locale: string) =>
  `${times(f.low, locale)} to ${times(f.high, locale)}${touches(f) ? ', which touches 1' : ''}`
/** An interval whose ends lie more than ten times apart says nothing. */
const saysNothing = ({ low, high }: Range) => high / low > 10
const leavesOutOne = ({ low, high }: Range) => low > 1 || high < 1
const counts = ['no', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine', 'ten']
const cannotTell = (seasons: number) =>
  plural(seasons, { one: 'one season cannot', other: `${counts[seasons] ?? seasons} seasons cannot` }) +
  ' tell: what goes with these figures is wider than ten times'
const open = 'while weeks are open the two are not told apart'
const over = ({ seasons, restsOn }: { seasons: number; restsOn?: RestsOn }) =>
  `Over ${seasonsOf(seasons)}${restsOn && seasons > 1 ? ` (${both(restsOn.seasons)})` : ''}`
/** What a comparison that told nothing leaves possible. */
const goesWith = (f: Range & { ratio: number; seasons: number }, locale: string) =>
  saysNothing(f)
    ? cannotTell(f.seasons)
    : `the ratio was ${times(f.ratio, locale)}, and anything from ${times(f.low, locale)} to ` +
      `${times(f.high, locale)} goes with these figures${touches(f) ? ', which touches 1' : ''}`
const interval = (f: Range & { level: number }, locale: string) =>
  `${percent(f.level, locale)} interval ${reach(f, locale)}`
/** "over 2 seasons (2025 and 2026)" */
const seasonsNamed = (f: { seasons: number; restsOn?: RestsOn }) => over(f).replace('Over', 'over')
/** What an answer about methods says of being told: nothing where it is, else why not. */
const toldOfMethods = (f: Range & { readonly code?: string }) =>
  !leavesOutOne(f)
    ? '. No difference of the methods could be told; this is not to say that they are alike.'
    : f.code?.endsWith('not seen')
      ? `; but ${open}.`
      : '.'
const seasonsOf = (seasons: number) => plural(seasons, { one: '1 season', other: `${seasons} seasons` })
const cropsOf = (crops: number) => plural(crops, { one: '1 matched crop', other: `${crops} matched crops` })
const plots = 'This compares these gardens; it cannot tell the method from the plot.'
const percent = (level: number, locale: string) => `${formatNumber(100 * level, locale, level === 0.95 ? 0 : 1)} %`
const burdens = {
  hoursPerBed: 'Hours per m² of bed without harvest work',
  hoursPerKg: 'Hours per marketable kg',
  costPerKg: 'Input cost per marketable kg',
} as const

interface OfBurden extends OfPair, Range {
  readonly code?: string
  readonly burden: keyof typeof burdens
  readonly ratio: number
  readonly level: number
  readonly seasons: number
  readonly restsOn?: RestsOn
}

const nothingOf = {
  'no crop': 'no crop stood matched on all of them and was cleared',
  'few places': 'too few of them gave anything of the matched crops',
  'no measure': 'so few places and seasons leave no measure of how they differ by themselves',
  'no spread': 'those of each gave exactly the same, which is no measure of how places differ by themselves',
}

interface OfLayout {
  readonly layout: string
  readonly df: number
  readonly unitsA: number
  readonly unitsB: number
  readonly scope: string
}

const several = { bed: 'beds', half: 'methods', garden: 'gardens' }
const writtenFor = {
  bed: 'bed by bed',
  half: 'for each half of a garden by its beds, and not for the garden as a whole',
  garden: 'for each garden by itself, and not for several together',
}

/** What else can fool, as `comparison/findings/cautions.ts` finds it. */
export type Caution =
  | { code: 'uniform year'; ratio: number; season: string }
  | { code: 'unlike ages'; a: number; b: number }
  | { code: 'land elsewhere'; kinds: readonly string[] }
  | { code: 'changed after closing'; rows: number }
  | {
      code:
        | 'ground before'
        | 'no uniform year'
        | 'first years'
        | 'unlike people'
        | 'exposure'
        | 'two sites'
        | 'restarted bed'
    }

const layouts: Record<string, (a: number, b: number) => string> = {
  gardens: (a, b) => `with ${a} and ${b} gardens`,
  'gardens within sites': (a) => `within ${a} sites that hold both`,
  'split gardens': (a) => `within ${a} gardens that hold both`,
  uneven: (a, b) => `with ${a} and ${b} gardens, some of which hold both`,
  'beds of one garden': (a, b) => `with ${a} and ${b} beds of one garden`,
  'blocks of beds': (a) => `within ${a} blocks of beds`,
  'ground that took turns': () => 'on ground that had both of them in turn',
}
const abouts: Record<string, string> = {
  methodAtSite: 'This is about this site.',
  methodElsewhere: 'This is about gardens like these.',
}

const degrees = (df: number) => `${df} ${plural(df, { one: 'degree', other: 'degrees' })} of freedom`
/** Whence the degrees of freedom come: never from weeks, crops or seasons of one place. */
const degreesFrom: Record<string, (df: number) => string> = {
  gardens: (df) => `${degrees(df)}: the gardens, less one for each method.`,
  'gardens within sites': (df) =>
    `${degrees(df)}: the gardens, less one for each method and one for each site but the first.`,
  'split gardens': (df) => `${degrees(df)}: the gardens, each with one difference between its halves, less one.`,
  uneven: (df) => `${degrees(df)}: gardens with each of their methods, less what gardens and methods take.`,
  'beds of one garden': (df) => `${degrees(df)}: the beds, less one for each method.`,
  'blocks of beds': (df) => `${degrees(df)}: the beds, less one for each method and one for each block but the first.`,
  'ground that took turns': (df) =>
    `${degrees(df)}, of gardens and seasons together: each garden in each season, less one for each garden, for ` +
    'each season but the first, and for the method. There are not so many gardens.',
}
const aboutOf = (f: { readonly scope: string; readonly seasons: number }) =>
  plural(f.seasons, {
    one: 'This is about this one season, and says nothing of others.',
    other: asShown(abouts[f.scope]),
  })
const remembers = (layout: string) =>
  layout === 'ground that took turns'
    ? 'The soil carries the former method for years, which draws this ratio towards 1. '
    : ''

const both = (names: readonly string[]) => listed(names, 'and')

export const findings = {
  title: 'What was seen',
  none: 'There is nothing to say yet: no crop has stood under two methods and been cleared.',
  reference: (method: string) => `Each method beside ${method}, on matched crops, weighed alike in every season.`,
  seen: (
    f: OfPair &
      Range & { ratio: number; seasons: number; crops: number; next: Range; level: number; restsOn?: RestsOn },
    locale: string,
  ) => {
    const next = saysNothing(f.next)
      ? 'What a season more would give cannot be said from these.'
      : `A season more would be expected between ${times(f.next.low, locale)} and ${times(f.next.high, locale)}.`
    return (
      `${over(f)} ${side(f.methodB, f.gardensB)} gave ${times(f.ratio, locale)} times the weight per planted m² of ` +
      `${side(f.methodA, f.gardensA)}, on ${cropsOf(f.crops)}; ${interval(f, locale)}. ${next} ${plots}`
    )
  },
  'not seen': (
    f: OfPair &
      Range & {
        ratio: number
        seasons: number
        crops: number
        smallestSeen: number | null
        level: number
        restsOn?: RestsOn
      },
    locale: string,
  ) => {
    const [b, a] = [side(f.methodB, f.gardensB), side(f.methodA, f.gardensA)]
    if (leavesOutOne(f))
      return (
        `${over(f)} ${b} gave ${times(f.ratio, locale)} times the weight per planted m² of ${a} in the weeks that ` +
        `are closed, on ${cropsOf(f.crops)}; ${interval(f, locale)}; but ${open}. ${plots}`
      )
    const seen = f.smallestSeen
    const unseen =
      seen === null || seen > 10
        ? ''
        : ` A true ratio between ${times(1 / seen, locale)} and ${times(seen, locale)} would often have stayed unseen.`
    return (
      `${over(f)} ${b} and ${a} could not be told apart by weight, on ${cropsOf(f.crops)}: ` +
      `${goesWith(f, locale)}.${unseen} This is not to say that they are alike. ${plots}`
    )
  },
  alike: (
    f: OfPair &
      Range & { ratio: number; seasons: number; crops: number; marginPercent: number | null; restsOn?: RestsOn },
    locale: string,
  ) =>
    `${over(f)} ${side(f.methodB, f.gardensB)} and ${side(f.methodA, f.gardensA)} gave alike within the ` +
    `${f.marginPercent} % that the group had fixed beforehand as mattering, on ${cropsOf(f.crops)}: the ratio ` +
    `was ${times(f.ratio, locale)}, interval ${reach(f, locale)}. ${plots}`,
  'one season': (
    f: OfPair & {
      ratio: number
      crops: number
      leavingOut: (Range & { lowWithout: string; highWithout: string }) | null
    },
    locale: string,
  ) =>
    `In this one season ${side(f.methodB, f.gardensB)} gave ${times(f.ratio, locale)} times the weight per ` +
    `planted m² of ${side(f.methodA, f.gardensA)}, on ${cropsOf(f.crops)}` +
    (f.leavingOut
      ? `; leaving out one crop at a time, ${times(f.leavingOut.low, locale)} (without ${f.leavingOut.lowWithout}) ` +
        `to ${times(f.leavingOut.high, locale)} (without ${f.leavingOut.highWithout})`
      : '') +
    `. One season has no interval: how sure this is cannot be told. ${plots}`,
  'failed season': (
    f: OfPair & {
      seasons: number
      failedA: readonly string[]
      failedB: readonly string[]
      rateA: number
      rateB: number
      ratio: number | null
    },
    locale: string,
  ) => {
    const failures = [
      ...(f.failedA.length > 0 ? [`off ${side(f.methodA, f.gardensA)} in ${both(f.failedA)}`] : []),
      ...(f.failedB.length > 0 ? [`off ${side(f.methodB, f.gardensB)} in ${both(f.failedB)}`] : []),
    ].join(', and ')
    const together =
      `${side(f.methodB, f.gardensB)} gave ${times(f.rateB, locale)} kg per planted m² and ` +
      `${side(f.methodA, f.gardensA)} ${times(f.rateA, locale)}`
    return (
      `Nothing of the matched crops came ${failures}. Failures count as zero with their area in: over all ` +
      `${seasonsOf(f.seasons)} ${together}` +
      (f.ratio === null ? '' : `, ${times(f.ratio, locale)} times as much`) +
      `. A season off which nothing came has no ratio, so no interval can be given. ${plots}`
    )
  },
  'nothing matched': (f: OfPair & { unlikeSeasons?: number }) =>
    f.unlikeSeasons
      ? `${side(f.methodB, f.gardensB)} and ${side(f.methodA, f.gardensA)} have matched crops in ` +
        `${seasonsOf(f.unlikeSeasons)}, but no crop in all of them: seasons of unlike crops cannot be taken ` +
        'together. Each season by itself has its ratio.'
      : `${side(f.methodB, f.gardensB)} and ${side(f.methodA, f.gardensA)} have no matched crop that was cleared ` +
        'under both: nothing can be compared like with like.',
  'places say nothing': (f: OfPair & { why: keyof typeof nothingOf }) =>
    `${f.methodB} and ${f.methodA} lie on several places each, but ${nothingOf[f.why]}: by weight nothing can be ` +
    'said of these methods.',
  'labour seen': (f: OfBurden, locale: string) => {
    const { a, b } = named(f)
    return (
      `${over(f)} ${b} took ${times(f.ratio, locale)} times the hours of ${a} per m² of bed, harvest work left ` +
      `out; ${interval(f, locale)}. These gardens and the people who work them, not the methods alone.`
    )
  },
  'labour not seen': (f: OfBurden, locale: string) => {
    const { a, b } = named(f)
    const hours = 'hours per m² of bed, harvest work left out'
    if (leavesOutOne(f))
      return (
        `${over(f)} ${b} took ${times(f.ratio, locale)} times the hours of ${a} per m² of bed in the weeks that ` +
        `are closed, harvest work left out; ${interval(f, locale)}; but ${open}.`
      )
    return `${over(f)} ${b} and ${a} could not be told apart by ${hours}: ${goesWith(f, locale)}.`
  },
  'per kg seen': (f: OfBurden, locale: string) => {
    const { a, b, at } = named(f)
    const took = f.burden === 'hoursPerKg' ? 'hours' : 'inputs'
    return (
      `${over(f)} a marketable kilogram took ${times(f.ratio, locale)} times the ${took} ${at} ${b} that it took ` +
      `${at} ${a}, with all that each of them grew; ${interval(f, locale)}. Unlike crops weigh differently: this ` +
      'is what these gardens cost, not what a method costs.'
    )
  },
  'per kg not seen': (f: OfBurden, locale: string) => {
    const { a, b, at } = named(f)
    const took = f.burden === 'hoursPerKg' ? 'hours' : 'inputs'
    if (leavesOutOne(f))
      return (
        `${over(f)} a marketable kilogram took ${times(f.ratio, locale)} times the ${took} ${at} ${b} that it took ` +
        `${at} ${a} in the weeks that are closed; ${interval(f, locale)}; but ${open}.`
      )
    const what = f.burden === 'hoursPerKg' ? 'hours for a marketable kilogram' : 'inputs for a marketable kilogram'
    return `${over(f)} ${b} and ${a} could not be told apart by ${what}: ${goesWith(f, locale)}.`
  },
  burdenOfMethods: (f: OfBurden & OfLayout, locale: string) =>
    `About the methods, ${asShown(layouts[f.layout]?.(f.unitsA, f.unitsB))}, ${seasonsNamed(f)}: ` +
    `${burdens[f.burden].toLowerCase()} under ${f.methodB} came to ${times(f.ratio, locale)} times what ` +
    `${f.methodA} took; ${interval(f, locale)} on ${degrees(f.df)}${toldOfMethods(f)} ${aboutOf(f)}`,
  'only divided': (
    f: OfPair & { divided: keyof typeof burdens; each: 'bed' | 'half' | 'garden'; share: number },
    locale: string,
  ) =>
    `${burdens[f.divided]} cannot be compared between ${f.methodB} and ${f.methodA}: ${percent(f.share, locale)} ` +
    `of it was written for several ${several[f.each]} together and only divided over them. To compare it, ` +
    (f.divided === 'costPerKg' ? 'inputs' : f.divided === 'hoursPerKg' ? 'hours, those of harvest too,' : 'hours') +
    ` would have to be written ${writtenFor[f.each]}.`,
  aboutMethods: (
    f: OfPair &
      Range & {
        layout: string
        ratio: number
        level: number
        df: number
        unitsA: number
        unitsB: number
        seasons: number
        crops: number
        scope: string
        code?: string
        restsOn?: RestsOn
      },
    locale: string,
  ) => {
    const where = asShown(layouts[f.layout]?.(f.unitsA, f.unitsB))
    const result = `${f.methodB} gave ${times(f.ratio, locale)} times the weight per planted m² of ${f.methodA}`
    const within = `${interval(f, locale)} on ${degrees(f.df)}`
    return (
      `${remembers(f.layout)}About the methods, ${where}, ${seasonsNamed(f)} on ${cropsOf(f.crops)}: ${result}; ` +
      `${within}${toldOfMethods(f)} ${aboutOf(f)}`
    )
  },
  methodCertainty: {
    thesePlots: (level: string) => `How sure about the methods: ${level}.`,
    methodAtSite: (level: string) =>
      `How sure about the methods on this site: ${level}. Of other sites it says nothing.`,
    methodElsewhere: (level: string) => `How sure about the methods on gardens like these: ${level}.`,
  },
  methodInSeason: (level: string) =>
    `How sure about the methods in this one season: ${level}. Of other seasons it says nothing.`,
  becauseMethods: 'No surer because of: ',
  methodSteps: {
    'one site': 'one site',
    'by choice': 'places by choice',
    'by turns': 'places by turns',
    'whole gardens by choice': 'whole gardens by choice',
    'soil remembers': 'ground that changed its method, whose soil still carries the former one',
    'one season': 'one season',
    'few gardens': 'two or three gardens a method',
    'wide interval': 'a wide interval',
    'places without weight': 'places off which nothing came',
  },
  degreesOf: (layout: string, df: number) => asShown(degreesFrom[layout]?.(df)),
  methodHow: {
    choice:
      'The methods were put where they are by choice, so moderate is the most that can be had, and low for whole ' +
      'gardens: in trials where the better ground had been chosen for one of two methods, such intervals of ' +
      'weight held the truth of the methods in 71 to 93 of 100.',
    random: 'The methods were drawn.',
    rotation: 'The methods take turns by a rule.',
  },
  failedUnits: (failed: number, allIn: string) =>
    `Nothing came off ${failed} ${plural(failed, { one: 'place', other: 'places' })}: they have no logarithm and ` +
    'are left out ' +
    `above, so that it is about those where something grew. With failures as zero the means are as 1 to ${allIn}.`,
  widened: (pairs: number) =>
    `The question names ${pairs} pairs: each interval is widened so that all of them together hold in 95 of 100 ` +
    'such trials (Bonferroni).',
  manyPairs: (pairs: number) =>
    `${pairs} pairs are looked at here and nobody fixed them beforehand: each interval is widened for as many ` +
    '(Bonferroni), and what stands out is still a look around.',
  sealed: (count: string) =>
    `Weighings under labels that are not opened yet: ${count}. They are left out here and count once the weights ` +
    'of their weeks are closed.',
  missingUnknown:
    'Weeks are open, and too few weeks near them are closed to say what they may hold: what they would change ' +
    'cannot be said.',
  missingRange: (low: string, high: string) =>
    `With the open weeks at their least and at their most the ratio would be ${low} to ${high}.`,
  methodWeeksOpen:
    'More than a tenth of the weeks of weights are open: what they hold is unknown, and it is a step less sure.',
  leftOpen: (season: string, ratio: string) =>
    `${season} is not in it: more than a tenth of its weeks are open. So far: ${ratio} times.`,
  leftStanding: (season: string) => `${season} is not in it: something still stands there, and may give kilograms yet.`,
  leftUnpriced: (season: string) => `${season} is not in it: an input has no price there.`,
  gaps: (seasons: readonly string[]) =>
    `${both(seasons)} ${plural(seasons.length, { one: 'is', other: 'are' })} not in it: nothing matched was ` +
    'cleared under both.',
  soFar:
    'More than a tenth of the weeks are open in every season: all of this is so far, and nothing is told apart yet.',
  cannotTell: (seasons: number) =>
    `${counts[seasons] ?? seasons} ${plural(seasons, { one: 'season', other: 'seasons' })} cannot tell`,
  missingEnds: (low: string, high: string, survives: boolean) =>
    `With the open weeks at their least and at their most the ratio would be ${low} to ${high}; the finding ` +
    (survives ? 'stands at both ends' : 'does not stand at both ends') +
    '.',
  cautionsTitle: 'What else can fool here',
  detail: 'How sure, and counted otherwise',
  countedOtherwise: 'These findings are counted otherwise than the question fixed beforehand: they are a look around.',
  caution: (caution: Caution, reference: string, methods: readonly string[], locale: string): string => {
    const pair = `${reference} and ${both(methods)}`
    switch (caution.code) {
      case 'ground before':
        return (
          `The ground of ${pair} was something else before: what it was still feeds, or hinders, what grows there ` +
          'now.'
        )
      case 'uniform year':
        return (
          `In the uniform year ${caution.season}, with both worked alike, the ground of ${both(methods)} gave ` +
          `${times(caution.ratio, locale)} times that of ${reference}: so much the ground does by itself.`
        )
      case 'no uniform year':
        return `No uniform year stands before ${pair}: how their ground differs by itself is not known.`
      case 'unlike ages':
        return (
          `The methods are not of one age: ${reference} is in its year ${caution.a}, ${both(methods)} in year ` +
          `${caution.b}. Compare like ages where you can.`
        )
      case 'first years':
        return `The first years of a method are not its rule: ${pair} are not both past their second.`
      case 'unlike people':
        return (
          `Others do most of the work in ${both(methods)} than in ${reference}: who works, and what they have ` +
          'learnt, is in these figures too.'
        )
      case 'exposure':
        return `${pair} lie otherwise to sun and wind.`
      case 'two sites':
        return `${pair} lie on different sites.`
      case 'restarted bed':
        return (
          `Beside ${reference}, for ${both(methods)}: a bed was covered to start again on one side. The worst bed ` +
          'would have improved somewhat anyway.'
        )
      case 'land elsewhere':
        return (
          `Beside ${reference}, for ${both(methods)}: bought ${both(caution.kinds)} went on one side only. It grew ` +
          'on land that is not counted here.'
        )
      case 'changed after closing':
        return (
          `${caution.rows} ${plural(caution.rows, { one: 'entry', other: 'entries' })} of these seasons ` +
          `${plural(caution.rows, { one: 'was', other: 'were' })} written or changed after the season had closed.`
        )
    }
  },
  exploratory: 'Nobody fixed this question beforehand, so it is a look around and not a test.',
  aboutPlots: (level: string) => `How sure about these plots: ${level}.`,
  aboutMethod:
    'About the method: cannot be told from the plot, with one garden a method, however many seasons there are.',
  methodNotCarried:
    'About the methods nothing is said: methods lie on more than one place, but nothing matched over all of them ' +
    'gave a measure of how much such places differ by themselves.',
  because: 'Lowered because of: ',
  steps: {
    'few seasons': 'fewer than five seasons',
    'two seasons': 'two seasons only',
    'few matched crops': 'fewer than three matched crops',
    'weeks open': 'more than a tenth of the weeks of weights open',
    'no question beforehand': 'no question fixed beforehand',
    'wide interval': 'a wide interval',
    'changed after closing': 'entries changed after a season had closed',
    'missing weeks turn it': 'open weeks could turn it',
  },
  everyWay: (same: number | null, counted: number, low: string, high: string) =>
    `Counted in every sensible way (${counted}) the ratio ` +
    (low === high ? `is ${low} each time` : `lies between ${low} and ${high}`) +
    (same === null
      ? ', about as much: there is no order to hold'
      : `; the order holds in ${same} of them. That share is no probability`) +
    '.',
  leftOut: (what: 'crops' | 'seasons', left: LeftOutSaid) =>
    `Leaving out one ${what === 'crops' ? 'crop' : 'season'} at a time, the ratio goes from ${left.low} (without ` +
    `${left.lowWithout}) to ${left.high} (without ${left.highWithout}).`,
  cropsOnce: (ratio: string) => `With each crop counted once, however much it weighs, the ratio is ${ratio}.`,
  carried: (crops: readonly string[]) =>
    crops.length > 3
      ? `It hangs together: without any one of ${crops.length} crops it could not be told.`
      : `It is carried by ${both(crops)}: without ` +
        plural(crops.length, { one: 'that crop', other: 'any one of them' }) +
        ' it could not be told.',
  turned: (rules: string) => `What turns it: ${rules}.`,
  rules: {
    weights: 'marketable or all weight',
    mix: 'the mix of crops',
    outsideLosses: 'losses from outside the method',
    area: 'area of bed or gross',
    harvestWork: 'harvest work in or out',
    establishing: 'how establishing is counted',
    ownMade: 'the value of the group’s own compost',
  },
  table: {
    caption: 'Every finding as a line',
    beside: 'Beside the reference',
    times: 'Times',
    range: 'Range',
    said: 'What it says',
    seasons: 'Seasons',
    sure: 'How sure',
    told: 'told apart',
    notTold: 'could not be told apart',
    open: 'not told apart while weeks are open',
    alike: 'alike, as fixed beforehand',
    refused: {
      'nothing matched': 'no crop in common',
      'one season': 'one season: no interval',
      'failed season': 'nothing came off one side in a season',
      'few places': 'too few places gave anything',
      'only divided': 'not written by method, only divided',
    },
    each: 'Each in its own sentence, with how sure and counted otherwise',
  },
  noneOfOneGarden: 'no interval by method alone',
  ways: {
    marketable: 'marketable weight',
    all: 'all weight',
    'pooled areas': 'crops by their area',
    'equal parts': 'crops alike',
    counted: 'outside losses in',
    'set left out': 'outside losses out',
  },
  picturesTitle: (b: string, a: string) => `Pictures: ${b} beside ${a}`,
  besideNav: 'Which method beside the reference',
  beside: (method: string) => `Pictures of ${method}`,
  whyTitle: 'Why the gap',
  whySay:
    'The gap in marketable kg per m² of bed, split into parts that add up: how fully the ground was used, what ' +
    'was grown, how well it grew, and the crops that stood in one of the two alone.',
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
  picturesNav: 'Pictures',
  seasonsSay: 'The ratio of each season on the common mix of the crops that all seasons share; then the mean of them.',
  mean: 'Mean over the seasons',
  interval: (level: string) => `${level} % interval`,
  noneOfOne: 'one season: none',
  noMean: {
    'one season': 'one season: none',
    'failed season': 'none: nothing came off one side in a season',
    'of places': 'by places, not by seasons',
  },
  nextSeason: 'One more season would lie within',
  byCrop: 'Crop by crop',
  soFarSay: 'So far: plantings still stand, or weeks of weights are open, and what they will give is not in it.',
  perKgTitle: 'Why the gap in hours and cost per kg',
  perKgOf: { minutes: 'hours per kg', costMinor: 'input cost per kg' },
  perKgSay:
    'Over the crops for whose plantings hours, or inputs, were written under both; kilograms are the shares. A ' +
    'garden’s hours and inputs are never spread over its crops.',
  perKgColumns: {
    gap: 'Gap per kg',
    mix: 'What was picked',
    rate: 'What each kg took',
    covered: 'Share of it that this rests on: reference, other',
  },
  ifOnlyTitle: 'All methods at once',
  ifOnlySay: (crops: number) =>
    `Marketable kg per m² of bed over the ${cropsOf(crops)} that stood under every method, and what it would ` +
    'have been if only one thing had differed (Das Gupta’s standardisation: every pair agrees with every other).',
  ifOnlyRows: {
    crude: 'As it was',
    intensity: 'If only how fully the ground was used had differed',
    mix: 'If only what was grown had differed',
    growth: 'If only how well it grew had differed',
  },
  lossesTitle: 'Losses by cause',
  lossesSay:
    'Losses written down, the share of planted area that they took, each on what still stood, and beneath how ' +
    'many of them were lost next door too. With one garden a method no interval is given: one hailstorm fails ' +
    'six plantings at once.',
  lossesNone: 'No loss is written down.',
  outsideMethod: 'outside the method',
  lossCell: (count: number, share: string) => `${count} · ${share}`,
  nextDoorCell: (yes: number) => `next door: ${yes}`,
  failedGardens: (method: string, reference: string, difference: string, low: string, high: string) =>
    `Gardens that lost a planting whole, ${method} less ${reference}: ${difference} percentage points, ${low} to ` +
    `${high} (Newcombe’s interval; gardens are what is counted).`,
  failedRow: 'Plantings of which nothing stood in the end',
  ofPlantings: (failed: number, all: number) => `${failed} of ${all}`,
  lostRow: 'How often it failed: share of planted area lost',
  standingRow: 'How it did where it stood: kg per m² still standing',
  plantedRow: 'Both together: kg per m² planted',
  labourTitle: 'Labour by task',
  labourSay:
    'Person-hours per m² of bed, all seasons looked at taken together; the last row is the part written down as ' +
    'establishing.',
  labourAll: 'All tasks',
  labourEstablishing: 'Of these, establishing',
}
