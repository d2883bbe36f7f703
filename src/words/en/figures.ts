export const figures = {
  title: 'How the figures are made',
  intro:
    'Each figure is one whole number divided by another; it is rounded once, where you read it. In JSON and CSV ' +
    'both numbers stand beside it.',
  findings: [
    {
      key: 'error-of-measuring',
      name: 'How well it is weighed',
      how:
        'In two weeks of a season, drawn by chance, a second person writes weights down too. The error of one ' +
        'reading is the standard deviation of the logarithms of second over first reading, over the square root of ' +
        '2, since each of the two has the error; what the two people differ by on the whole stands beside it. The ' +
        'second reading is in no sum.',
      example: '10 and 11 kg, 20 and 20 kg: logarithms 0.0953 and 0, SD 0.0674; over 1.414 that is 0.0477, or 4.9 %.',
      source: 'Within-subject standard deviation: Bland & Altman 1996, BMJ 312:1654 (from memory).',
      not:
        'Under two pairs; where the same person wrote down both; where the weight is a part of a crate from ' +
        'several plantings, which is reckoned and not weighed.',
    },
    {
      key: 'matched-ratio',
      name: 'Ratio on matched crops',
      how:
        'In each season, the kilograms per planted m² of one method over those of the other, both as if all the ' +
        'matched crops had been grown on one common mix: a ratio of two totals, never a mean of ratios. A crop ' +
        'that failed stays in with its area and no weight. A cultivar sown several times in a season is one crop: ' +
        'its sowings are added up, and one that lost plants to a cause outside the method can be left out by ' +
        'itself.',
      example:
        'Carrots 4 m² in each garden, 12 kg and 20 kg; potatoes 8 m² in each, 16 kg and none. On the mix of 8 to ' +
        '16: (3 x 8 + 2 x 16) / 24 = 2.33 and (5 x 8 + 0 x 16) / 24 = 1.67 kg per m²; ratio 0.71.',
      source: 'Direct standardisation: Kitagawa 1955, Journal of the American Statistical Association 50:1168-1194.',
      not: 'Where no crop was cleared under both methods, or where one side has no weight at all.',
    },
    {
      key: 'over-seasons',
      name: 'Interval over the seasons',
      how:
        'The mean of the logarithms of the season ratios, on the crops that were matched in all the seasons; plus ' +
        'and minus Student’s t on one degree of freedom less than there are seasons. It speaks of these gardens. ' +
        'Crops, weeks and beds of one garden are no replicates of a method and are never counted as such.',
      example:
        'Two varieties of barley at six places in two years (Immer and others 1934): the log ratios 0.2164 and ' +
        '0.3052 give a ratio of 1.30 with the interval 0.74 to 2.28. Twelve cells taken for replicates would ' +
        'have given 1.14 to 1.48.',
      source:
        '"Student" 1908, Biometrika 6:1-25; data Immer, Hayes & Powers 1934, Journal of the American Society of ' +
        'Agronomy 26:403-419.',
      not:
        'For one season: it is described. Where no crop was matched in all of them: seasons of unlike crops cannot ' +
        'be taken together. A next season would fall between wider limits, which stand beside it.',
    },
    {
      key: 'why-the-gap',
      name: 'Why the gap',
      how:
        'Kilograms per m² of bed are how fully the ground was used, times what was grown on it, times how well it ' +
        'grew. The gap is split among the three by the average over all orders of changing them; crops that stood ' +
        'in one garden only are apart. The parts add up to the gap.',
      example:
        'Household headship of 1970 and 1985 in thirteen age groups (Das Gupta 1993, example 5.1): of a gap of ' +
        '2.97, 1.74 are rates and 1.23 are structure.',
      source: 'Das Gupta 1993, Standardization and Decomposition of Rates, US Bureau of the Census, P23-186.',
      not: 'For all seasons at once: each season has its own.',
    },
    {
      key: 'not-seen',
      name: 'Not seen',
      how:
        'Where the interval holds 1 the sentence says that no difference could be told, and which ratio would have ' +
        'had to be there to be seen four times out of five.',
      example: 'With six plots an arm and an SD of 0.25 on the log scale: 0.449, that is a ratio of 1.57.',
      source: 'Power by the noncentral t: Lenth 1989, Applied Statistics 38:185-189.',
      not: 'It never says that two methods are alike: only a margin fixed beforehand could.',
    },
    {
      key: 'certainty',
      name: 'How sure',
      how:
        'About these plots: from high one step down for each reason that holds (fewer than five seasons, two for ' +
        'two seasons; fewer than three matched crops; more than a tenth of the weeks open; no question fixed ' +
        'beforehand, that is, locked no later than the first day of the first season looked at; an interval wider ' +
        'than a factor of 1.5 to either side). About the method: with one garden a method, never.',
      example: 'Three seasons, twelve crops, all weeks closed, no question, 0.72 to 2.14: very low.',
      source:
        'Domains after GRADE (Guyatt and others 2008, BMJ 336:924-926); the limits are common practice, without ' +
        'a source.',
      not: 'For one season.',
    },
    {
      key: 'every-way',
      name: 'Every way of counting',
      how:
        'Marketable or all weight, crops by their area or alike, losses from outside the method in or out: all ' +
        'eight together. The order that holds is that of the finding, counted by the rules of the page and over ' +
        'the seasons that it rests on; so with hours and costs. A ratio that is read as 1.00 has no order. Beside ' +
        'it stands what the finding hangs on: the ratio with each crop, and each season, left out in turn, the ' +
        'crops without which nothing would be told, and the ratio with each crop counted once: the mean over the ' +
        'crops of each one’s rate over the mean of both. The share in which it holds is no probability.',
      example: 'Counted in eight ways the ratio lay between 1.13 and 1.24: the order held in all.',
      source: 'Steegen and others 2016, Perspectives on Psychological Science 11:702-712 (from memory).',
      not:
        'Ways that keep under a tenth of a season’s hours or kilograms on one side. Ways that touch another ' +
        'measure, such as gross area for matched crops. The group’s own compost is never counted twice: it is free ' +
        'with the hours of making it, or valued without them.',
    },
    {
      key: 'alike',
      name: 'Alike',
      how:
        'Two one-sided t tests against a margin that the question fixed beforehand: said only where both the lower ' +
        'and the upper end of the 90 % interval lie within it.',
      example:
        'Two cropping systems on fourteen farms (Hildebrand 1984) against a margin of 25 %: ratio 0.89, 90 % ' +
        'interval 0.76 to 1.03; p 0.135, so neither different nor alike.',
      source:
        'Schuirmann 1987, Journal of Pharmacokinetics and Biopharmaceutics 15:657-680; data Hildebrand 1984, ' +
        'Agronomy Journal 76:271-274.',
      not: 'Where no margin was fixed before the result.',
    },
    {
      key: 'missing-weeks',
      name: 'Open weeks',
      how:
        'The low end is what is entered. The high end gives each open week the most of the closed weeks within ' +
        'three calendar weeks of it, in any season of that garden; only plantings that stood can yield. A finding ' +
        'is said to stand where it is the same at both ends.',
      example: '40 of 52 weeks closed with 95 hours, and at most 8 hours in a week: between 95 and 191 hours.',
      source: 'Worst-case bounds: Manski 1989, Journal of Human Resources 24:343-360.',
      not: 'Where fewer than five weeks near an open one are closed.',
    },
    {
      key: 'all-methods',
      name: 'All methods at once',
      how:
        'As for two methods, over the crops that stood under all of them: each factor alone is let differ, ' +
        'averaged over what the others are, so that every pair agrees with every other.',
      example:
        'Two factors of two populations (Das Gupta 1993, example 2.1): 10,930 at 0.7179 and 16,591 at 0.8260 ' +
        'differ by 5,857; 4,370 of it by the first factor and 1,487 by the second.',
      source:
        'Das Gupta 1993, Standardization and Decomposition of Rates, US Bureau of the Census, P23-186, chapter 6.',
      not: 'For fewer than three methods, or where no crop stood under all.',
    },
    {
      key: 'losses',
      name: 'Losses by cause',
      how:
        'Each loss takes its share of what still stood of its planting. Kilograms per planted m² are those per m² ' +
        'still standing times one minus the share lost: how it did where it stood, and how often it failed.',
      example:
        '8 m² planted, a quarter of 4 m² lost, then half of the rest: 2.5 m² lost; 14 kg are 1.75 per m² planted ' +
        'and 2.55 per m² standing.',
      source:
        'Planted and harvested area apart is the practice of crop statistics. An interval, where gardens are ' +
        'replicated: Newcombe 1998, Statistics in Medicine 17:873-890, method 10.',
      not: 'An interval is not given for one garden a method: one hailstorm fails six plantings at once.',
    },
    {
      key: 'layout',
      name: 'What the layout can say about the methods',
      how:
        'One value a garden, or one difference where gardens are split between methods, averaged over the seasons; ' +
        'Student’s t with the degrees of freedom that the gardens leave. Seasons, crops and beds do not add to ' +
        'them: so many gardens less one for each method; for split gardens one less than gardens; in blocks or ' +
        'sites one less for each of them but the first. Where ground took turns they are of gardens and seasons ' +
        'together, each garden in each season less one for each garden, each further season and the method: there ' +
        'are not so many gardens, so two or three lower the certainty there as elsewhere. Certainty is high at ' +
        'most for whole gardens drawn at random, moderate for halves that were chosen and for beds of one site, ' +
        'low for whole gardens by choice, for ground that changed its method (its soil carries the former one for ' +
        'years, which draws the ratio towards 1) and for one season, of which the interval tells and of no other.',
      example:
        'Four gardens, each split: 1.10, 1.25, 0.98 and 1.30 times; mean ratio 1.15 with three degrees of ' +
        'freedom, interval 0.94 to 1.41.',
      source: '"Student" 1908, Biometrika 6:1-25; pseudoreplication: Hurlbert 1984, Ecological Monographs 54:187-211.',
      not: 'For one garden a method: there is no measure of how much gardens differ by themselves.',
    },
  ],
  exampleLabel: 'Example:',
  sourceLabel: 'Source:',
  calibrationTitle: 'How often the intervals hold the truth',
  calibrationSay: (trials: string) =>
    `${trials} made-up trials for each line, one garden a method, with a known truth. SDs on the log scale: ` +
    'gardens 0.20, garden by season 0.12, crop by garden 0.25, rest 0.25, or twice that; with losses, one ' +
    'planting in 33 of each crop is lost in one of the gardens. The interval is about these plots; how seldom it ' +
    'holds the difference of the methods stands beside it, and is why no finding speaks of the method.',
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
  layoutsTitle: 'How often what the table prints holds',
  layoutsSay: (trials: string, drawn: string, byLine: string, chosen: string, refused: string) =>
    `${trials} made-up trials for each line, of two methods that are alike in the long run: the intervals are ` +
    'those that the table of all methods prints, of weight, of hours per m² and of inputs per kg, in this order ' +
    'in each cell. Each interval is held against the truth it names: these gardens in the long run where one ' +
    `stands for each method, the methods in these seasons where places replicate them. Drawn at random ${drawn} ` +
    `of them held it, in single lines ${byLine}. Where the ground that seemed better had been chosen for one ` +
    `method, those of weight held in ${chosen}, the less the more gardens there were: whole gardens by choice ` +
    'are low at most. “Told” counts what is told apart although the methods are alike, “told of 1.2” what is ' +
    `told where one gives 1.2 times as much; “width” is the median of the upper over the lower end; ${refused} ` +
    'had no interval. With one garden a method what is told is the ground, and no finding there speaks of the ' +
    'method. Where methods stray from season to season by so much (SD, log scale), what these seasons tell is ' +
    'not yet their rule. Soil that carries a former method is not in these trials, so that swapped gardens look ' +
    'better here than they are. The same trials drawn and analysed in R gave the same widths.',
  sentenceTitle: 'How often the first sentence is contradicted',
  sentenceSay: (trials: string, outside: string, wrongSide: string, chosen: string) =>
    `${trials} made-up trials for each line, as on the page of layouts. The first sentence of a comparison says ` +
    'of the weight that one gave more or less than the other, about how many times and between which ends; or ' +
    'that the two could not be told apart, and which range fits. It is contradicted where the truth it names ' +
    `lies outside that range: drawn at random in ${outside} of the trials, and in ${wrongSide} it named more ` +
    'where the truth was less, or less where it was more. Where the ground that seemed better had been chosen ' +
    `for one method it was contradicted in ${chosen}. “So many seasons cannot tell” contradicts nothing.`,
  sentenceHead: ['Layout', 'How', 'Places', 'Stray', 'Told apart, %', 'Outside its range, %', 'On the wrong side, %'],
  layoutsHead: ['Layout', 'How', 'Places', 'Stray', 'Hold, %', 'Told, %', 'Told of 1.2, %', 'Width'],
  layoutNames: {
    'one garden a method': 'one garden a method',
    gardens: 'gardens a method',
    'split gardens': 'split gardens',
    'blocks of beds': 'blocks of beds',
    'swapped gardens': 'gardens swapped each season',
  },
  layoutHows: { random: 'at random', choice: 'by choice' },
  once: 'as given',
  twice: 'twice',
  groups: {
    measures: 'Measures',
    findings: 'What the sentences rest on',
    deciding: 'What Decide works out',
    calibration: 'How often the intervals hold',
    programs: 'For programs and for counting again',
  },
  keysTitle: 'The same figures for programs',
  keysSay:
    'A page with figures has the same address with .json for all of it and .csv?table= for one table. Both carry ' +
    'schema version 1; a key that is taken away or changes its meaning raises it. Values are not rounded.',
  keysHead: { key: 'Key', unit: 'Unit', means: 'What it is' },
  keys: [
    ['schemaVersion', '', 'Version of these keys: 1'],
    ['season', '', 'The season’s id, or null for all seasons'],
    ['oneGardenAMethod', '', 'True where no method stands on two gardens: garden and method cannot be told apart'],
    ['currency', '', 'ISO 4217 code of all money'],
    ['units', '', 'The unit of each figure by its key, in UCUM codes; money in minor units of the currency'],
    ['methods[].method, methodId', '', 'The method, by its name and by its id'],
    ['methods[].seasons', '', 'The seasons in which it lay on any ground'],
    ['methods[].totals.bedAreaCm2, grossAreaCm2, plantedAreaCm2', 'cm2', 'Areas that the figures rest on'],
    ['methods[].totals.marketableG, unmarketableG', 'g', 'Weights of all plantings for harvest'],
    [
      'methods[].totals.minutesWithoutHarvest, minutesOfHarvest',
      'min',
      'Person-minutes of all other tasks, and of harvest, washing and packing',
    ],
    [
      'methods[].totals.minutesOfMakingCompost, minutesOfEstablishing',
      'min',
      'Parts of these: making compost, and what was written as establishing the method',
    ],
    [
      'methods[].totals.groundEstablishing, harvestEstablishing, compostEstablishing',
      'min',
      'What establishing took of work on the ground, of harvest work and of making compost',
    ],
    [
      'methods[].totals.groundSpread, harvestSpread, compostSpread',
      'min',
      'The same, its part of this season when it is spread over the seasons that the method is established for',
    ],
    ['methods[].totals.costMinor, cashMinor', 'minor', 'Inputs over their useful life: as valued, and as paid'],
    ['methods[].totals.costEstablishing, cashEstablishing', 'minor', 'Of these, what was spread to establish'],
    ['methods[].totals.costSpread, cashSpread', 'minor', 'The same, spread over the seasons'],
    ['methods[].totals.lostAreaPermille', 'cm2 x 1/1000', 'Planted area lost'],
    [
      'methods[].totals.gardens, plantings, standing',
      '1',
      'Counts: gardens, plantings, and those of them that still stand',
    ],
    ['methods[].totals.unpriced, unpricedCash', '1', 'Spreadings without a value, and without a price paid'],
    [
      'methods[].totals.weeks, hoursClosed, weightsClosed',
      '1',
      'Weeks of the season begun so far over the gardens, and those closed',
    ],
    [
      'methods[].totals.entries, entriesFromPaper, entriesLate',
      '1',
      'Entries of hours and weighings; those read off paper; those written more than 14 days after',
    ],
    [
      'measuring',
      '',
      'Error of one reading where weights were read twice: pairs, sdLog and meanLog; or kind "refused" with its reason',
    ],
    ['methods[].figures[].key', '', 'One of the figures above'],
    ['methods[].figures[].numerator, denominator', '', 'The two whole numbers it is the quotient of'],
    ['methods[].figures[].value', 'units[key]', 'The quotient in its unit; null where the denominator is zero'],
    ['methods[].figures[].limit', '', '"so far", "at least", "weeks open" or null'],
    ['matched[].crop, byMethod[].kgPerM2', 'kg/m2', 'Marketable weight per planted area of each matched cultivar'],
    ['commonMix[].kgPerM2', 'kg/m2', 'All matched crops, each weighing by the area planted to it over all methods'],
    [
      'findings[].methodA, methodB, gardensA, gardensB',
      '',
      'The reference and the method beside it, and on how many gardens each stands',
    ],
    ['findings[].code, estimand, reason, why', '', 'What was found, of which measure, and why not where it was not'],
    [
      'findings[].ratio, low, high, level',
      '1',
      'Ratio of the method over the reference with its interval, and how often such an interval holds',
    ],
    ['findings[].next.low, next.high', '1', 'Where one season more would lie'],
    ['findings[].seasons, crops, unlikeSeasons', '', 'What the ratio rests on; seasons that share no crop'],
    [
      'findings[].restsOn.seasons, open[].season, ratio; left[].season, why; gaps, soFar',
      '',
      'Seasons by their names: those it rests on; those left out while their weeks are open, with the ratio so ' +
        'far; those with nothing matched; whether every season is open',
    ],
    ['findings[].smallestSeen, marginPercent', '', 'The ratio that would have been seen; the margin of the question'],
    ['findings[].certainty.plots, method, steps', '', 'How sure, of these plots and of the method, and each step down'],
    [
      'findings[].everyWay.ways[].rules.weights, mix, outsideLosses; ratio',
      '',
      'Each way of counting with its rules and its ratio',
    ],
    [
      'findings[].everyWay.counted, sameOrder, low, high, turning',
      '',
      'How many ways there are, in how many the order holds, between which ratios, and the rules that turn it',
    ],
    [
      'findings[].missing.kind, low, high, survives',
      '',
      'The ratio with open weeks at their most on one side, then on the other, and whether what was found stands',
    ],
    [
      'findings[].leavingOut.low, high, lowWithout, highWithout; cropsOnce',
      '1',
      'The ratio of one season with one crop left out at a time, and which; and with each crop counted once',
    ],
    [
      'findings[].without.crops, seasons: low, high, lowWithout, highWithout; without.carriedBy, cropsOnce',
      '1',
      'Over seasons: the ratio with each crop, or each season, left out in turn; crops without which nothing ' +
        'would be told; the ratio with each crop counted once',
    ],
    [
      'findings[].burden, scope, how, layout, weeksOpen',
      '',
      'Of which work or cost, of plots or of the method, how it was worked out, of what layout, and weeks still open',
    ],
    ['findings[].df, unitsA, unitsB, failed, allIn', '1', 'Degrees of freedom, places of each side, failed ones'],
    [
      'findings[].everyWay.ways[].rules.area, harvestWork, establishing, ownMade',
      '',
      'The rules of hours and costs, as on “Counted another way”',
    ],
    [
      'findings[].about.of, df, layout, scope, how, unitsA, unitsB, certainty, steps',
      '',
      'Of hours and costs: of plots or of methods, and the same as of weights for either',
    ],
    [
      'findings[].divided, each, share',
      '',
      'Hours or costs that are not compared: which, for what they would have to be written, and the part that ' +
        'was only divided',
    ],
    ['findings[].exploratory', '', 'True where no question was fixed beforehand'],
  ],
  tablesTitle: 'The tables by name',
  tablesSay:
    'Each is a CSV file of its own, at .csv?table= and its name; in the JSON of a report all of them stand under ' +
    '“tables”. The first columns say what a figure is of, the last three are figure, unit and value. A table is ' +
    'there only where it has a figure. Ratios are of the method over the reference.',
  tablesHead: ['Table', 'Columns and figures', 'What stands in it'],
  tables: [
    [
      'methods',
      'method, figure, unit, value, numerator, denominator, limit',
      'By method: every measure, with the two whole numbers it is the quotient of',
    ],
    ['matched-crops', 'crop, method, unit, value', 'By crop and method; the last rows are the common mix'],
    ['totals', 'method, figure; named as in methods[].totals', 'By method: what every measure rests on'],
    [
      'findings',
      'method, finding, figure: ratio, low, high, level, seasons, crops, nextLow, nextHigh, smallestSeen, rateA, ' +
        'rateB; leavingOutLow, leavingOutHigh, leavingSeasonOutLow, leavingSeasonOutHigh, cropsOnce, ' +
        'cropsThatCarry; ways, waysInOrder, waysLow, waysHigh, rulesThatTurn; openWeeksLow, openWeeksHigh, ' +
        'openWeeksStand; onlyDivided; df, unitsA, unitsB, failed, allIn',
      'The figures of the sentences: a ratio and its interval, every way of counting, and what open weeks could change',
    ],
    [
      'cautions',
      'method, season, figure: uniformYear, yearOfReference, yearOfMethod, changedAfterClosing, sealedWeighings',
      'What else can fool: the gardens in a year in which both were worked alike, and how old each method is; ' +
        'entries changed late, labels still sealed',
    ],
    [
      'seasons',
      'method, season, figure: ratio, low, high, nextLow, nextHigh',
      'The ratio of each season, then over all of them with its interval and that of one season more',
    ],
    [
      'replicates',
      'part, of, figure: kgPerM2, ratio, low, high, nextLow, nextHigh, mean, seasons, units, plots, failed; df, ' +
        'ss, ms, f, p, cv, i2, slope, superiority, shukla; spreadAsWeighed, spreadOfLogs, leastDifferenceRatio, ' +
        'standardErrorRatio; sd of bed, sd of garden by method, sd of residual',
      'What several places of a method give: means, analyses of variance, steadiness and the model of single plantings',
    ],
    [
      'gaps',
      'method, crop, figure: gap, intensity, mix, growth, onlyA, onlyB',
      'One season, kg per m²: how fully the ground was used, what was grown, how well it grew; crops of one side alone',
    ],
    [
      'per-kg',
      'method, per kg, figure: gap, rate, mix, coveredA, coveredB',
      'One season: the parts of the gap in hours and in cost, and the share of the weight they rest on',
    ],
    [
      'all-methods',
      'method, figure: crude, crops, intensity, mix, growth',
      'One season, kg per m²: as it was, and if only one thing had differed',
    ],
    [
      'losses',
      'method, cause, outside, figure: count, plantings, failed, share, lostShare, alsoNextDoor, kgPerM2Planted, ' +
        'kgPerM2Standing, difference, low, high',
      'By cause and whether it lay outside the method, then over all causes; how much oftener a planting was ' +
        'lost whole in a garden',
    ],
    ['labour', 'method, task, figure: hours, establishing', 'Hours per m² by task, then all tasks'],
    [
      'ground',
      'kind, of, figure: grossAreaCm2, bedAreaCm2, beds, writers, mostAtOnce, seasons, waited, days, ' +
        'changedAfterClosing',
      'In a report: the gardens, how long each method lay, pickings soon after raw manure, later changes',
    ],
  ],
  notShown: 'When it is not shown, or not whole:',
}
