import { coverOrHoe } from './cover-or-hoe.ts'
import { decidingMade } from './deciding-made.ts'
import { payingBack } from './pay-back.ts'

type Laid = Record<'garden' | 'depth' | 'volume' | 'product', string> & Record<'cost' | 'phosphorus', string | null>

/** The pages on which a decision is thought through. Figures of others are named with who gives them. */
export const deciding = {
  seasonEnd: {
    title: 'At the season’s end',
    noSeason: 'No season has ended yet: what stands here says what the record carries so far.',
    closed: (season: string) => `From the record as it stands, with ${season} closed.`,
    open: (season: string) =>
      `From the record as it stands. ${season} has ended and is not closed: it can still change.`,
    dueHeading: 'Decided before, and due for a look',
    questions: {
      methods: 'Which method did what?',
      compost: 'How much to spread next season?',
      restart: 'Cover a weedy bed, or keep hoeing?',
      payBack: 'When does a method pay back what it took more?',
      nextSeason: 'What could next season settle?',
    },
    unknown: {
      methods: 'Not known yet: two methods need ground, weights and closed weeks.',
      compost: 'Not known yet: a garden with beds is needed, and a volume.',
      restart: 'No patch of a perennial weed is written down under Notes.',
      payBack: 'Not known yet: two methods need ground and hours in a closed season.',
      nextSeason: 'Not known yet.',
    },
    change: 'What would change it:',
    toLog: 'Write down what you decide',
  },
  salvageTooHigh: 'It cannot be worth more at the end than it cost.',
  scenario:
    'A scenario, not advice: it is what follows from the figures in the form, and no more certain than they are. ' +
    'Change any of them; the address keeps what you typed.',
  prefilled: 'What stands in the form comes from your own record where there is one; the rest is said beside it.',
  work: 'Work it out again',
  toLog: 'Write this down as a decision',
  result: 'What follows',
  theTable: 'The table',
  unknown: 'not known',
  asWritten: 'As written',
  garden: 'Garden',
  chooseGarden: 'Show this garden',
  compost: {
    title: 'One layer on one garden',
    caption: 'What this layer takes and carries',
    none: 'First make a garden with beds: a layer lies on ground.',
    fields: {
      area: 'Ground that it goes on',
      depth: 'Depth, such as 30 mm or 3 cm',
      seasons: 'Seasons in a row, to see what builds up',
      wantedOn: 'Day by which it should be spread',
      price: 'Price of a m³',
      carriage: 'Carriage in all',
      density: 'Density, kg per m³ as it comes',
      moisture: 'Moisture, per cent of the fresh weight',
      nitrogen: 'Nitrogen (N), per cent of dry matter',
      phosphorus: 'Phosphorus (P), per cent of dry matter',
      potassium: 'Potassium (K), per cent of dry matter',
    },
    from: {
      depthOwn: (season: string) => `as it lay evenly in ${season}, by your own spreadings`,
      depthNone: 'no spreading of yours is known: a small layer to start from',
      priceOwn: (day: string) => `by your delivery of ${day}`,
      priceNone: 'no price of yours is known',
      densityOwn: 'from your own input',
      densityNone: 'not weighed by you: weigh a full bucket of it',
      densityTable:
        'not measured by you: 1000 lb in a cubic yard, a usual figure for compost; others go to 1600 lb, which ' +
        'the last column shows. Weigh a full bucket.',
      analysisOwn: 'from your own input',
      analysisNone: 'no analysis of yours: what is blank stays unknown',
      analysisTable: (source: string) => `no analysis of yours, a published one: ${source}. Loads differ widely.`,
    },
    heavier: 'At 949 kg a m³',
    rows: {
      volume: 'Volume',
      mass: 'Weight as it comes',
      cost: 'Cost with carriage',
      costPerM2: 'Cost per m² of this ground',
      hours: 'Carrying and spreading, at your own hours per m³',
      nitrogen: 'Nitrogen in it',
      firstSeason: 'of that found by crops in the first season (0 to 20 per cent)',
      phosphorus: 'Phosphorus in it',
      potassium: 'Potassium in it',
    },
    hoursUnknown: 'no hours are written for a load yet',
    carried: (total: string, perM2: string) => `${total}, ${perM2} per m²`,
    range: (low: string, high: string) => `${low} to ${high} per m²`,
    pictured: {
      title: 'What this layer would leave, every season again',
      how: 'Goes on less what was carried off, summed; nothing washes out here, so it is the most.',
      axis: 'g a m² of bed',
      season: 'Season',
    },
    balanceHeading: 'Against what was carried off',
    balanceSay: (garden: string, season: string) =>
      `Harvests of ${garden} in ${season}, all that was weighed, with the composition kept for each crop. What ` +
      'washes out is not counted, so what stays is an upper bound. What of it a soil test would ' +
      'find, only soil tests say.',
    balanceNone: 'Nothing was weighed on this garden in a season yet, so there is nothing to hold the layer against.',
    unknownCrops: (kg: string) => `${kg} of crops whose composition is not known are not counted.`,
    columns: {
      nutrient: 'Per m²',
      on: 'Goes on',
      off: 'Carried off',
      lasts: 'Seasons’ worth',
      replacing: 'Replaces it',
      after: (seasons: number) => `Left after ${seasons}`,
    },
    nutrients: { nitrogen: 'nitrogen', phosphorus: 'phosphorus', potassium: 'potassium' },
    overLimit: (kg: string, limit: string) => `${kg} kg a hectare is more than ${limit}. Local rules decide.`,
    phosphorusHeading: 'Phosphorus builds up',
    phosphorusSay:
      'Crops take far less phosphorus than nitrogen, so a layer that feeds them with nitrogen leaves phosphorus ' +
      'behind every season, and it does not wash away soon. Montana State University (2025): one inch (25 mm) of ' +
      'manure compost held about one season of nitrogen, four years of potassium and fourteen of phosphorus. ' +
      'University of Minnesota (2022): twenty gardens fed with compost had a median of 133 ppm of soil ' +
      'phosphorus (27 to 244), where 25 is very high already; its advice is at most one inch a year. Take a soil ' +
      'test before you spread, compare it only with tests by the same extractant, and use less where phosphorus ' +
      'is high. Rules against over-fertilising and on keeping away from water differ by place: yours decide.',
    overInch: (depth: string) =>
      `${depth} is thicker than an inch (25 mm), the most in a year that the University of Minnesota (2022) advises.`,
    restsHeading: 'What it leaves out',
    when: 'When to order it',
    orderBy: (day: string, lead: number, wanted: string) =>
      `The slowest of your own loads took ${lead} days from order to delivery. To have it by ${wanted}, order by ` +
      `${day}.`,
    leadUnknown: 'No load of it has both the day it was ordered and the day it came: how long one takes is not known.',
    orderLate: (day: string, lead: number, wanted: string) =>
      `The slowest of your own loads took ${lead} days from order to delivery. For ${wanted} it had to be ` +
      `ordered by ${day}, which is past: order now, and spread later.`,
    compostName: 'compost',
    tooDeep: 'A layer of more than a metre is no layer.',
    chooseProduct: 'What is spread',
    leavesOut:
      'One product on one garden at a time: what else was spread there (in the ledger under Soil), what washes ' +
      'out and what the ground already holds are not in it.',
    answer: ({ garden, depth, volume, product, cost, phosphorus }: Laid) =>
      `${depth} of ${product} on ${garden} takes ${volume}` +
      `${cost === null ? '' : `, about ${cost} with carriage`}` +
      `${phosphorus === null ? '' : `, and brings ${phosphorus} of phosphorus to each m²`}.`,
    changeHeading: 'Change the layer, or what is assumed',
    decision: ({ garden, depth, volume, product }: Record<'garden' | 'depth' | 'volume' | 'product', string>) =>
      `${depth} of ${product} on ${garden}: ${volume}.`,
    expected: (cost: string | null, phosphorus: string | null) =>
      [cost ? `It costs about ${cost}` : null, phosphorus ? `it carries ${phosphorus} of phosphorus per m²` : null]
        .filter((part) => part !== null)
        .join('; '),
  },
  restart: coverOrHoe,
  payBack: payingBack,
  howMade: decidingMade,
}
