import { plural } from './plural.ts'

interface Said {
  readonly kind: string
  readonly df: number | null
  readonly units: readonly { readonly method: string; readonly count: number }[]
  readonly how: 'choice' | 'random' | 'rotation'
  readonly scope: string
  readonly fewest: number
  readonly alone: readonly string[]
  readonly smallest: string | null
}

const counted = (one: { method: string; count: number }, unit: string) =>
  `${one.method} in ${one.count} ${plural(one.count, { one: unit, other: `${unit}s` })}`
const unitsIn = (said: Said, unit: string) => said.units.map((one) => counted(one, unit)).join(', ')
const freedom = (df: number | null) =>
  `${df} ${df === null ? 'degrees' : plural(df, { one: 'degree', other: 'degrees' })} of freedom`

/** What a layout is, in words, with what its uncertainty is made from. */
const kinds: Record<string, (said: Said) => string> = {
  'nothing laid': () => 'Fewer than two methods lie on the ground: there is nothing to compare.',
  'one garden a method': () =>
    'One garden a method. What differs may come from the method or from the ground, and no season can tell them ' +
    'apart. What two such gardens can show: how they did, crop by crop and hour by hour, side by side in the ' +
    'same weather. Seasons show how steady the difference between these gardens is; about the methods they show ' +
    'nothing.',
  'one bed a method': () =>
    'One bed a method. What differs may come from the method or from the bed; nothing here says how much beds ' +
    'differ by themselves.',
  'beds of one garden': (said) =>
    `Several beds a method in one garden (${unitsIn(said, 'bed')}). The spread between beds of one method is ` +
    `what a difference is held against: ${freedom(said.df)} in a season.`,
  'blocks of beds': (said) =>
    `Beds in blocks, each block with every method (${unitsIn(said, 'bed')}). Differences are taken within a ` +
    `block, and their spread from block to block is what they are held against: ${freedom(said.df)} in a season.`,
  gardens: (said) =>
    `Several gardens a method (${unitsIn(said, 'garden')}). The spread between gardens of one method is what a ` +
    `difference is held against: ${freedom(said.df)} in a season. Beds and crops within a garden do not add to ` +
    'them.',
  'gardens within sites': (said) =>
    `Every site holds every method (${unitsIn(said, 'garden')}). Differences are taken within a site: ` +
    `${freedom(said.df)} in a season.`,
  'split gardens': (said) =>
    `Every garden is split between all methods (${unitsIn(said, 'garden')}). Differences are taken within a ` +
    'garden, so that the ground falls out; their spread from garden to garden is what they are held against: ' +
    `${freedom(said.df)} in a season.`,
  uneven: (said) =>
    said.df === null
      ? 'Some gardens are split and some are not, and nothing is left over to say how much gardens differ by ' +
        'themselves: as it lies, this layout has no measure of its own uncertainty.'
      : `Some gardens are split and some are not (${unitsIn(said, 'garden')}). Gardens and methods are fitted ` +
        `together: ${freedom(said.df)} in a season.`,
}

const abouts: Record<string, string> = {
  thesePlots: 'An answer would be about these plots.',
  methodAtSite: 'An answer would be about the methods on this site, and no other.',
  methodElsewhere: 'An answer would be about the methods on gardens like these.',
}

const hows: Record<string, string> = {
  choice:
    'The methods were put where they are by choice: whoever chose may have had reasons that the weights show ' +
    'too. At most moderate certainty about a method.',
  random: 'The methods were drawn: nobody’s reasons are in the weights.',
  rotation:
    'The methods take turns: over as many seasons as there are methods each ground has had each of them, and ' +
    'ground and method can be told apart.',
}

export const layout = {
  title: (season: string) => `The layout of ${season}`,
  link: 'The layout of this season, and what it can show',
  say:
    'How methods come to their ground decides what can be concluded, before a seed is sown. Look at what each ' +
    'choice would allow; keep one when you are sure.',
  standsTitle: 'As it lies now',
  planted: (plantings: number) =>
    plural(plantings, { one: 'One planting stands', other: `${plantings} plantings stand` }) +
    ' in this season already. A draw after sowing is not a draw any more: whoever planted knew the ground.',
  kinds,
  abouts,
  hows,
  alone: (methods: readonly string[]) =>
    `${methods.join(' and ')} ${plural(methods.length, { one: 'has', other: 'have' })} one place only and cannot ` +
    'be told from it.',
  few: 'Fewer than four gardens a method: one step less sure.',
  smallest: (ratio: string) =>
    'Were ground and seasons to vary as they are assumed here, one season would often (four times in five) show ' +
    `a ratio of ${ratio} or more, and seldom less.`,
  assumed:
    'Assumed for that figure: gardens of one method differ by about 20 %, a garden from season to season by 12 ' +
    '%, a crop in a garden by 25 %, and the rest by 25 %, over eight matched crops. Your own gardens will differ.',
  columns: {
    garden: 'Garden',
    bed: 'Bed',
    method: 'Method',
    how: 'How',
    seed: 'Draw',
    year: 'Year there',
    phase: 'Phase',
    place: 'Garden or bed',
    now: 'As it lies',
    byHand: 'By hand',
    since: 'Begun',
    block: 'Block',
    choice: 'Choice',
    allows: 'What it would allow',
  },
  wholeGarden: 'all beds',
  choicesTitle: 'What each choice would allow',
  makeTitle: 'Make a layout',
  ways: {
    'by hand': 'As it is or by choice, line by line in the table',
    'as before': 'As in the season before, each method a year older',
    'draw freely': 'Draw: completely at random, over the gardens or beds ticked below',
    'draw gardens': 'Draw: a method for each garden, site by site',
    'draw beds': 'Draw: split every garden, a method for each of its beds',
    'draw blocks': 'Draw: a method for each bed, block by block',
    'draw halves': 'Draw: split every garden into halves (or as many parts as methods), neighbouring beds together',
    'draw strip': 'Draw: one bed of each garden under the one method ticked, as a control; the rest stays',
    'turn gardens': 'Take turns: each garden or bed has the method after the one it had last season',
  },
  fields: {
    way: 'How the methods come to their ground',
    methods: 'Which methods take part',
    since: (garden: string) => `Since when there, in ${garden}`,
    seed: 'Name of the draw',
    seedHint: 'Any word or number: the same name gives the same draw again. Left blank, it is given one.',
    table:
      'Tick the gardens or beds that a draw or turns are for; none ticked means all. By hand: choose a method ' +
      'where it differs, and the year in which it was begun there.',
    leave: 'leave as it is',
    bed: 'Bed to part',
    newBed: 'Name of the new bed',
    part: 'Area of the new bed',
    seedLot: 'Seed lot',
    cultivar: 'Cultivar',
    crop: 'Crop',
    area: 'Area in each garden',
    sown: 'Day it is sown or planted',
    how: 'How it comes into the bed',
  },
  look: 'Look at it, without keeping it',
  previewTitle: 'Not kept yet',
  previewSay: (seed: string | null) =>
    seed === null ? 'This is what it would be.' : `This is what the draw “${seed}” gives, every time.`,
  keep: 'Keep this layout',
  kept: 'The layout is kept. What lay there before is in the history.',
  print: 'This list prints on one sheet, for the shed door.',
  twoMethods: 'Choose two methods or more.',
  noPlace: 'Choose a method for at least one garden.',
  oneMethod: 'Tick the one method that the drawn bed of each garden lies under.',
  nothingLaid: 'Nothing would be laid: there are no such places, or no such methods.',
  noBlocks: 'Some bed lies in no block yet. Name the block of each bed in the table and save the blocks first.',
  tableTitle: 'All gardens and beds',
  asGarden: 'as its garden',
  methodOf: (place: string) => `Method of ${place}`,
  blockOf: (place: string) => `Block of ${place}`,
  laying: (year: number, phase: string, how: string, seed: string | null) =>
    [`year ${year}`, phase, how, seed === null ? '' : `draw ${seed}`].filter(Boolean).join(', '),
  blocksSay: 'Blocks are ground thought alike, by name: beds of a site with the same name lie in the same block.',
  blocksKeep: 'Save the blocks',
  blocksKept: (beds: number) =>
    beds === 0
      ? 'Every bed lies in that block already.'
      : plural(beds, { one: 'One bed lies in another block.', other: `${beds} beds lie in another block.` }),
  lookAsBefore: (season: string) => `Look at it as in ${season}, each method a year older`,
  partTitle: 'Split a bed in two',
  partSay:
    'Where a garden has one bed, split it first: a garden that holds two methods says more than two gardens with ' +
    'one each.',
  partButton: 'Split it',
  parted: 'The bed is split.',
  partTooLarge: 'The new bed must be smaller than the bed it comes from.',
  partPlanted: 'What stands in the bed, or stood there before, would no longer fit in what is left.',
  stripTitle: 'A control strip',
  stripSay:
    'One cultivar from one seed lot, on the same day, in every garden: what comes off it is compared like with ' +
    'like from the first season, whatever else is grown.',
  stripButton: 'Sow the control strip in every garden',
  stripName: (cultivar: string) => `Control strip: ${cultivar}`,
  stripSaved: 'The control strip is written down.',
  everyGarden: 'Choose a bed in every garden: a strip that is missing in one of them compares nothing.',
  bedIn: (garden: string) => `Bed in ${garden}`,
  uniformTitle: 'A uniform year first',
  uniformSay:
    'Where it can be waited for: one year with every garden worked alike shows how the ground differs by itself, ' +
    'and nothing improves a later comparison more. Mark the season as a uniform year when you add or correct it.',
  isUniform: 'This is a uniform year: every garden is worked alike, and what differs is the ground.',
  notUniform: 'It is marked as a uniform year, but more than one method lies on the ground.',
}
