/** The pages on which a decision is thought through. Figures of others are named with who gives them. */
export const deciding = {
  salvageTooHigh: 'It cannot be worth more at the end than it cost.',
  scenario:
    'A scenario, not advice: it is what follows from the figures in the form, and no more certain than they are. Change any of them; the address keeps what you typed.',
  prefilled: 'What stands in the form comes from your own record where there is one; the rest is said beside it.',
  work: 'Work it out again',
  toLog: 'Write this down as a decision',
  result: 'What follows',
  unknown: 'not known',
  asWritten: 'As written',
  garden: 'Garden',
  chooseGarden: 'Show this garden',
  compost: {
    title: 'How much compost next season',
    caption: 'What this layer takes and carries',
    none: 'First make a garden with beds: a layer lies on ground.',
    fields: {
      area: 'Ground that it goes on',
      depth: 'Depth, mm',
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
      densityTable:
        'not measured by you: 1000 lb in a cubic yard, a usual figure for compost; others go to 1600 lb, which the last column shows. Weigh a full bucket.',
      analysisOwn: 'from your own input',
      analysisTable:
        'no analysis of yours: half water, and 1-1-1 (N-P2O5-K2O) as it comes, as the New England Vegetable Guide gives for compost. Composts differ widely.',
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
      `Harvests of ${garden} in ${season}, all that was weighed, with the composition kept for each crop. What washes out is not counted, so what stays is an upper bound. A layer may hold several seasons’ worth of what is carried off; the layer that would only replace it stands beside that, and what is left after the seasons in a row, also as if all of it stayed in the upper 20 cm of soil (240 kg a m²).`,
    balanceNone: 'Nothing was weighed on this garden in a season yet, so there is nothing to hold the layer against.',
    unknownCrops: (kg: string) => `${kg} of crops whose composition is not known are not counted.`,
    columns: {
      nutrient: 'Per m²',
      on: 'Goes on',
      off: 'Carried off',
      lasts: 'Seasons’ worth',
      replacing: 'Replaces it',
      after: (seasons: number) => `Left after ${seasons}`,
      soil: 'In topsoil',
    },
    nutrients: { nitrogen: 'nitrogen', phosphorus: 'phosphorus', potassium: 'potassium' },
    nitrogenOverReference: (perM2: string) =>
      `${perM2} of nitrogen per m² is more than 17 g, the 170 kg a hectare and year that Directive 91/676/EEC allows of livestock manure. Compost frees it slowly; some rules count it all the same.`,
    phosphorusHeading: 'Phosphorus builds up',
    phosphorusSay:
      'Crops take far less phosphorus than nitrogen, so a layer that feeds them with nitrogen leaves phosphorus behind every season, and it does not wash away soon. Montana State University (2025): one inch (25 mm) of manure compost held about one season of nitrogen, four years of potassium and fourteen of phosphorus. University of Minnesota (2022): twenty gardens fed with compost had a median of 133 ppm of soil phosphorus (27 to 244), where 25 is very high already; its advice is at most one inch a year. Take a soil test before you spread, compare it only with tests by the same extractant, and use less where phosphorus is high. Rules against over-fertilising and on keeping away from water differ by place: yours decide.',
    overInch: (depth: string) => `This layer of ${depth} is thicker than that inch.`,
    when: 'When to order it',
    orderBy: (day: string, lead: number, wanted: string) =>
      `The slowest of your own loads of compost took ${lead} days from order to delivery. To have it by ${wanted}, order by ${day}.`,
    leadUnknown:
      'No load of compost of yours has both the day it was ordered and the day it came: how long one takes is not known.',
    decision: (garden: string, depth: string, volume: string) => `${depth} of compost on ${garden}: ${volume}.`,
    expected: (cost: string | null, phosphorus: string | null) =>
      [cost ? `It costs about ${cost}` : null, phosphorus ? `it carries ${phosphorus} of phosphorus per m²` : null]
        .filter((part) => part !== null)
        .join('; '),
  },
  restart: {
    title: 'Cover a weedy bed and start again, or keep hoeing',
    none: 'First make a garden with beds.',
    chooseBed: 'Bed',
    showBed: 'Show this bed',
    upsideDown: 'The longer one must not be shorter.',
    fields: {
      area: 'Area of the bed',
      hoe: 'Hoeing that the weed takes in a season',
      hoeHint: 'For example 6 or 6:30; only what the bed would not take without the weed',
      hoeLow: 'Hoeing would go on for at least (seasons)',
      hoeHigh: 'and for at most (seasons)',
      cover: 'Laying, mending and lifting the cover, in all',
      coveredLow: 'The bed would lie covered for at least (seasons)',
      coveredHigh: 'and for at most (seasons)',
      kgPerM2: 'Harvest forgone, kg per m² and season',
      kgPerHour: 'What an hour of work brings elsewhere, kg',
      factor: 'How unsure every figure is: this many times more or less',
      factorHint: '1.5 is half as much again, or two thirds',
      wage: 'What an hour is worth, if you wish to see money',
      pricePerKg: 'Price of a kg, for the same',
      materials: 'Cover and pegs, for the same',
    },
    from: {
      hoe: (season: string) =>
        `the garden's weeding in ${season} by the area of this bed: a weedy bed takes more, an even one none of it for the weed`,
      hoeNone: 'no weeding is written down for this garden: type your own',
      yield: (method: string, season: string) => `${method} in ${season}, per m² of bed, all hours of it`,
      yieldNone: 'nothing is weighed and timed there yet: type your own',
      cover: 'six minutes a m², from memory and without a source: type your own',
      covered:
        'controlled figures for how long couch must lie covered were not found; one agronomist reported about two years under black sheet',
      hoeSeasons:
        'for creeping perennials Cornell tells of six to eight well-timed removals in the first year and three to five in the second',
    },
    columns: { covering: 'Kindest to covering', middle: 'As written', hoeing: 'Kindest to hoeing' },
    rows: {
      hoe: 'Hoeing, in all',
      cover: 'Cover: laying, mending, lifting',
      forgone: 'Harvest forgone',
      forgoneHours: 'Hours in which that is grown elsewhere',
      covering: 'Covering, in all',
      breakEven: 'Break-even: seasons of hoeing',
      hoeCost: 'Hoeing, in money',
      coverCost: 'Covering, in money',
    },
    caption: 'Both ways, in hours',
    breakEven: (low: string, middle: string, high: string) =>
      `Covering takes less only if hoeing would otherwise go on for more than ${middle} seasons. With every figure as unsure as you say, that border lies anywhere from ${low} to ${high} seasons.`,
    verdicts: {
      covering: 'Over the whole range that you wrote, covering takes fewer hours.',
      hoeing: 'Over the whole range that you wrote, hoeing takes fewer hours.',
      undecided: 'These figures do not decide it: within what is unsure, either can take fewer hours.',
    },
    blank: 'The record does not know all of it yet: fill in what is blank in the form.',
    refused: 'Without any hoeing there is nothing to compare.',
    know: 'What this leaves out',
    knowList: [
      'Couch comes back from the edges: a bed that is covered without an edge cut or sunk around it is soon taken again.',
      'Hoe or cut when shoots are 5 to 10 cm, before the third or fourth leaf: later, the roots are fed again.',
      'The worst bed is chosen because it is the worst: part of what is better afterwards would have come anyway.',
      'Count shoots and patches before and after, and not in a drought. One bed shows little: leave another one hoed beside it.',
      'Old carpet and some plastics shed or leach: use a cover made for soil. A rolled wet cover is heavy: move it with two.',
    ],
    decision: (bed: string) => `Cover ${bed} and start again.`,
    expected: (seasons: string) => `It pays if hoeing would have gone on for more than ${seasons} seasons.`,
  },
  payBack: {
    title: 'How long until it pays back',
    establishingHeading: 'The labour of establishing a method',
    none: 'First two methods need ground and hours in a season.',
    own: 'The method that was established',
    other: 'Against',
    compare: 'Compare these two',
    rows: {
      establishing: 'Written as establishing, once',
      extra: 'Of it, more than the other took in the same seasons',
      own: 'Hours a season since',
      other: 'Hours a season of the other',
      saved: 'Saved a season',
      paysAll: 'Earned back, if all of it counts',
      paysExtra: 'Earned back, if only what it took more counts',
    },
    caption: 'Hours per m² of bed, without harvest, washing and packing',
    seasons: (count: string) => `${count} seasons`,
    moreInstead: (hours: string) => `none: ${hours} more instead`,
    never: 'not by these hours: nothing is saved',
    noGround: 'not known: no closed season after establishing yet',
    alreadyLess: 'at once: it took no more than the other even then',
    nothingEstablished: 'No hours of this method are written as establishing.',
    saidEstablishing: (seasons: string) => `Written as establishing in: ${seasons}.`,
    saidSettled: (seasons: string) => `Hours a season are those of: ${seasons}.`,
    openWeeks: (count: number) =>
      count === 1
        ? 'One garden-week of these seasons is not closed: what was done in it is not known.'
        : `${count} garden-weeks of these seasons are not closed: what was done in them is not known.`,
    tooEstablishing:
      'The other method was being established in the same seasons: what this one took more then says little.',
    fewSeasons: 'One settled season: the next may be quite different.',
    cannotKnow:
      'What cannot be known from it: whether the saving lasts, whether people have learned meanwhile, and whether the method or the ground saves the hours where each method has one garden. Hours say nothing of how hard they were.',
    thingHeading: 'A tool or machine that is bought',
    thingSay:
      'Its yearly cost in equal parts, and by capital recovery, which counts interest as well (Iowa State University Extension, Ag Decision Maker A3-29). Fuel, repairs and housing are not in it.',
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
      `It pays where an hour is worth more than ${perHour} to the group. A machine has guards and a manual: those, and a person who was shown, come first.`,
    thingWork: 'Work out the yearly cost',
  },
  /** For the public page that says how every figure is made. */
  howMade: [
    {
      key: 'depth-and-cost',
      name: 'Ground covered at a depth, and its cost',
      how: 'The volume that was spread over the depth that was measured; the spreading’s part of price and carriage over that ground. Barrows and bags come in by the size that the group has measured, weights by the density of the input.',
      example: '2 m³ at 50 mm cover 40 m²; at 90.00 in all that is 2.25 per m².',
      source: 'Arithmetic: 10 L cover 1 m² at 10 mm.',
      not: 'Where the volume of a unit is not known.',
    },
    {
      key: 'raw-manure-interval',
      name: 'Days between raw manure and harvest',
      how: '120 days from the day it was spread where the edible part touches the soil or soil particles, 90 otherwise. Not known counts as touching; partly rotted manure counts as raw. A picking on the last day is late enough.',
      example: 'Spread on 1 January 2026: not before 1 May where it touches, 1 April where it does not.',
      source: '7 CFR 205.203(c)(1), National Organic Program, United States. A reference: local rules decide.',
      not: 'Where the wait was over before the crop was sown, or the crop was cleared before the manure went on. It never blocks.',
    },
    {
      key: 'compost-layer',
      name: 'What a layer of compost carries',
      how: 'Volume = area x depth; mass = volume x density; dry matter = mass x (1 - moisture); nutrient = dry matter x its content. Oxides become elements by atomic weights: P = 0.4364 P2O5, K = 0.8302 K2O. Against it stands what harvests carried off: weight x composition of the raw food, nitrogen as protein / 6.25.',
      example:
        '5 cm on 1 m² at 600 kg/m³, half of it water, 1.5-0.4-1.0 per cent of dry matter: 30 kg, 15 kg dry, 225 g N, 60 g P, 150 g K.',
      source:
        'Atomic weights: IUPAC. Composition: USDA National Nutrient Database for Standard Reference. Usual compost: New England Vegetable Guide (1-1-1). Build-up: Montana State University 2025, University of Minnesota 2022.',
      not: 'A nutrient whose content is not known stays so. What stays of nitrogen is not shown: most of it is held in humus, washed out or lost to the air.',
    },
    {
      key: 'cover-or-hoe',
      name: 'Break-even of covering a weedy bed',
      how: 'Hours of covering, with the hours in which the forgone harvest is grown elsewhere, over the hours of hoeing in a season. Every figure is also taken as many times larger or smaller as is said, all leaning one way: the two ends of the range.',
      example:
        '10 m², 5 h of hoeing a season, 4 h of covering, one season without 2 kg/m² at 4 kg an hour: (4 + 20 / 4) / 5 = 1.8 seasons.',
      source: 'A model of our own. A scenario: what the weed does afterwards is not in it.',
      not: 'Where hoeing takes no time, or an hour of work brings nothing.',
    },
    {
      key: 'pay-back',
      name: 'Pay-back of establishing, and of a tool',
      how: 'Hours per m² written as establishing, over the hours per m² that are saved in a closed season since, both without harvest, washing and packing; once with all of those hours, once with only what they were more than the other method’s. A tool: (price - end value) / years, and by capital recovery with a real rate r: (price - end value) x r (1 + r)^n / ((1 + r)^n - 1) + end value x r.',
      example:
        '30 min/m² of establishing at 12 min/m² saved a season: 2.5 seasons. A tunnel of 2000, worth 200 after 15 years, at 5 per cent: 120.00 a year in equal parts, 183.42 by capital recovery.',
      source: 'Iowa State University Extension, Ag Decision Maker A3-29, Estimating Farm Machinery Costs.',
      not: 'Where nothing is saved, or no closed season has followed establishing.',
    },
  ],
}
