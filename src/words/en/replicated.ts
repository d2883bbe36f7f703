import { byName } from '../by-name.ts'
import { plural } from './plural.ts'

interface Pooled {
  readonly ratio: string
  readonly low: string
  readonly high: string
  readonly i2: string
  readonly next: { readonly low: string; readonly high: string } | null
}

interface Model {
  readonly ratio: string
  readonly low: string
  readonly high: string
  readonly df: string
  readonly plots: number
  readonly failed: number
  readonly singular: boolean
}

/** What holds places of several methods: spreads are what is left when it is taken out. */
type Holder = 'garden' | 'site' | 'block' | null
const holders = { garden: 'gardens', site: 'sites', block: 'blocks' }
const after = (held: Holder) => (held === null ? '' : `, after ${holders[held]},`)
const afterAtEnd = (held: Holder) => (held === null ? '' : `, after ${holders[held]}`)

/** What replicated layouts add to a comparison; a term of statistics comes with its meaning. */
export const replicated = {
  togetherTitle: 'All methods in one analysis',
  togetherSay: (df: number, held: Holder) =>
    'One value for each place, in logarithms, so that differences are ratios. The spread between places of one ' +
    `method${after(held)} leaves ${df} ${plural(df, { one: 'degree', other: 'degrees' })} of freedom.`,
  units: 'Places',
  kgPerM2: 'kg per planted m², common mix',
  letters: 'Letters',
  lettersSay:
    'Methods that share a letter were not shown to differ, all pairs looked at together (Tukey’s honest ' +
    'significant difference). A shared letter does not say that they are alike.',
  leastSay: (standardError: string, least: string, cv: string, held: Holder) =>
    `One pair alone would have to differ by a ratio of ${least} to be told apart (least significant difference; ` +
    `standard error as a ratio ${standardError}). Places of one method${after(held)} differ by about ${cv} % ` +
    '(trial coefficient of variation).',
  cvSay: (cv: string, held: Holder) =>
    `Places of one method${after(held)} differ by about ${cv} % (trial coefficient of variation).`,
  spreadsSay: (asWeighed: string, logs: string, held: Holder) =>
    'Why logarithms, decided beforehand: weights vary in proportion. Here the spread of the ' +
    `methods${after(held)} differs by a factor of ${asWeighed} as weighed and of ${logs} in logarithms.`,
  failedSay: (failed: number) =>
    `${failed} ${plural(failed, { one: 'place', other: 'places' })} gave nothing and ` +
    `${plural(failed, { one: 'has', other: 'have' })} no ` +
    'logarithm: this is about those where something grew.',
  anovaTitle: 'Analysis of variance',
  anovaHead: ['Source', 'Degrees of freedom', 'Sum of squares', 'Mean square', 'F', 'p'],
  sources: byName({ block: 'blocks', treatment: 'methods', error: 'places of one method' }),
  sourceAfter: (source: string, held: Holder) => `${source}${afterAtEnd(held)}`,
  pairTitle: (method: string, reference: string) => `${method} beside ${reference}`,
  pooled: (p: Pooled) =>
    `From season to season the mean ratio is ${p.ratio} (${p.low} to ${p.high}). ` +
    (p.i2 === '0'
      ? 'The seasons differ no more than the places of one season do by themselves (I², what is beyond that, is 0 %).'
      : `Of what the seasons differ by, ${p.i2} % is beyond what the places of one season differ by themselves (I²).`) +
    (p.next ? ` A new season would lie between ${p.next.low} and ${p.next.high}.` : ''),
  model: (m: Model) =>
    `Counted once more with each of ${m.plots} plantings by itself, what crops, seasons and places differ by ` +
    `being estimated beside the methods (a mixed model by REML): ratio ${m.ratio}` +
    (m.singular
      ? ''
      : `, ${m.low} to ${m.high} on ${m.df} degrees of freedom (what the places leave to judge by, after ` +
        'Satterthwaite)') +
    '. It is a ratio of medians of plantings where something grew' +
    (m.failed > 0 ? `; ${m.failed} that gave nothing are not in it` : '') +
    '.' +
    (m.singular
      ? ' One of the spreads below was estimated as none, so that an interval would take plantings for places: ' +
        'none is given here, and the one above stands.'
      : ''),
  spread: (of: string, sd: string, held: Holder) => `Spread between ${of}${afterAtEnd(held)}, log scale: ${sd}`,
  spreadOf: byName({
    crop: 'crops',
    season: 'seasons',
    garden: 'gardens',
    bed: 'beds',
    block: 'blocks',
    site: 'sites',
    'garden by method': 'the halves of a garden',
    residual: 'plantings otherwise alike',
  }),
  stableTitle: 'How steady over the seasons',
  stableSay: (seasons: number) =>
    `On the crops of every season, weighed alike. With ${seasons} seasons these figures are noise for the most ` +
    'part, and a heavier yield has a smaller CV by itself. Steady is not the same as wanted.',
  stableHead: [
    'Mean, kg per m²',
    'CV, %',
    'Slope on the season (Finlay and Wilkinson)',
    'Interaction variance (Shukla)',
    'Mean squared distance from the best (Lin and Binns)',
  ],
}
