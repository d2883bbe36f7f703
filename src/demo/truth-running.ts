/**
 * The season that runs, or is planned, on the day that the example is made for; of its plan only what is over is
 * written down.
 */
export const running = {
  name: '2026/27',
  startsOn: '2026-08-01',
  endsOn: '2027-05-31',
  effect: 0.02,
  plannedOn: '2026-06-10',
} as const

/** Fixed before the season that runs has begun. */
export const question = {
  lockedOn: '2026-07-12',
  question: 'Does compost mulch give another weight than digging, on the same crops?',
  seasonsToLookAt: 3,
  sentenceIfSeen: 'Long Bank gave another weight than Lower Terrace; whether the mulch did it, two gardens cannot say.',
  sentenceIfNotSeen: 'Three seasons could not tell the weights of the two gardens apart.',
} as const

/** Of the season that runs: what came, and hay that is ordered and not there yet. */
export const runningInputs = [
  {
    name: 'Green waste compost',
    garden: 2,
    amount: 1.4,
    price: 12_200,
    carriage: 6_000,
    ordered: '2026-06-22',
    day: '2026-07-29',
  },
  {
    name: 'Hay, round bales',
    garden: 3,
    amount: 8,
    price: 63_000,
    carriage: 6_000,
    ordered: '2026-08-03',
    day: '2026-08-20',
  },
  { name: 'Hay, round bales', garden: 3, amount: 3, price: 24_000, carriage: 2_000, ordered: '2026-10-30', day: null },
] as const
