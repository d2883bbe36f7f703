import { plural } from './plural.ts'

export const close = {
  title: (season: string) => `Close ${season}`,
  say:
    'Closing fixes what this season’s figures rest on. What is changed afterwards is counted and shown. Open weeks ' +
    'stay unknown: they do not turn into zero.',
  nothing: 'Nothing is open.',
  sealed: (count: number) =>
    `Weighings under labels that are not opened yet: ${count}. Until they are opened, their plantings stand here ` +
    'as if nothing had been weighed. Closing the season opens them.',
  hours: 'Weeks whose hours are open',
  weights: 'Weeks whose weights are open',
  weeksOpen: (garden: string, weeks: number, first: string) =>
    `${garden}: ${weeks} ${plural(weeks, { one: 'week', other: 'weeks' })}, the first of them ${first}`,
  standing: 'Plantings that still stand',
  unpriced: 'Inputs without a price',
  losses: 'Losses of an unknown cause',
  unmarked: 'Cleared with nothing weighed, and no loss written down',
  unsplit: 'Shared work and crates that their rule cannot divide',
  unsplitCrates: (week: string) => `a crate of ${week}, shared by plants that were not counted`,
  unsplitHours: (week: string) => `hours of ${week}, shared over a garden without a bed`,
  lossOn: (day: string) => `the loss of ${day}`,
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
