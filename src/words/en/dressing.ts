import { plural } from './plural.ts'

interface Whole {
  /** Volumes and loads, joined. */
  readonly goesOn: string
  readonly mass: string | null
  readonly cost: string | null
  readonly hours: string | null
}

/** What is spread on the whole group's ground next season. Figures of others are named with who gives them. */
export const dressing = {
  title: 'What to spread next season',
  none: 'First make a garden with beds and give it a method: a dressing lies on ground.',
  nothing: 'As it stands nothing is spread next season.',
  answer: ({ goesOn, mass, cost, hours }: Whole) =>
    `Next season takes ${goesOn}` +
    (mass === null ? '' : ` (${mass})`) +
    (cost === null ? '; what it costs is not known' : `, for ${cost}`) +
    (hours === null ? '.' : ` and ${hours} of carrying and spreading.`),
  and: (parts: readonly string[]) => new Intl.ListFormat('en', { style: 'long' }).format(parts),
  most: ({ method, times, needed }: { method: string; times: string; needed: string | null }) =>
    `${method} goes furthest beyond its need: as much phosphorus as ${times} seasons like the last one carried off` +
    (needed === null ? '.' : `, where ${needed} would do.`),
  picture: {
    title: 'Phosphorus laid, in seasons of harvest',
    told: (bars: readonly string[]) => `Phosphorus laid, in seasons of harvest: ${bars.join('; ')}.`,
  },
  noneNeeded: 'none',
  layersHeading: 'The layer that replaces what crops took',
  layerColumns: {
    method: 'Method',
    needed: 'Needed, fresh',
    settles: 'Settles to',
    decides: 'What decides',
    lastTime: 'Last time',
  },
  onceIn: (seasons: number) =>
    plural(seasons, { one: 'or 1 cm once a season', other: `or 1 cm once in ${seasons} seasons` }),
  by: {
    nitrogen: 'nitrogen',
    phosphorus: 'phosphorus',
    potassium: 'potassium',
    high: 'phosphorus is high already',
    covered: 'earlier dressings still feed enough nitrogen',
    limit: 'a limit',
  },
  byLimit: (limit: string) => `the limit: ${limit}`,
  missing: {
    taken: (names: string) => `Nothing was weighed on it in a closed season: ${names} taken is not known.`,
    weight: (product: string) => `${product} was never weighed: fill a bucket and weigh it.`,
    analysis: (names: string) => `Not known by ${names}: the product has no figure for it.`,
  },
  planNeeded: 'Plan with these layers',
  noLimit: 'none',
  orderBy: ({ product, day, lead }: Record<'product' | 'day' | 'lead', string>) =>
    `Order ${product} by ${day} (slowest: ${lead} days).`,
  orderLate: ({ product, day, lead }: Record<'product' | 'day' | 'lead', string>) =>
    `${product} had to be ordered by ${day} (slowest load: ${lead} days): order now, and spread later.`,
  heapReady: (heap: string) => `${heap} is ready: write a batch down, and it counts.`,
  sureHeading: 'What it rests on',
  restsOn: 'Layers are as last time; prices, hours and analyses are the product’s own.',
  published: (products: string) => `By a published analysis, having none of yours: ${products}.`,
  unknownMass: (products: string) => `Never weighed, so neither weight nor nutrients are known: ${products}.`,
  caption: 'Next season’s dressing, a row a method',
  columns: {
    method: 'Method',
    layer: 'Goes on',
    volume: 'm³',
    mass: 't',
    barrows: 'Barrows',
    bags: 'Bags',
    hours: 'Hours',
    cost: 'Cost',
    perM2: 'per m²',
    perKg: 'per kg',
  },
  perKgSay: (season: string) => `Cost per kg is by the weights of ${season}.`,
  sizes: ({ barrow, bag }: Record<'barrow' | 'bag', string>) => `A barrow of ${barrow} l, a bag of ${bag} l.`,
  noProduct: 'nothing',
  fresh: (depth: string, product: string) => `${depth} of ${product}`,
  load: (count: string, unit: string, product: string) => `${product}: ${count} × ${unit}`,
  settled: (depth: string) => `settles to about ${depth}`,
  fromHeaps: (parts: string) => `first ${parts}`,
  heapPart: (volume: string, name: string) => `${volume} m³ of ${name}`,
  needHeading: 'What it needs, and what this brings',
  needSay:
    'Per m² of bed. What the last season carried off, by its weights and food tables; the layer of this product ' +
    'that replaces it by nitrogen (what crops find in the first season, less what they still find of earlier ' +
    'dressings), by phosphorus and by potassium; the thickest that a limit allows; what the plan brings. The ' +
    'smallest of the three is proposed: a thicker one leaves the others to gather. What it leaves short, of nitrogen ' +
    'mostly, comes from legumes or a meal. What the ground already holds is in a soil test alone.',
  needColumns: {
    method: 'Method',
    takenN: 'N taken',
    takenP: 'P',
    takenK: 'K',
    byN: 'Layer by N',
    byP: 'by P',
    byK: 'by K',
    limit: 'by limit',
    nitrogen: 'Plan brings N',
    phosphorus: 'P',
    potassium: 'K',
    tests: 'Last soil tests',
  },
  testSaid: ({ analyte, value, band }: { analyte: string; value: string; band: string | null }) =>
    band === null ? `${analyte} ${value}` : `${analyte} ${value} (${band})`,
  testHigh: (method: string, analytes: string) =>
    `${method}: the laboratory calls ${analytes} high already. For that, nothing more is needed.`,
  noTest: 'none',
  overLimit: (method: string, kg: string, limit: string) =>
    `${method}: ${kg} kg a hectare is more than ${limit}. Local rules decide.`,
  overInch: (method: string) =>
    `${method}: more than an inch (25 mm) a year is thicker than the University of Minnesota (2022) advises.`,
  timingHeading: 'How long before sowing it went on, and what came of it',
  timingSay:
    'Your own record: the first day of spreading in a season, the days until something came into that ground, plants ' +
    'counted of those sown, and what of the roots could not be sold. A few seasons side by side show no cause.',
  timingNone: 'No spreading and sowing on the same ground is written down yet.',
  timingRange: (least: string, most: string) => `So far ${least} to ${most} days.`,
  timingColumns: {
    garden: 'Garden',
    season: 'Season',
    on: 'Spread on',
    days: 'Days',
    stands: 'Stood',
    roots: 'Roots not sold',
  },
  ofSown: (standing: string, sown: string) => `${standing} of ${sown}`,
  changeHeading: 'Change it',
  changeSay:
    'A layer (3 cm, 30 mm), a load (12 barrows, 40 bags of 40 l, 2 trailers of 750 l, 800 kg) or nothing. The ' +
    'address keeps what you type. How far a layer settles and how big a bag is are common figures, from memory: ' +
    'measure yours.',
  product: (method: string) => `${method}: what`,
  amount: (method: string) => `${method}: how much`,
  blank: 'nothing',
  barrow: 'A barrow holds, litres',
  bag: 'A bag holds, litres',
  wantedOn: 'Day by which it should lie',
  leftOf: { compost: 'Compost settles to, %', manure: 'Manure settles to, %', mulch: 'Hay or straw settles to, %' },
  notAmount: 'Write a layer (3 cm), a load (12 barrows, 2 trailers of 750 l) or nothing.',
  unknownWord: (word: string) => `How much ${word} holds is not known: write it behind, such as “2 ${word} of 750 l”.`,
  work: 'Work it out again',
  layerLink: (garden: string) => `One layer on ${garden}, with every figure`,
  dustLine: 'Compost can carry legionella and moulds: wet it, air the place, wear gloves, wash your hands.',
  dustSay:
    'Bagged or heaped, it can hold Legionella longbeachae and dust of moulds that harm lungs. Open bags away from ' +
    'your face and out of closed rooms, damp it before it is moved, keep dust down, wear gloves and a close mask ' +
    'if you must work in dust, wash hands before you eat or smoke. A fever or cough after it: see a doctor and say so.',
  liftLine: 'A full barrow weighs as much as a person: fill it half, or carry with two.',
  liftSay: (barrow: string) =>
    `A barrow of the heaviest of these weighs about ${barrow} kg. NIOSH’s lifting equation starts from 23 kg for ` +
    'one lift under the best conditions, and takes off for reach, height, turning and how often (94-110, from memory).',
  rawLine: 'Raw manure and harvest, weedkiller residues: read this before it is ordered.',
  sums: (rows: number) => plural(rows, { one: 'one method', other: `${rows} methods` }),
  decision: ({ product, layer, method, volume }: Record<'product' | 'layer' | 'method' | 'volume', string>) =>
    `${layer} of ${product} on ${method}: ${volume}.`,
  change: 'A soil test, a weighed bucket and an analysis of your own load.',
}
