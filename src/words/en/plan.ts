interface Standing {
  readonly name: string
  readonly area: string
  readonly from: string
  readonly to: string | null
}

const days = (count: number) => (count === 1 ? '1 day' : `${count} days`)
const years = (count: number) => (count === 1 ? '1 year' : `${count} years`)
const and = (names: readonly string[]) =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join('; ')} and ${names.at(-1)}`

export const plan = {
  link: 'The plan of this season, bed by bed',
  title: (season: string) => `Plan of ${season}`,
  say: 'Every bed in the order in which it is walked, what stands in it and when, and the days on which it lies empty.',
  noBeds: 'There is no bed yet.',
  bed: 'Bed',
  stands: 'What stands in it',
  toSeason: 'Back to the season',
  standing: ({ from, to, name, area }: Standing) =>
    to === null ? `From ${from}, no end known: ${name}, ${area}` : `${from} to ${to}: ${name}, ${area}`,
  empty: (one: { from: string; to: string; days: number }) =>
    one.days === 1 ? `${one.from}: empty (1 day)` : `${one.from} to ${one.to}: empty (${days(one.days)})`,
  raised: (from: string) => `raised elsewhere from ${from}`,
  interplanted: 'interplanted: takes no room of its own',
  ofSeason: (season: string) => `counts toward ${season}`,
  after: (names: readonly string[], empty: number) =>
    `follows ${and(names)}, ${empty === 0 ? 'on the day it was cleared' : `after ${days(empty)} of empty ground`}`,
  beside: (names: readonly string[]) => `beside ${and(names)}`,
  untouched: (area: string) => `all of ${area} is free`,
  free: (free: string, area: string) => `${area}; ${free} stays free on its fullest day`,
  full: (area: string) => `${area}, full on its fullest day`,
  rotation: 'Families that come back too soon',
  yearsField: 'A bed rests from a family for how many years',
  yearsHint: 'Three is common practice and without a source; your own rule may be longer.',
  ask: 'Look again',
  returns: (one: { family: string; earlier: string; season: string; years: number }) =>
    one.years === 0
      ? `${one.family} again in this bed: ${one.earlier} stood here in this season.`
      : `${one.family} again in this bed: ${one.earlier} stood here in ${one.season}, ${years(one.years)} before.`,
  returning: (count: number, rest: number) =>
    count === 1
      ? `1 planting brings its family back to a bed sooner than ${years(rest)} after it stood there; it says so beside it. Nothing is refused for it.`
      : `${count} plantings bring their family back to a bed sooner than ${years(rest)} after it stood there; each says so beside it. Nothing is refused for it.`,
  noneReturns: (rest: number) =>
    `No family comes back to a bed sooner than ${years(rest)} after it stood there, as far as it is written down.`,
  withoutFamily: (crops: readonly string[]) => `Not looked at, since no family is written down for it: ${and(crops)}.`,
  rotationLimit:
    'Counted from season to season by bed and family; what stood before the first season here, or in a bed before it was split, is not known.',
}
