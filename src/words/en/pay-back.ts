import { plural } from './plural.ts'

interface Owing {
  readonly own: string
  readonly owing: string
}

/** When a method, or a tool, pays back what it took more. */
export const payingBack = {
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
  expected: {
    less: (own: string, other: string, hours: string) => `Next season ${own} takes ${hours} a m² less than ${other}.`,
    more: (own: string, other: string, hours: string) => `Next season ${own} takes ${hours} a m² more than ${other}.`,
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
    head: {
      season: 'Season',
      took: (method: string) => `${method}, so far, a m²`,
      more: 'More in it, a m²',
      sum: 'More so far, a m²',
    },
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
}
