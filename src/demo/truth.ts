/**
 * The truth of the demo, which tests ask the comparison to find. All of it is invented: no place, person or measurement
 * is real. Effects are on the natural logarithm of kilograms per m2 planted.
 */
export const seed = 20_260_801

export const methods = [
  { name: 'Dug every spring', effect: 0, rules: 'One spit deep each spring; compost dug in; hoed.' },
  { name: 'Broadfork, no inversion', effect: 0.04, rules: 'Loosened with a broadfork in early spring; never turned.' },
  { name: 'Compost mulch, never dug', effect: 0.2, rules: '3 cm of compost on top each winter; weeds pulled small.' },
  { name: 'Deep hay mulch', effect: 0.05, rules: '20 cm of hay kept on all year; planted through it.' },
  { name: 'Living clover between rows', effect: -0.15, rules: 'White clover between the rows, mown every fortnight.' },
] as const

/** In the order of the walk; each lies under the method of the same place in the list above, in all three seasons. */
export const gardens = [
  { name: 'Lower Terrace', effect: -0.05, before: 'Potato ground for twenty years', exposure: 'Open to the west' },
  { name: 'Orchard Edge', effect: 0.08, before: 'Rough grass under old trees', exposure: 'Sheltered, shade till ten' },
  { name: 'Long Bank', effect: 0.1, before: 'Market garden, well manured', exposure: 'Sunny, wind from the south' },
  { name: 'Hay Meadow', effect: -0.02, before: 'Hay meadow until three years before', exposure: 'Open, damp' },
  { name: 'Clover Strip', effect: 0, before: 'Pasture', exposure: 'Open to the west' },
] as const

export const bedsOfGarden = 6
export const bedAreaCm2 = 80_000
export const grossAreaCm2 = 700_000

export const seasons = [
  { name: '2023/24', startsOn: '2023-08-01', endsOn: '2024-05-31', effect: 0.05 },
  { name: '2024/25', startsOn: '2024-08-01', endsOn: '2025-05-31', effect: -0.12 },
  { name: '2025/26', startsOn: '2025-08-01', endsOn: '2026-05-31', effect: 0.07 },
] as const

export { question, running, runningInputs } from './truth-running.ts'

/** Mean marketable kg per m2, sowing as day of the season, first picking and number of pickings. Invented. */
export const crops = [
  { crop: 'potato', cultivar: 'Heron', kg: 2.8, sown: 70, first: 190, pickings: 1 },
  { crop: 'carrot', cultivar: 'Kestrel', kg: 4, sown: 80, first: 185, pickings: 3 },
  { crop: 'onion (bulb)', cultivar: 'Plover', kg: 3.2, sown: 50, first: 200, pickings: 1 },
  { crop: 'leek', cultivar: 'Moor', kg: 2.8, sown: 90, first: 250, pickings: 3 },
  { crop: 'beetroot', cultivar: 'Ruddock', kg: 3.4, sown: 75, first: 160, pickings: 3 },
  { crop: 'lettuce, cos', cultivar: 'Dunlin', kg: 2.4, sown: 60, first: 115, pickings: 2 },
  { crop: 'cabbage', cultivar: 'Stilt', kg: 4.2, sown: 65, first: 180, pickings: 2 },
  { crop: 'kale', cultivar: 'Raven', kg: 2.1, sown: 95, first: 200, pickings: 4 },
  { crop: 'green beans', cultivar: 'Swift', kg: 1.5, sown: 100, first: 165, pickings: 4 },
  { crop: 'courgette', cultivar: 'Gannet', kg: 4.5, sown: 95, first: 160, pickings: 6 },
  { crop: 'winter squash', cultivar: 'Owl', kg: 2.4, sown: 98, first: 240, pickings: 1 },
  { crop: 'broad beans (immature)', cultivar: 'Tern', kg: 1.3, sown: 20, first: 120, pickings: 3 },
] as const

/** Standard deviations on the log scale. */
export const spread = { gardenBySeason: 0.12, cropByGarden: 0.25, residual: 0.25 } as const

export const unmarketableShare = 0.12

/** Person-minutes per m2 of bed and season, by task, in the order of the gardens; harvest is by the kilogram. */
export const labour = {
  'preparing beds': [34, 18, 4, 5, 12],
  'carrying materials': [3, 3, 16, 20, 2],
  'spreading mulch or compost': [2, 3, 12, 16, 2],
  sowing: [8, 8, 8, 10, 9],
  planting: [7, 7, 6, 9, 8],
  weeding: [46, 40, 17, 11, 38],
  watering: [20, 18, 12, 7, 22],
  'paths and edges': [6, 6, 5, 4, 15],
  clearing: [9, 8, 7, 6, 9],
} as const

/** First and last week of the season in which each task is done, counted from 0. */
export const weeksOfTask = {
  'preparing beds': [2, 10],
  'carrying materials': [1, 6],
  'spreading mulch or compost': [1, 6],
  sowing: [4, 16],
  planting: [8, 18],
  weeding: [8, 38],
  watering: [14, 34],
  'paths and edges': [6, 40],
  clearing: [28, 44],
} as const

export const minutesOfHarvestPerKg = 4

/** What stands in the record on purpose. Places are counted from 0: gardens and crops above, seasons likewise. */
export const onPurpose = {
  /** In this season the garden grew squash where the others grew these crops: no match for them. */
  otherCrops: { season: 1, garden: 4, crops: [5, 9], instead: 'pumpkin', cultivar: 'Bittern' },
  totalLoss: { season: 1, garden: 3, crop: 0, cause: 'pest', dayOfSeason: 150 },
  weeksNeverClosed: { season: 1, garden: 1, weeks: ['2025-W01', '2025-W02', '2025-W03', '2025-W04', '2025-W05'] },
  /** Hours that were read off paper, all of them on one day weeks later. */
  offPaper: { season: 2, garden: 3, weeks: ['2025-W48', '2025-W49', '2025-W50', '2025-W51'], writtenOn: '2026-01-12' },
  /** Spread of one reading about another of the same weight, as a standard deviation of logarithms. */
  secondReadings: { sdLog: 0.02 },
  lateCompost: { season: 1, deliveredOn: '2024-10-29' },
  coveredBed: { season: 2, garden: 4, bed: 5, fromDay: '2025-08-15', toDay: '2026-03-20', why: 'couch grass' },
  changedAfterClosing: { season: 0, garden: 0, crop: 1, grams: 1_400 },
  sharedCrate: { season: 2, crop: 6, gardens: [0, 2], day: '2026-02-24', marketableG: 7_200 },
  /** A heap of their own: what went in, what was measured (tenths of a degree) and when it was ready. */
  heap: {
    name: 'Heap behind the shed',
    input: 'Own garden compost',
    unit: 'barrow',
    startedOn: '2025-04-05',
    readyOn: '2025-11-20',
    log: [
      {
        day: '2025-04-05',
        what: 'added',
        words: '12 barrows of crop waste, 4 of sheep manure, 3 of hay',
        tenthsC: null,
      },
      { day: '2025-04-14', what: 'temperature', words: 'in the middle, at arm’s length', tenthsC: 585 },
      { day: '2025-04-28', what: 'turned', words: null, tenthsC: null },
      { day: '2025-05-06', what: 'temperature', words: 'in the middle, at arm’s length', tenthsC: 510 },
    ],
  },
  /** Of seeds sown in one stretch of row, by garden; each of these beds holds a second crop. */
  plantsStanding: [
    { season: 2, crop: 1, countedOn: '2025-11-24', sown: 120, standing: [96, 101, 88, 54, 79] },
    { season: 2, crop: 8, countedOn: '2025-12-01', sown: 60, standing: [52, 55, 57, 38, 49] },
  ],
  sharedWork: { season: 2, task: 'recording', week: '2026-W08', personMinutes: 300 },
} as const

/** What a supplier's sheet would say, invented: per mille of moisture, kg in a m3, mg in a kg of dry matter. */
export const analyses: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  'Green waste compost': {
    moisturePermille: 450,
    densityKgPerM3: 620,
    nitrogenMgPerKg: 14_000,
    phosphorusMgPerKg: 3_500,
    potassiumMgPerKg: 9_000,
  },
  'Sheep manure, composted': {
    moisturePermille: 600,
    densityKgPerM3: 700,
    nitrogenMgPerKg: 18_000,
    phosphorusMgPerKg: 6_000,
    potassiumMgPerKg: 16_000,
  },
}

/** A round bale as the group weighed it and as it lies when it is shaken out; invented. */
export const bale = { name: 'bale', massG: 60_000, volumeMl: 1_200_000 } as const

/** From the heap behind the shed to each garden. */
export const metresFromHeap = [20, 35, 60, 90, 45] as const

/** Prices in cents of NZD; invented. The compost lies about 3 cm deep on the beds, as its method's rules say. */
export const inputs = [
  {
    name: 'Green waste compost',
    kind: 'compost',
    unit: 'm3',
    life: 1,
    garden: 2,
    season: 0,
    amount: 1.5,
    price: 11_700,
    carriage: 6_000,
    ordered: '2023-07-04',
    day: '2023-08-10',
  },
  {
    name: 'Green waste compost',
    kind: 'compost',
    unit: 'm3',
    life: 1,
    garden: 2,
    season: 1,
    amount: 1.5,
    price: 12_000,
    carriage: 6_000,
    ordered: '2024-08-20',
    day: '2024-10-29',
  },
  {
    name: 'Green waste compost',
    kind: 'compost',
    unit: 'm3',
    life: 1,
    garden: 2,
    season: 2,
    amount: 1.4,
    price: 11_500,
    carriage: 6_000,
    ordered: '2025-07-14',
    day: '2025-08-12',
  },
  {
    name: 'Hay, round bales',
    kind: 'mulch',
    unit: 'bale',
    life: 1,
    garden: 3,
    season: 0,
    amount: 9,
    price: 63_000,
    carriage: 6_000,
    day: '2023-08-21',
  },
  {
    name: 'Hay, round bales',
    kind: 'mulch',
    unit: 'bale',
    life: 1,
    garden: 3,
    season: 1,
    amount: 8,
    price: 60_000,
    carriage: 6_000,
    day: '2024-08-19',
  },
  {
    name: 'Hay, round bales',
    kind: 'mulch',
    unit: 'bale',
    life: 1,
    garden: 3,
    season: 2,
    amount: 8,
    price: 62_000,
    carriage: 6_000,
    day: '2025-08-18',
  },
  {
    name: 'Clover seed',
    kind: 'seed',
    unit: 'kg',
    life: 3,
    garden: 4,
    season: 0,
    amount: 2,
    price: 5_400,
    carriage: 600,
    day: '2023-08-15',
  },
  {
    name: 'Broadfork',
    kind: 'other',
    unit: 'piece',
    life: 10,
    garden: 1,
    season: 0,
    amount: 1,
    price: 24_000,
    carriage: 0,
    day: '2023-08-03',
  },
  {
    name: 'Sheep manure, composted',
    kind: 'manure',
    unit: 'm3',
    life: 2,
    garden: 0,
    season: 0,
    amount: 1.2,
    price: 6_000,
    carriage: 4_000,
    ordered: '2023-08-14',
    day: '2023-08-28',
  },
  {
    name: 'Sheep manure, composted',
    kind: 'manure',
    unit: 'm3',
    life: 2,
    garden: 0,
    season: 2,
    amount: 1.2,
    price: 6_600,
    carriage: 4_000,
    ordered: '2025-08-18',
    day: '2025-08-25',
  },
] as const
