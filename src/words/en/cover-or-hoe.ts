import { plural } from './plural.ts'

/**
 * The page on which covering a weedy bed is held against hoeing on. Figures of others are named with who gives them.
 */
export const coverOrHoe = {
  title: 'Cover a weedy bed, or keep hoeing',
  question: (bed: string) => `Cover ${bed}, or keep hoeing?`,
  none: 'First make a garden with beds.',
  allBeds: (garden: string) => `${garden}, all beds`,
  chooseBed: 'Bed or garden',
  showBed: 'Show this bed',
  upsideDown: 'Low, middle and high go upwards.',
  answer: {
    always: 'Under these assumptions covering takes less, however little hoeing it saves.',
    never: 'Under these assumptions covering cannot take less, however much hoeing it saves.',
    pays: (needs: string, yours: string) =>
      `Covering pays if it saves more than ${needs} of hoeing a season; yours was ${yours}.`,
    between: (low: string, high: string) => `In eight of ten draws that border lies between ${low} and ${high}.`,
  },
  chance: (times: number, how: string, seasons: string) =>
    `Over ${seasons} seasons covering takes less in ${times} of 100 draws under your assumptions: ${how}.`,
  how: {
    nearlyAlways: 'nearly always',
    mostly: 'mostly',
    oftener: 'slightly oftener than not',
    even: 'about as often as not',
    seldomer: 'slightly less often than not',
    seldom: 'seldom',
    hardlyEver: 'hardly ever',
  },
  after: {
    from: (low: string, middle: string) =>
      `At the earliest it pays after ${low} seasons, in half of the draws by ${middle}.`,
    late: (low: string) => `At the earliest it pays after ${low} seasons; in half of the draws it does not within 20.`,
    never: 'In nine of ten draws it does not pay within 20 seasons.',
  },
  decides: (name: string, low: number, high: number) =>
    `What decides is ${name}: with its low figure ${low} of 100 draws are for covering, with its high figure ${high}.`,
  decidesNothing: 'No figure is unsure, so none decides.',
  leavesOut: {
    money: 'Counted in hours alone: with an hour’s worth and a price of a kilogram, money is counted too.',
    materials: 'Cover and pegs are not counted: type what they cost.',
    noOwn:
      'What a clean bed gives and takes is not known, so neither the lost harvest nor the work a covered bed ' +
      'spares is counted.',
    edge: 'Couch from the path or hedge comes back: the chance of that stands among the assumptions.',
  },
  leavesOutHeading: 'What it leaves out',
  rests: {
    patch: (species: string, area: string, shoots: string | null, day: string) =>
      `Seen on ${day}: ${species} on ${area}${shoots === null ? '' : `, ${shoots} shoots a m²`}.`,
    someGround: 'part of it',
    noPatch: 'No patch of a weed is written down for this bed.',
  },
  assumptionsHeading: 'Assumptions',
  assumptionsSay: 'yours where the record has them; change any and look again',
  columns: { name: 'For this bed', low: 'low', middle: 'middle', high: 'high', from: 'from' },
  fields: {
    area: 'Ground that would be covered',
    seasons: 'Seasons to look ahead',
    wage: 'What an hour is worth',
    pricePerKg: 'Price of a kilogram',
    materials: 'Cover, pegs and barrier',
  },
  rows: {
    covered: 'Seasons it lies covered',
    coverMinutes: 'Time to lay, mend and lift the cover, with its edge',
    hoeMinutes: 'Hoeing that the weed takes in a season',
    falls: 'That falls from season to season by, %',
    lostToWeed: 'Harvest that the weed takes, %',
    comesBack: 'Chance that it comes back from the edge, %',
    ownG: 'Harvest of a clean bed in a season, kg',
    ownMinutes: 'Work of a clean bed in a season, harvest with it',
    transplantMinutes: 'More work in a first season of transplants only',
    transplantLost: 'Harvest lost in that season, %',
  },
  /** The same within a sentence. */
  named: {
    covered: 'how long it lies covered',
    coverMinutes: 'the work of covering',
    hoeMinutes: 'how much hoeing the weed takes',
    falls: 'how fast the hoeing falls',
    lostToWeed: 'how much harvest the weed takes',
    comesBack: 'whether it comes back from the edge',
    ownG: 'what a clean bed gives',
    ownMinutes: 'what work a clean bed takes',
    transplantMinutes: 'the work of a season of transplants',
    transplantLost: 'what a season of transplants loses',
  },
  from: {
    hoeAbove: (season: string) => `this bed’s weeding in ${season} above that of its method’s clean beds`,
    hoeAll: (season: string) =>
      `all weeding of this bed in ${season}: no clean bed of its method has hours of its own to take off`,
    hoeNone: 'no weeding is written down for it: type your own',
    own: (method: string, season: string) => `${method} in ${season}, beds without a patch, by area`,
    ownAll: (method: string, season: string) =>
      `${method} in ${season}: every bed has a patch, so the weed’s hours are taken off`,
    ownNone: 'nothing is weighed and timed there yet: type your own, or leave 0',
    cover: 'six minutes a m², from memory and without a source',
    coverOwn: (beds: number) =>
      plural(beds, {
        one: 'what covering took a m² on the one bed of yours that was covered and uncovered again',
        other: `what covering took a m² on ${beds} beds of yours that were covered and uncovered again`,
      }),
    covered: 'no controlled figures found; one agronomist reported about two years under black sheet',
    falls: 'as the patch shrank between the last two times it was seen',
    fallsNone: 'no patch of yours has shrunk yet: taken as staying',
    guess: 'a guess: type your own',
    back: (back: number, covers: number) =>
      `shoots at the last count on ${back} of ${covers} ${plural(covers, { one: 'cover', other: 'covers' })} ` +
      'of yours that were lifted and counted, with the ends of that share’s 95 % interval',
    transplants: 'nothing, unless you plan one',
  },
  look: 'Look again',
  toLog: 'Write this down as a decision',
  assumed: (what: string, middle: string, low: string, high: string) => `${what}: ${middle} (${low} to ${high})`,
  decision: (bed: string) => `Cover ${bed} and start again.`,
  expected: (needs: string) => `It pays if it saves more than ${needs} of hoeing a season.`,
  blank: 'The record does not know all of it yet: fill in what is blank in the table.',
  picture: {
    hours: 'What each way has taken, season after season',
    money: 'What each way has cost, season after season',
    how: 'Lines: half of the draws lie below. Bands: eight of ten draws.',
    axisHours: 'hours, lost harvest with them, beyond a clean bed',
    axisMoney: (currency: string) => `${currency}, hours and lost harvest with them, beyond a clean bed`,
    hoe: 'hoe on',
    cover: 'cover',
    season: (count: string) => `after ${count}`,
    now: 'now',
    head: {
      season: 'Seasons',
      hoeing: 'Hoeing',
      hoeingBand: 'eight of ten',
      covering: 'Covering',
      coveringBand: 'eight of ten',
    },
    band: (low: string, high: string) => `${low} to ${high}`,
  },
  movedHeading: 'When one figure alone is low or high',
  movedHead: { name: 'Assumption', low: 'with its low', high: 'with its high' },
  of100: (times: number) => `${times} of 100`,
  middleHeading: 'With every figure at its middle',
  middleRows: {
    hoeing: 'Hoeing on takes',
    covering: 'Covering, and hoeing where it comes back, takes',
    spared: 'Work that the covered bed spares',
    lostHoeing: 'Harvest lost to the weed',
    lostCovering: 'Harvest lost by covering',
    gain: 'Covering takes less by',
  },
  howItCounts:
    'Both ways run over the same seasons and count what they take beyond a clean bed of the same method. A ' +
    'covered bed spares its work and loses its harvest; the work it spares is credited at most to the worth of ' +
    'that harvest, so that a clean bed never gains by a cover. In hours a lost kilogram counts what it takes you ' +
    'to grow one.',
  know: 'Before you cover it',
  knowList: [
    'Couch comes back from the edges: a bed that is covered without an edge cut or sunk around it is soon taken again.',
    'Hoe or cut when shoots are 5 to 10 cm, before the third or fourth leaf: later, the roots are fed again ' +
      '(Garden Organic; Cornell Weed Ecology).',
    'The worst bed is chosen because it is the worst: part of what is better afterwards would have come anyway.',
    'Count shoots and patches before and after, and not in a drought. One bed shows little: leave another one ' +
      'hoed beside it.',
    'Old carpet and some plastics shed or leach: use a cover made for soil. A rolled wet cover is heavy: move it ' +
      'with two.',
  ],
}
