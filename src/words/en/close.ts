import { plural } from './plural.ts'

const openWeeks = (weeks: number, first: string, last: string) =>
  plural(weeks, { one: `week ${first} is open`, other: `${weeks} weeks are open, ${first} to ${last}` })

export const close = {
  title: (season: string) => `Close ${season}`,
  say:
    'Closing fixes what this season’s figures rest on. What is changed afterwards is counted and shown. Open weeks ' +
    'stay unknown: they do not turn into zero.',
  nothing: 'Nothing is open.',
  sealed: (count: number) =>
    `Weighings under labels that are not opened yet: ${count}. Until they are opened, their plantings stand here ` +
    'as if nothing had been weighed. Closing the season opens them.',
  weeks: {
    hours: (weeks: number, first: string, last: string) => `Hours: ${openWeeks(weeks, first, last)}`,
    weights: (weeks: number, first: string, last: string) => `Weights: ${openWeeks(weeks, first, last)}`,
  },
  closeAll: (weeks: number) =>
    plural(weeks, {
      one: 'All that was done and weighed is written down: close the week that is open',
      other: `All that was done and weighed is written down: close all ${weeks} that are open`,
    }),
  closeAllSay: 'In all gardens, hours and weights. What is not written down in them counts as zero from then on.',
  closeWeeks: {
    hours: (weeks: number) =>
      plural(weeks, { one: 'All work of it is written: close it', other: 'All work of them is written: close them' }),
    weights: (weeks: number) =>
      plural(weeks, { one: 'All weights of it are written: close it', other: 'All weights are written: close them' }),
  },
  bed: 'Bed',
  planting: 'Planting',
  clearedOn: 'Cleared on',
  clearedOf: (bed: string, name: string) => `Cleared on: ${bed}, ${name}`,
  clear: 'Clear those with a day',
  lostBy: 'Nothing came off it, because of',
  lostOf: (bed: string, name: string) => `What took all of ${bed}, ${name}`,
  lose: 'Write these losses down',
  choose: 'choose a cause',
  tellMore: 'or write what was weighed',
  settled: 'Saved.',
  noDay: 'Write the day of at least one that was cleared.',
  noCause: 'Choose the cause of at least one.',
  clearedMeanwhile: 'This has been settled meanwhile.',
  standing: 'Plantings that still stand',
  unpriced: 'Inputs without a price',
  losses: 'Losses of an unknown cause',
  unmarked: 'Cleared with nothing weighed, and no loss written down',
  unsplit: 'Shared work and crates that their rule cannot divide',
  unsplitCrates: (week: string) => `a crate of ${week}, shared by plants that were not counted`,
  unsplitHours: (week: string) => `hours of ${week}, shared over a garden without a bed`,
  lossOn: (bed: string, name: string, day: string) => `${bed}, ${name}: the loss of ${day}`,
  delivered: (name: string, day: string) => `${name}, delivered on ${day}`,
  button: 'Close the season',
  closed: 'The season is closed.',
  isClosed: 'This season is closed.',
  changed: (count: number) =>
    count === 0
      ? 'Nothing has been changed since.'
      : `${count} ${plural(count, { one: 'entry was', other: 'entries were' })} written or changed since, of what ` +
        'its figures rest on.',
  changedWhich: 'Which, by whom and why',
  reopen: 'Open it again',
  reopened: 'The season is open again.',
  link: 'What is open, and closing the season',
}
