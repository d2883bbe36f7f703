/** What stands at the pictures: titles, how to read them, the heads of their tables. */
const peg = 'The upright stroke is the figure, the thin line its 95 % interval.'
const goesOn = 'A point at the side says that it goes on outside the picture.'
const twice = 'Twice and half lie equally far from 1.'

export const pictures = {
  tableBelow: 'Drawn from the table that follows.',
  theTable: 'The table',
  takenAs: (kind: string, title: string) => `${kind} to take away: ${title}`,
  takenFrom: (group: string, seasons: string) => `${group}, ${seasons}`,
  tableOnPage: 'Drawn from the table on this page.',
  unknown: 'not known',
  noInterval: 'no interval',
  oneSeason: 'one season: none',
  withInterval: (figure: string, low: string, high: string) => `${figure} (${low} to ${high})`,
  rangeOnly: (low: string, high: string) => `${low} to ${high}`,
  withoutInterval: (figure: string, why: string) => `${figure} (${why})`,
  anyBelow: 'any below',
  anyAbove: 'any above',
  head: {
    method: 'Method',
    crop: 'Crop',
    season: 'Season',
    way: 'Way of counting',
    week: 'Week',
    cause: 'Cause',
    day: 'Day',
    figure: 'Figure',
    low: 'Interval from',
    high: 'Interval to',
    ratio: 'Ratio',
    together: 'Together',
    where: 'Where',
  },
  yields: {
    title: 'Yield by method',
    how: `${peg} ${goesOn}`,
    howWithout: 'The upright stroke is the figure. How sure it is cannot be told from what is here.',
    axis: 'marketable kg per m² of bed',
  },
  cropRatios: {
    title: (b: string, a: string) => `${b} beside ${a}, crop by crop`,
    how:
      'How many times the weight per planted m². A single crop has no interval; the last line is all of them on ' +
      `one mix. ${twice} ${goesOn}`,
    axis: (b: string, a: string) => `weight under ${b} for each 1 under ${a}`,
    pooled: 'All of these, in the same mix',
  },
  overSeasons: {
    title: (b: string, a: string) => `${b} beside ${a}, season by season`,
    how: (level: string) =>
      `How many times the weight per planted m². The heavy line is the ${level} % interval of the mean, the ` +
      `broken one where a season more would be expected. ${twice} ${goesOn}`,
    pooled: 'Mean over the seasons',
    predicted: 'A season more',
  },
  everyWay: {
    title: (b: string, a: string) => `${b} beside ${a}, counted in every way`,
    how:
      'Every sensible way of counting in the order of its ratio; the first choice of the rules is in strong ' +
      `letters. The ways are no sample: their spread is no interval. ${twice}`,
  },
  alike: 'alike',
  gap: {
    title: (b: string, a: string) => `Why ${b} and ${a} differ`,
    how:
      'To the right what added to the first, to the left what took from it; the upright stroke is the sum. First ' +
      'each part alone, then all together, then crop by crop.',
    axis: (b: string) => `kg per m² of bed, ${b} less the other`,
    parts: {
      intensity: 'How fully the ground was used',
      mix: 'What was grown',
      growth: 'How well it grew',
      onlyB: 'Crops of its own',
      onlyA: 'Crops of the other alone',
    },
    together: 'All together',
  },
  labour: {
    title: (method: string) => `Labour through the season, ${method}`,
    how: 'Above the hours of the season by kind of work, below the same week by week, one on the other.',
    axis: 'hours a week',
    hours: (figure: string) => `${figure} h`,
    open:
      'Where the line at the foot is broken, the hours of that week are not closed: they are not known, which is ' +
      'not zero.',
    groups: {
      ground: 'Beds, mulch, compost',
      planting: 'Sowing and planting',
      tending: 'Weeding and tending',
      harvest: 'Harvest and packing',
      other: 'All other work',
    },
  },
  running: {
    title: 'Labour added up through the season',
    how:
      'Each line is the hours so far. After a week that is not closed a line is fainter: the hours are that or ' +
      'more.',
    axis: (perArea: boolean) => (perArea ? 'hours so far per m² of bed' : 'hours so far'),
    crossing: (lower: string, higher: string, week: string, times: number) =>
      `From week ${week} on, ${higher} has taken more hours in all than ${lower}` +
      (times > 1 ? `; the order turned ${times} times, this was the last` : '') +
      '.',
    noCrossing: (weeks: number, all: number) =>
      `In the first ${weeks} of ${all} weeks no line crosses that of the first method` +
      (weeks < all ? '; those after are not all closed' : '') +
      '.',
  },
  losses: {
    title: 'What was lost, by cause',
    how: 'Under each cause a line a method, all on one scale. Not known is said in words; it is not zero.',
    area: (figure: string) => `${figure} m²`,
  },
  soil: {
    title: (analyte: string) => `${analyte} over the years`,
    how: 'A stroke for every test, joined where no test between them is missing. The scale need not begin at zero.',
  },
}
