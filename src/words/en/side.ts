import { byName } from '../by-name.ts'

type Measure = 'weight' | 'work' | 'workPerKg' | 'inputsPerKg'

/** The table that is the picture: every method beside the reference. */
export const side = {
  title: (first: string, last: string | null) => `${first}${last === null ? '' : ` to ${last}`}`,
  method: 'Method',
  garden: 'Garden',
  reference: 'the reference',
  names: { weight: 'Weight', work: 'Work', workPerKg: 'Work for a kilogram', inputsPerKg: 'Inputs for a kilogram' },
  units: {
    weight: () => 'kg per m² of bed',
    work: () => 'hours per m², without harvest',
    workPerKg: () => 'hours per kg, all work',
    inputsPerKg: (currency: string) => `${currency} per kg`,
  } as Record<Measure, (currency: string) => string>,
  axis: (reference: string) => `times ${reference}`,
  times: (ratio: string, low: string, high: string) => `${ratio}× (${low}–${high})`,
  timesAlone: (ratio: string) => `${ratio}×, one season`,
  saysNothing: 'range too wide',
  atLeast: 'at least',
  none: byName({
    'nothing matched': 'no crop in common',
    'one season': 'one season',
    'failed season': 'nothing came off one side',
    'not whole': 'no whole season on both sides',
    'few places': 'too few places gave anything',
    'only divided': 'not written by method, only divided',
    reference: '',
  }),
  keyMore: 'The drawing',
  keyTold: 'told apart, as a question fixed beforehand',
  keyExploratory: 'stands out, not asked beforehand',
  keyRing: 'not told apart',
  keySeasons: 'single seasons',
  keyOpen: 'weeks open',
  keyTicks: 'Each step along the scale doubles.',
  keyLine: (level: string, unasked: string | null) =>
    unasked === null
      ? `Line: ${level} % interval, for all pairs of a column together.`
      : `Line: ${level} % interval for pairs that the question names, ${unasked} % for the others.`,
  keyText: 'Figures are of all crops, marks of the same crops or seasons.',
}
