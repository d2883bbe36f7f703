import { plural } from './plural.ts'

/** Planning what next season can settle; every figure says what it assumes. */
interface Tried {
  readonly trials: string
  readonly seen: string | null
  readonly held: string | null
  readonly without: string | null
}

export const nextSeason = {
  title: 'What next season can settle',
  sayTitle: 'How this is worked out',
  say:
    'You say how the ground could be laid out and which difference would matter to you; the page says how often such ' +
    'a trial would show it, and what one more of each would buy. Each method is compared with one other. The more ' +
    'pairs are asked of, the surer each has to be, so that all of them together are wrong one time in twenty at most.',
  planTitle: 'Change the plan',
  fields: {
    kind: 'Layout',
    n: 'How many: gardens a method, gardens that hold all methods, blocks of beds, or gardens that take turns',
    nHint: 'Blank: as many as the ground ticked below gives.',
    crops: 'Matched crops',
    cropsHint: 'Blank: as many as are ticked below, or all that stood alike.',
    seasons: 'Seasons',
    matters: 'The difference that matters, per cent',
    referenceId: 'The method beside which the others stand',
    methods: 'The other methods',
    question: 'The pairs of a question that is written',
    anyMethods: 'choose one',
    noQuestion: 'every other method beside the one above',
  },
  only: { gardens: 'Only these gardens', blocks: 'Only these blocks', cropNames: 'Only these crops' },
  onlyTitle: 'Only some of the ground or the crops',
  onlySay: 'Where nothing is ticked all of them count.',
  ofSeason: (season: string, question: string) => `${season}: ${question}`,
  wholeTurns: (methods: number) => `In turns the gardens go round ${methods} methods: write a multiple of ${methods}.`,
  kinds: {
    'one garden': 'one garden a method',
    gardens: 'several gardens a method',
    'split gardens': 'gardens that hold all the methods',
    'blocks of beds': 'blocks of beds on one site, all the methods in each',
    turns: 'gardens that exchange their methods every season',
  },
  picture: {
    title: (matters: string) => `How often a difference of ${matters} times would be shown`,
    how: 'By the seasons the trial runs. What reaches four times in five is worth laying out.',
    enough: 'four times in five',
    planned: 'as planned',
    axis: 'trials in a hundred',
    season: 'Seasons',
  },
  couldNot: 'could not be seen',
  noneBehind: 'none',
  spreadsTitle: 'How much things vary, per cent',
  ownSay: (plantings: number) =>
    `Where they can be told, these are your own, from ${plantings} matched plantings (REML, logarithms). The ` +
    'rest is assumed: common to such trials, from memory, without a source.',
  assumedSay:
    'Too few plantings of your own are matched and cleared to tell these: they are assumed, common to such ' +
    'trials, from memory, without a source.',
  spreads: {
    garden: 'Gardens under one method',
    half: 'Halves of a garden, or beds of a block',
    gardenBySeason: 'A garden from season to season',
    methodBySeason: 'A method from season to season, in all its gardens alike',
    cropByGarden: 'A crop from garden to garden',
    residual: 'Plantings otherwise alike',
  },
  own: 'your own',
  assumed: 'assumed',
  look: 'What it can show',
  notPercent: 'Write per cent between 1 and 500.',
  smallest: (ratio: string) => `A true difference of ${ratio} times or more would be shown four times in five.`,
  notSeen: 'No difference that a grower would ask about would be shown four times in five.',
  behind: (count: string) => `How many comparisons stand behind it: ${count}.`,
  widened: (methods: number, pairs: number) =>
    `${methods} methods, ${pairs} ${plural(pairs, { one: 'pair', other: 'pairs' })}: ` +
    'each pair has to be surer by itself.',
  chance: (matters: string, chance: string) =>
    `A true difference of ${matters} times would be shown in ${chance} of such trials.`,
  none: 'As it stands this plan leaves nothing to say how sure an answer is: add a place or a season.',
  plots:
    'With one garden a method this is about these two plots only. How much the ground does by itself is not in ' +
    'it, and no number of seasons brings it in.',
  seasonsAlike: (ratio: string) =>
    `That allows for methods doing better in one year than in another, which no number of gardens shows: if they did ` +
    `not, it would be ${ratio}.`,
  tried: {
    methods: ({ trials, seen, held, without }: Tried) =>
      `Tried out ${trials} times by chance (the same draw every time): shown in ${seen}; the interval held the true ` +
      `ratio of the methods in coming seasons in ${held}, and without allowing for such years in ${without}.`,
    plots: ({ trials, seen, held, without }: Tried) =>
      `Tried out ${trials} times by chance (the same draw every time): shown in ${seen}; the interval held the true ` +
      `ratio of these two plots in ${held}, and that of the methods in ${without} only.`,
  },
  variantsTitle: 'What one more would buy',
  columns: {
    change: 'Change',
    smallest: 'Smallest difference shown four times in five',
    chance: 'Shows the difference that matters',
    behind: 'Comparisons behind it',
    about: 'About',
  },
  changes: {
    'as planned': 'as planned',
    place: 'one more garden a method, garden, or block; one a method for turns',
    crop: 'one more crop',
    season: 'one more season',
    'one garden': 'the same ground: one garden a method',
    gardens: 'the same gardens: each under one method',
    'split gardens': 'the same gardens: each split between all methods',
    'blocks of beds': 'blocks of beds',
    turns: 'the same gardens, exchanging their methods every season',
  },
  abouts: { methods: 'the methods', plots: 'these plots' },
  propose:
    'Then lay it out by a draw: on the season’s layout page gardens, beds or blocks are drawn with a name that ' +
    'repeats the draw. Blocks of beds thought alike, with every method in each, cost nothing and take the ground ' +
    'out.',
  turnsSay:
    'Turns tell method from ground only if what one method leaves in the soil has faded when the other comes: ' +
    'with compost or hay it has not after one year.',
  about: (gardens: number, crops: number) =>
    `What could ${gardens} gardens that hold two methods settle next season, with ${crops} crops alike?`,
  oneMoreSeason: (ratio: string) =>
    `One more season: then a true difference of ${ratio} times would be shown four times in five.`,
  proposed: (layout: string, n: number, seasons: number, chance: string) =>
    `Of ways to lay out this ground, the soonest answer comes from ${layout} (${n}) over ` +
    `${seasons} ${plural(seasons, { one: 'season', other: 'seasons' })}: ` +
    `it shows that difference in ${chance} of such trials.`,
  proposedNone: 'No way to lay out this ground shows that difference four times in five within eight seasons.',
  writeTitle: 'Write it into a season',
  writeSay:
    'Lays the season out by a draw, keeps the draw’s name, and drafts the question for these pairs, unless one ' +
    'stands there. The question still has to be locked by the first day.',
  writeFields: {
    season: 'Into',
    reference: 'Beside',
    methods: 'The other methods',
    kind: 'Layout',
    seasons: 'Seasons to look at',
  },
  writeMatters: 'Difference that matters, whole per cent',
  write: 'Draw it and write it down',
  noSeason: 'No season is still to come: make next season first, then it can be written there.',
  noMethods: 'Tick at least one other method.',
  itself: 'A method is not compared with itself: leave the one that the others stand beside unticked.',
  begun: 'This season has begun: its layout stands as it lies.',
  planted: 'Something is planned there already: lay it out on its layout page.',
  written: {
    asked: 'The layout is drawn and the question drafted: look at both, then lock the question.',
    left: 'The layout is drawn. The question that stood there is left as it is.',
  },
  question: (methods: string, reference: string) =>
    `Is the weight a m² another under ${methods} than under ${reference}?`,
  ifSeen: (count: number, methods: string, reference: string) =>
    plural(count, {
      one: `${methods} gave another weight than ${reference}.`,
      other: `Of ${methods} at least one gave another weight than ${reference}.`,
    }),
  ifNotSeen: 'We could not tell them apart.',
  log: 'Write this down as a decision',
  link: 'What next season can settle',
}
