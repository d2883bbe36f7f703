export const figures = {
  title: 'How the figures are made',
  intro:
    'Each figure is one whole number divided by another; it is rounded once, where you read it. In JSON and CSV both numbers stand beside it.',
  entries: [
    {
      key: 'marketablePerBed',
      name: 'Marketable kg per m² of bed',
      how: 'Marketable grams of all plantings for harvest, over the area of all beds under the method, empty and covered ones too. A failed planting adds no grams and keeps its ground in.',
      not: 'Marked "so far" while a planting still stands or a week of weights is open. Not shown where the method has no bed.',
    },
    {
      key: 'marketablePerGross',
      name: 'Marketable kg per m² gross',
      how: 'The same grams over the gross area, paths included. Where a garden is split between methods, its gross area is divided by the area of their beds.',
      not: 'As above.',
    },
    {
      key: 'hoursPerBed',
      name: 'Hours per m² of bed, without harvest work',
      how: 'Person-minutes of all tasks but harvest and washing and packing, over the area of the beds. What was written for a whole garden follows its beds by area.',
      not: 'Marked "at least" while a week is open: what nobody closed is unknown, not zero.',
    },
    {
      key: 'hoursPerKg',
      name: 'Hours per marketable kg',
      how: 'All person-minutes over all marketable kilograms: the quotient of two totals, never a mean of quotients.',
      not: 'Said to be open while a week of hours is. Not shown where nothing marketable was weighed.',
    },
    {
      key: 'costPerKg',
      name: 'Input cost per marketable kg',
      how: 'Each spreading costs its part of the delivery, price and carriage together. It is divided in equal whole parts over the seasons it lasts, and later parts stay with the ground it lies on.',
      not: 'Marked "at least" while a delivery has no price.',
    },
    {
      key: 'lostArea',
      name: 'Planted area lost',
      how: 'For each planting, its losses one after another on what still stood; weighed by planted area.',
      not: 'Not shown where nothing was planted.',
    },
    {
      key: 'matched',
      name: 'Matched crops',
      how: 'Marketable kilograms per m² planted, for the cultivars that stood under every method and are cleared. In the same mix: each crop weighs by the area planted to it over all methods (direct standardisation; Kitagawa 1955, Journal of the American Statistical Association 50:1168-1194).',
      not: 'A planting that still stands takes its whole set out. Hours and costs are never shown by matched crop.',
    },
  ],
  findings: [
    {
      key: 'matched-ratio',
      name: 'Ratio on matched crops',
      how: 'In each season, the kilograms per planted m² of one method over those of the other, both as if all the matched crops had been grown on one common mix: a ratio of two totals, never a mean of ratios. A crop that failed stays in with its area and no weight.',
      example:
        'Carrots 4 m² in each garden, 12 kg and 20 kg; potatoes 8 m² in each, 16 kg and none. On the mix of 8 to 16: (3 x 8 + 2 x 16) / 24 = 2.33 and (5 x 8 + 0 x 16) / 24 = 1.67 kg per m²; ratio 0.71.',
      source: 'Direct standardisation: Kitagawa 1955, Journal of the American Statistical Association 50:1168-1194.',
      not: 'Where no crop was cleared under both methods, or where one side has no weight at all.',
    },
    {
      key: 'over-seasons',
      name: 'Interval over the seasons',
      how: 'The mean of the logarithms of the season ratios, plus and minus Student’s t on one degree of freedom less than there are seasons. It speaks of these gardens. Crops, weeks and beds of one garden are no replicates of a method and are never counted as such.',
      example:
        'Two varieties of barley at six places in two years (Immer and others 1934): the log ratios 0.2164 and 0.3052 give a ratio of 1.30 with the interval 0.74 to 2.28. Twelve cells taken for replicates would have given 1.14 to 1.48.',
      source:
        '"Student" 1908, Biometrika 6:1-25; data Immer, Hayes & Powers 1934, Journal of the American Society of Agronomy 26:403-419.',
      not: 'For one season: it is described. A next season would fall between wider limits, which stand beside it.',
    },
    {
      key: 'why-the-gap',
      name: 'Why the gap',
      how: 'Kilograms per m² of bed are how fully the ground was used, times what was grown on it, times how well it grew. The gap is split among the three by the average over all orders of changing them; crops that stood in one garden only are apart. The parts add up to the gap.',
      example:
        'Household headship of 1970 and 1985 in thirteen age groups (Das Gupta 1993, example 5.1): of a gap of 2.97, 1.74 are rates and 1.23 are structure.',
      source: 'Das Gupta 1993, Standardization and Decomposition of Rates, US Bureau of the Census, P23-186.',
      not: 'For all seasons at once: each season has its own.',
    },
    {
      key: 'not-seen',
      name: 'Not seen',
      how: 'Where the interval holds 1 the sentence says that no difference could be told, and which ratio would have had to be there to be seen four times out of five.',
      example: 'With six plots an arm and an SD of 0.25 on the log scale: 0.449, that is a ratio of 1.57.',
      source: 'Power by the noncentral t: Lenth 1989, Applied Statistics 38:185-189.',
      not: 'It never says that two methods are alike: only a margin fixed beforehand could.',
    },
    {
      key: 'certainty',
      name: 'How sure',
      how: 'About these plots: from high one step down for each reason that holds (fewer than five seasons, two for two seasons; fewer than three matched crops; more than a tenth of the weeks open; no question fixed beforehand; an interval wider than a factor of 1.5 to either side). About the method: with one garden a method, never.',
      example: 'Three seasons, twelve crops, all weeks closed, no question, 0.72 to 2.14: very low.',
      source:
        'Domains after GRADE (Guyatt and others 2008, BMJ 336:924-926); the limits are common practice, without a source.',
      not: 'For one season.',
    },
    {
      key: 'every-way',
      name: 'Every way of counting',
      how: 'Marketable or all weight, crops by their area or alike, losses from outside the method in or out: all eight together. The share in which the order holds is no probability.',
      example: 'Counted in eight ways the ratio lay between 1.13 and 1.24: the order held in all.',
      source: 'Steegen and others 2016, Perspectives on Psychological Science 11:702-712 (from memory).',
      not: 'Ways that touch another measure, such as gross area for matched crops. The group’s own compost is never counted twice: it is free with the hours of making it, or valued without them.',
    },
    {
      key: 'alike',
      name: 'Alike',
      how: 'Two one-sided t tests against a margin that the question fixed beforehand: said only where both the lower and the upper end of the 90 % interval lie within it.',
      example:
        'Two cropping systems on fourteen farms (Hildebrand 1984) against a margin of 25 %: ratio 0.89, 90 % interval 0.76 to 1.03; p 0.135, so neither different nor alike.',
      source:
        'Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15:657-680; data Hildebrand 1984, Agronomy Journal 76:271-274.',
      not: 'Where no margin was fixed before the result.',
    },
    {
      key: 'missing-weeks',
      name: 'Open weeks',
      how: 'The low end is what is entered. The high end gives each open week the most of the closed weeks within three calendar weeks of it, in any season of that garden; only plantings that stood can yield. A finding is said to stand where it is the same at both ends.',
      example: '40 of 52 weeks closed with 95 hours, and at most 8 hours in a week: between 95 and 191 hours.',
      source: 'Worst-case bounds: Manski 1989, Journal of Human Resources 24:343-360.',
      not: 'Where fewer than five weeks near an open one are closed.',
    },
    {
      key: 'all-methods',
      name: 'All methods at once',
      how: 'As for two methods, over the crops that stood under all of them: each factor alone is let differ, averaged over what the others are, so that every pair agrees with every other.',
      example:
        'Two factors of two populations (Das Gupta 1993, example 2.1): 10,930 at 0.7179 and 16,591 at 0.8260 differ by 5,857; 4,370 of it by the first factor and 1,487 by the second.',
      source:
        'Das Gupta 1993, Standardization and Decomposition of Rates, US Bureau of the Census, P23-186, chapter 6.',
      not: 'For fewer than three methods, or where no crop stood under all.',
    },
    {
      key: 'losses',
      name: 'Losses by cause',
      how: 'Each loss takes its share of what still stood of its planting. Kilograms per planted m² are those per m² still standing times one minus the share lost: how it did where it stood, and how often it failed.',
      example:
        '8 m² planted, a quarter of 4 m² lost, then half of the rest: 2.5 m² lost; 14 kg are 1.75 per m² planted and 2.55 per m² standing.',
      source:
        'Planted and harvested area apart is the practice of crop statistics. An interval, where gardens are replicated: Newcombe 1998, Statistics in Medicine 17:873-890, method 10.',
      not: 'An interval is not given for one garden a method: one hailstorm fails six plantings at once.',
    },
    {
      key: 'layout',
      name: 'What the layout can say about the methods',
      how: 'One value a garden, or one difference where gardens are split between methods, averaged over the seasons; Student’s t with the degrees of freedom that the gardens leave. Seasons, crops and beds do not add to them.',
      example:
        'Four gardens, each split: 1.10, 1.25, 0.98 and 1.30 times; mean ratio 1.15 with three degrees of freedom, interval 0.94 to 1.41.',
      source: '"Student" 1908, Biometrika 6:1-25; pseudoreplication: Hurlbert 1984, Ecological Monographs 54:187-211.',
      not: 'For one garden a method: there is no measure of how much gardens differ by themselves.',
    },
  ],
  exampleLabel: 'Example:',
  sourceLabel: 'Source:',
  calibrationTitle: 'How often the intervals hold the truth',
  calibrationSay: (trials: string) =>
    `${trials} made-up trials for each line, one garden a method, with a known truth. SDs on the log scale: gardens 0.20, garden by season 0.12, crop by garden 0.25, rest 0.25, or twice that; with losses, one planting in 33 of each crop is lost in one of the gardens. The interval is about these plots; how seldom it holds the difference of the methods stands beside it, and is why no finding speaks of the method.`,
  calibrationHead: {
    crops: 'Crops',
    seasons: 'Seasons',
    spread: 'Spread',
    losses: 'Losses',
    effect: 'True ratio of the methods',
    plots: 'Holds these plots’ truth',
    method: 'Holds the methods’ truth',
    seen: 'Says seen',
    refused: 'No interval',
  },
  layoutsTitle: 'The same where a layout replicates the methods',
  layoutsSay:
    'Gardens first: one value a garden, or one difference a split garden or block, over eight matched crops. Drawn at random, 94.4 to 95.5 % of the intervals held the truth of the methods, and power is what was predicted. Where the better ground had been chosen for one method it was 64 to 93 %, the less the more gardens there were: certainty about a method is lowered for whole gardens by choice. Blocks of beds can speak of their own site only.',
  layoutsHead: ['Layout', 'How', 'Places', 'Seasons', 'True ratio', 'Holds the methods’ truth', 'Says seen', 'Predicted'],
  layoutNames: { gardens: 'whole gardens', 'split gardens': 'split gardens', 'blocks of beds': 'blocks of beds' },
  layoutHows: { random: 'at random', choice: 'by choice, the better ground' },
  once: 'as given',
  twice: 'twice',
  keysTitle: 'The same figures for programs',
  keysSay:
    'A page with figures has the same address with .json for all of it and .csv?table= for one table. Both carry schema version 1; a key that is taken away or changes its meaning raises it. Values are not rounded.',
  keysHead: { key: 'Key', unit: 'Unit', means: 'What it is' },
  keys: [
    ['schemaVersion', '', 'Version of these keys: 1'],
    ['season', '', 'The season’s id, or null for all seasons'],
    ['oneGardenAMethod', '', 'True where no method stands on two gardens: garden and method cannot be told apart'],
    ['currency', '', 'ISO 4217 code of all money'],
    ['units', '', 'The unit of each figure by its key, in UCUM codes; money in minor units of the currency'],
    ['methods[].method', '', 'The method, by its name; methodId is its id'],
    ['methods[].totals.bedAreaCm2, grossAreaCm2, plantedAreaCm2', 'cm2', 'Areas that the figures rest on'],
    ['methods[].totals.marketableG, unmarketableG', 'g', 'Weights of all plantings for harvest'],
    [
      'methods[].totals.minutesWithoutHarvest, minutesOfHarvest, minutesOfEstablishing',
      'min',
      'Person-minutes; the last is a part of the first two',
    ],
    ['methods[].totals.costMinor', 'minor', 'Inputs, spread over their useful life'],
    ['methods[].totals.lostAreaPermille', 'cm2 x 1/1000', 'Planted area lost'],
    [
      'methods[].totals.gardens, plantings, standing, unpriced',
      '1',
      'Counts: gardens, plantings, those that still stand, spreadings without a price',
    ],
    [
      'methods[].totals.weeks, hoursClosed, weightsClosed',
      '1',
      'Weeks of the season begun so far over the gardens, and those closed',
    ],
    ['methods[].figures[].key', '', 'One of the figures above'],
    ['methods[].figures[].numerator, denominator', '', 'The two whole numbers it is the quotient of'],
    ['methods[].figures[].value', 'units[key]', 'The quotient in its unit; null where the denominator is zero'],
    ['methods[].figures[].limit', '', '"so far", "at least", "weeks open" or null'],
    ['matched[].crop, byMethod[].kgPerM2', 'kg/m2', 'Marketable weight per planted area of each matched cultivar'],
    ['commonMix[].kgPerM2', 'kg/m2', 'All matched crops, each weighing by the area planted to it over all methods'],
    ['CSV methods', '', 'Columns: method, figure, unit, value, numerator, denominator, limit'],
    ['CSV matched-crops', '', 'Columns: crop, method, unit, value; the last rows are the common mix'],
  ],
  notShown: 'When it is not shown, or not whole:',
}
