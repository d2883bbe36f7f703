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
  closureSaved: 'Saved. The bed’s area stays in the figures.',
}
