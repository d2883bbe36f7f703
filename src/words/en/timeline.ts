/** A garden's year, as dated sentences. */
export const timeline = {
  sentences: {
    sown: (subject: string, bed: string, amount: string) => `Sown in ${bed}: ${subject}, ${amount}.`,
    planted: (subject: string, bed: string, amount: string) => `Planted in ${bed}: ${subject}, ${amount}.`,
    cleared: (subject: string, bed: string) => `Cleared from ${bed}: ${subject}.`,
    lost: (subject: string, bed: string, amount: string) => `Lost in ${bed}: ${amount} of what stood of ${subject}.`,
    spread: (subject: string, bed: string, amount: string) =>
      `Spread ${bed === '' ? 'over the garden' : `on ${bed}`}: ${amount} of ${subject}.`,
    covered: (subject: string, bed: string) => `${bed} covered: ${subject}.`,
    uncovered: (_subject: string, bed: string) => `${bed} uncovered.`,
  },
  daysAfter: (days: number) =>
    days === 0 ? 'the same day' : `${days} ${days === 1 ? 'day' : 'days'} after what stands above`,
  cover: 'Cover a bed, to rest it or to start again',
  coverSay: 'Its area stays in every figure per square metre: ground that is covered yields nothing.',
  bed: 'Bed',
  from: 'Covered from',
  to: 'Uncovered on, if it was',
  why: 'Why',
  material: 'With what',
  save: 'Save',
  closures: 'Beds that were covered',
  closuresSay:
    'Hours are those written for that bed, or for what stood in it, from the day it was covered to the day it was uncovered; hours written for the whole garden belong to no bed. What could not be grown is the bed’s area times the weeks.',
  closuresLimit:
    'The worst bed is the one that is started again, and a worst bed is partly bad luck: it would have come out better anyway. Weeds also come back from the edge.',
  covered: 'Covered',
  fromTo: (from: string, to: string | null, weeks: string) =>
    to === null ? `since ${from}, ${weeks} weeks so far` : `${from} to ${to}, ${weeks} weeks`,
  hours: 'Hours for this bed meanwhile',
  noHours: 'none written for this bed',
  idle: 'Not grown, m² × weeks',
  regrown: 'Shoots per m² that came again',
  shootsAfter: (weeks: number) => `Shoots per m², ${weeks} weeks after uncovering`,
  afterWeeks: (weeks: number, shoots: string) => `${weeks} weeks: ${shoots}`,
  notCounted: 'not counted',
  dueOn: (day: string) => `due on ${day}`,
  regrowthWords: 'What came again, in words',
  closureOf: (bed: string, day: string) => `${bed}, covered from ${day}`,
  stillCovered: 'Say when it was uncovered: shoots are counted after that.',
  closureSaved: 'Saved. The bed’s area stays in the figures.',
}
