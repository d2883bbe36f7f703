import { plural } from './plural.ts'

interface Over {
  readonly garden: string
  readonly season: string
  readonly source: string
  readonly nutrient: string
  readonly kg: string
  readonly limit: string
  readonly rule: string
}

const nutrients = { nitrogen: 'nitrogen', phosphorus: 'phosphorus', potassium: 'potassium' }

/** What came to the ground and what left it. Figures of others are named with who gives them. */
export const ledger = {
  title: 'Nutrients: what came and what left',
  link: 'What came to each garden and what left it, all seasons: nitrogen, phosphorus, potassium',
  needsSeason: 'First make a season and a garden with beds: a spreading and a harvest count toward them.',
  choose: 'Nutrient',
  nutrients,
  symbols: { nitrogen: 'Nitrogen (N)', phosphorus: 'Phosphorus (P)', potassium: 'Potassium (K)' },
  most: ({ garden, span, more, nutrient }: Record<'garden' | 'span' | 'more' | 'nutrient', string>) =>
    `${garden} was brought ${more} g more ${nutrient} a m² than its harvests took, ${span}: the most of all gardens ` +
    'of which it is known.',
  drawnDown: ({ span, nutrient }: Record<'span' | 'nutrient', string>) =>
    `In no garden of which it is known did inputs bring more ${nutrient} than harvests took, ${span}.`,
  notKnown: (nutrient: string) => `How much ${nutrient} is left is not known of any garden yet.`,
  span: (first: string, last: string) => (first === last ? `in ${first}` : `from ${first} to ${last}`),
  unknownOf: (garden: string, names: string) => `Of ${garden} it is not known: no figure for ${names}.`,
  publishedUsed: (count: number) =>
    plural(count, {
      one: 'One input has no analysis of yours and counts by a published one.',
      other: `${count} inputs have no analysis of yours and count by published ones.`,
    }),
  sureHeading: 'How sure',
  sure: 'The most that can have stayed: what washes out, goes into the air or leaves with weeds is not counted.',
  cropsDiffer: 'A crop differs from its food table by a third and more; a load from a published analysis by half.',
  caption: (nutrient: string, span: string) => `Grams of ${nutrient} a m² of bed, ${span}`,
  columns: {
    garden: 'Garden',
    season: 'Season',
    brought: 'Brought',
    found: 'Crops find',
    taken: 'Taken',
    left: 'At most left',
    perHa: 'kg/ha',
    gathered: 'Gathered',
  },
  atLeast: (figure: string) => `at least ${figure}`,
  without: (names: string) => `no figure for ${names}`,
  unknown: 'unknown',
  pictureTitle: (nutrient: string) => `${nutrient}: what may have gathered`,
  pictureHow: 'Brought less taken, summed from season to season; a line ends where a figure is missing.',
  pictureAxis: 'g a m² of bed',
  start: 'start',
  seasonsHeading: 'Season by season',
  madeHeading: 'What each input was taken to hold',
  madeColumns: {
    input: 'Input',
    moisture: 'Water, %',
    nitrogen: 'N, % of dry matter',
    phosphorus: 'P',
    potassium: 'K',
    source: 'From',
  },
  sources: {
    own: 'your own analysis',
    CalRecycle: 'CalRecycle, mean of 1,600 composts; half water',
    AHDB: 'AHDB (RB209), N and dry matter; P and K from memory of it',
    Kentucky: 'University of Kentucky, PSS Views 142',
    Texas: 'label, as Texas A&M gives it',
    USDA: 'USDA 11352, raw potato',
    memory: 'common figures, from memory',
    none: 'no figure',
  },
  greenManure: (crops: string, garden: string) =>
    `Green manure (${crops}) in ${garden} was grown in place: it brings no phosphorus or potassium. What a legume ` +
    'takes from the air, often 5 to 15 g of nitrogen a m² (from memory), is not counted.',
  limitsHeading: 'Local limits, by what is spread',
  limitsSay:
    'Kilograms a hectare and year (or g/m2), as they hold today; blank is no limit. What is typed here is for a look ' +
    'and stands in the address; what holds for the group is written down once.',
  limitOf: (source: string, nutrient: string) => `${source}, ${nutrient}`,
  over: ({ garden, season, source, nutrient, kg, limit, rule }: Over) =>
    `${garden}, ${season}: ${kg} kg of ${nutrient} a hectare from ${source}, over the limit of ${limit} (${rule}).`,
  overMore: (count: number) =>
    plural(count, { one: 'One more is over its limit.', other: `${count} more are over their limits.` }),
  work: 'Hold against these',
  readingHeading: 'How to read this',
  reading: [
    'An input counts whole in the season it was spread in. It needs its weight (or volume and density): a bale or a ' +
      'bag that was never weighed is unknown, and unknown is not zero.',
    'What crops find: of nitrogen in manure 25, 13 and 6 per cent in the first, second and third season, in compost ' +
      'and composted manure 12, 7 and 4; of phosphorus 70, 20 and 6; of potassium 90 at once (Alberta Agriculture, ' +
      'Nutrient Management Planning Guide). Meals 75 per cent of nitrogen at once, hay and straw 10, 10 and 5: from ' +
      'memory. A season counts as a year.',
    'Harvests count with all that was weighed, at the composition of the raw crop in its food table: nitrogen is ' +
      'protein divided by 6.25.',
  ],
  feedLine: 'More than crops take builds up and can reach water.',
  feedSay:
    'Phosphorus of compost and manure stays for years, nitrogen of meals and fresh manure washes out within a ' +
    'season. Rules against over-fertilising differ by source and place: manure, compost and sludge each have their ' +
    'own, with times and distances from water. Yours decide.',
  cadmiumLine: 'Rock phosphate can carry cadmium.',
  cadmiumSay:
    'Ask for an analysis. For reference, Regulation (EU) 2019/1009 allows organo-mineral fertilisers 60 mg of ' +
    'cadmium in a kg of P2O5 where these hold 5 per cent of it or more, and 3 mg/kg of dry matter below; organic ' +
    'fertilisers 1.5 mg/kg. It stays in the ground and goes into leaves and roots. Local rules decide.',
}
