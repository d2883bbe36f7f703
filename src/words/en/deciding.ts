import { coverOrHoe } from './cover-or-hoe.ts'
import { plural } from './plural.ts'

interface Owing {
  readonly own: string
  readonly owing: string
}

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
    balanceHeading: 'Against what was carried off',
    balanceSay: (garden: string, season: string) =>
      `Harvests of ${garden} in ${season}, all that was weighed, with the composition kept for each crop. What ` +
      'washes out is not counted, so what stays is an upper bound. A layer may hold several seasons’ worth of ' +
      'what is carried off; the layer that would only replace it stands beside that, and what is left after the ' +
      'seasons in a row. What of it a soil test would find, only soil tests say.',
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
    overInch: (depth: string) => `This layer of ${depth} is thicker than that inch.`,
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
    decision: ({ garden, depth, volume, product }: Record<'garden' | 'depth' | 'volume' | 'product', string>) =>
      `${depth} of ${product} on ${garden}: ${volume}.`,
    expected: (cost: string | null, phosphorus: string | null) =>
      [cost ? `It costs about ${cost}` : null, phosphorus ? `it carries ${phosphorus} of phosphorus per m²` : null]
        .filter((part) => part !== null)
        .join('; '),
  },
  restart: coverOrHoe,
  payBack: {
    title: 'How long until it pays back',
    question: (own: string, other: string) => `When has ${own} paid back what it took more than ${other}?`,
    none: 'First two methods need ground and hours in a season.',
    own: 'The method that was established',
    other: 'Against',
    compare: 'Compare these two',
    inHours: 'In hours',
    inInputs: 'In what was bought and brought',
    inBoth: (hour: string) => `In money, an hour at ${hour}`,
    noSeason: 'Not known yet: both methods need ground in a season that is closed.',
    unpriced: (count: number) =>
      plural(count, {
        one: 'In money it cannot be said: one spreading has no price.',
        other: `In money it cannot be said: ${count} spreadings have no price.`,
      }),
    says: {
      neverMore: (by: string, own: string, other: string) =>
        `${by} there was nothing to earn back: at no season’s end had ${own} taken more than ${other}.`,
      earnedBack: (by: string, own: string, { season, after }: { season: string; after: string }) =>
        `${by} ${own} had earned it back in season ${season}, ${after} seasons after most was owing.`,
      notYet: (by: string, { own, owing, saved, seasons }: Owing & { saved: string; seasons: string }) =>
        `${by} ${own} still owes ${owing} a m²; it saves ${saved} a season, so about ${seasons} seasons more.`,
      oneSeason: 'That is one settled season; no range can be given.',
      between: (low: string, high: string) => `By the spread of the settled seasons: ${low} to ${high}.`,
      mayBeNever: (low: string) => `By the spread of the settled seasons: ${low} at the soonest, and it may be never.`,
      notSettled: (by: string, own: string, owing: string) =>
        `${by} ${own} owes ${owing} a m², and no season without establishing is closed yet to say what it saves.`,
      tooLittle: (by: string, { own, owing, saved }: Owing & { saved: string }) =>
        `${by} ${own} owes ${owing} a m² and saves ${saved} a season: not within 20 seasons.`,
      savesNothing: (by: string, { own, other, owing, saved }: Owing & { other: string; saved: string }) =>
        `${by} ${own} owes ${owing} a m² and does not earn it back: a settled season takes ${saved} more than ` +
        `${other}.`,
    },
    sureHeading: 'How sure',
    restsHeading: 'What it rests on',
    rests:
      'Hours without harvest, washing and packing, and inputs with things that last by their useful life, on a ' +
      'm² of bed of each, in closed seasons of both.',
    establishingMore: (seasons: string, written: string, more: string) =>
      `Written as establishing in ${seasons}: ${written} a m², ${more} more than the other took in the same seasons.`,
    establishingNoMore: (seasons: string, written: string) =>
      `Written as establishing in ${seasons}: ${written} a m², no more than the other took in the same seasons.`,
    openWeeks: (count: number) =>
      plural(count, {
        one: 'One garden-week of these seasons is not closed: what was done in it is not known.',
        other: `${count} garden-weeks of these seasons are not closed: what was done in them is not known.`,
      }),
    tooEstablishing:
      'The other method was being established in the same seasons: what this one took more then says little.',
    fewSeasons: 'Fewer than two settled seasons: the next may be quite different.',
    cannotKnow:
      'Whether the saving lasts, whether people have learned meanwhile, and, with one garden a method, whether ' +
      'the method or the ground saves: none of it can be told from this.',
    picture: {
      title: {
        hours: (own: string, other: string) => `Hours that ${own} took more than ${other}, summed`,
        inputs: (own: string, other: string) => `Inputs that ${own} took more than ${other}, summed`,
      },
      how: 'At each season’s end. Above 0 it has taken more; where the line comes back to 0 it is earned back.',
      start: 'start',
      axisHours: 'hours per m² of bed',
      axisMoney: (currency: string) => `${currency} per m² of bed`,
      head: { season: 'Season', more: 'More in it, a m²', sum: 'More so far, a m²' },
    },
    thingHeading: 'A tool or machine that is bought',
    thingSay:
      'Its yearly cost in equal parts, and by capital recovery, which counts interest as well (Iowa State ' +
      'University Extension, Ag Decision Maker A3-29). Fuel, repairs and housing are not in it.',
    fields: {
      price: 'Price',
      salvage: 'What it is worth at the end',
      years: 'Years it lasts',
      rate: 'Real yearly rate, per cent (interest less inflation)',
      saved: 'Hours it saves a year',
    },
    thingRows: {
      straight: 'A year, in equal parts',
      recovery: 'A year, by capital recovery',
      perHour: 'An hour that it saves costs',
    },
    thingSaid: (perHour: string) =>
      `It pays where an hour is worth more than ${perHour} to the group. A machine has guards and a manual: ` +
      'those, and a person who was shown, come first.',
    thingWork: 'Work out the yearly cost',
  },
  /** For the public page that says how every figure is made. */
  howMade: [
    {
      key: 'depth-and-cost',
      name: 'Ground covered at a depth, and its cost',
      how:
        'The volume that was spread over the depth that was measured; the spreading’s part of price and carriage ' +
        'over that ground. Barrows and bags come in by the size that the group has measured, weights by the ' +
        'density of the input.',
      example: '2 m³ at 50 mm cover 40 m²; at 90.00 in all that is 2.25 per m².',
      source: 'Arithmetic: 10 L cover 1 m² at 10 mm.',
      not: 'Where the volume of a unit is not known.',
    },
    {
      key: 'raw-manure-interval',
      name: 'Days between raw manure and harvest',
      how:
        '120 days from the day it was spread where the edible part touches the soil or soil particles, 90 ' +
        'otherwise. Not known counts as touching; partly rotted manure counts as raw. A picking on the last day is ' +
        'late enough.',
      example: 'Spread on 1 January 2026: not before 1 May where it touches, 1 April where it does not.',
      source: '7 CFR 205.203(c)(1), National Organic Program, United States. A reference: local rules decide.',
      not:
        'Where the wait was over before the crop was sown, or the crop was cleared before the manure went on. It ' +
        'never blocks.',
    },
    {
      key: 'compost-layer',
      name: 'What a layer of compost carries',
      how:
        'Volume = area x depth; mass = volume x density; dry matter = mass x (1 - moisture); nutrient = dry matter ' +
        'x its content. Oxides become elements by atomic weights: P = 0.4364 P2O5, K = 0.8302 K2O. Against it ' +
        'stands what harvests carried off: weight x composition of the raw food, nitrogen as protein / 6.25.',
      example:
        '5 cm on 1 m² at 600 kg/m³, half of it water, 1.5-0.4-1.0 per cent of dry matter: 30 kg, 15 kg dry, 225 ' +
        'g N, 60 g P, 150 g K.',
      source:
        'Atomic weights: IUPAC. Composition: USDA National Nutrient Database for Standard Reference. Usual ' +
        'compost: New England Vegetable Guide (1-1-1). Build-up: Montana State University 2025, University of ' +
        'Minnesota 2022.',
      not:
        'A nutrient whose content is not known stays so. What stays of nitrogen is not shown: most of it is held ' +
        'in humus, washed out or lost to the air.',
    },
    {
      key: 'cover-or-hoe',
      name: 'Covering a weedy bed, or hoeing on',
      how:
        'Both ways over the same seasons, beyond a clean bed of the same method. Hoeing: its time a season, ' +
        'falling by the share that is said, and the harvest the weed takes. Covering: laying, mending and lifting, ' +
        'the harvest of the covered seasons, and hoeing again from the second season after it where the weed comes ' +
        'back; less the work that the covered bed spares, at most to the worth of its lost harvest. In hours a ' +
        'lost kg counts the hours in which the group grows it; with a wage and a price both are money. Each figure ' +
        'is drawn from a triangle between its low and high; the share of draws in which covering takes less is a ' +
        'chance under those assumptions.',
      example:
        '5 h of hoeing a season for 3 seasons are 15 h. 4 h of covering, one season without 20 kg at 0.25 h/kg ' +
        '(5 h) less 5 h of work spared, not coming back: 4 h. Covering takes 11 h less, and pays above 1.33 h of ' +
        'hoeing a season.',
      source: 'A model of our own. Triangular spreads: Evans, Hastings and Peacock, Statistical Distributions, 2000.',
      not: 'Where the record does not know it and nothing is typed.',
    },
    {
      key: 'pay-back',
      name: 'Pay-back of establishing, and of a tool',
      how:
        'What a method took more than another on a m² of bed, in hours without harvest, washing and packing, in ' +
        'inputs (things that last by their useful life), and in both where the group values an hour, summed over ' +
        'the closed seasons of both. It is earned back where the sum comes back to 0, counted evenly within that ' +
        'season; what is still owing is divided by what a settled season saves, with a range by Student’s t over ' +
        'two or more such seasons, for their mean. A tool: (price - end value) / years, and by capital recovery ' +
        'with a real rate r: (price - end value) x r (1 + r)^n / ((1 + r)^n - 1) + end value x r.',
      example:
        '30 min/m² more in the first season, then 12, 12 and 12 less: earned back 2.5 seasons after it. A tunnel ' +
        'of 2000, worth 200 after 15 years, at 5 per cent: 120.00 a year in equal parts, 183.42 by capital ' +
        'recovery.',
      source:
        'Pay-back with unequal years, as in any text on capital budgeting. Iowa State University Extension, Ag ' +
        'Decision Maker A3-29, Estimating Farm Machinery Costs.',
      not:
        'Where nothing is saved, no closed season has followed establishing, it lies beyond 20 seasons, or a ' +
        'spreading has no price (money).',
    },
  ],
}
