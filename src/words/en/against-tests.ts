interface Said {
  readonly name: string
  readonly garden: string
  readonly unit: string
  readonly from: string
  readonly to: string
}

type Errors = Readonly<Record<'two' | 'share', string>> & { readonly told: number }

/** P and K as the ledger has them, held against what laboratories found. */
export const againstTests = {
  title: 'Phosphorus and potassium beside the soil tests',
  link: 'Phosphorus and potassium: what the ledger says beside what the tests say',
  needsTests: 'This needs soil tests of P or K of a whole garden, by one extractant, to a depth that is written down.',
  choose: 'Garden',
  show: 'Show this garden',
  nutrients: { phosphorus: 'Phosphorus', potassium: 'Potassium' },
  noExtractant: 'an extractant not written down',
  disagree: {
    apart: ({ name, garden, unit, from, to, sum }: Said & { readonly sum: string }) =>
      `${name} in ${garden} went from ${from} to ${to} ${unit} by its own tests; by the ledger alone they would read ` +
      `${sum}. The tests lead, and nothing is projected.`,
    against: ({ name, garden, unit, from, to, sum }: Said & { readonly sum: string }) =>
      `${name} in ${garden} went from ${from} to ${to} ${unit} by its own tests, further than they err; the ledger ` +
      `alone runs the other way, to ${sum}. The tests lead, and nothing is projected.`,
  },
  agree: ({
    name,
    garden,
    unit,
    from,
    to,
    seasons,
    ends,
  }: Said & { readonly seasons: number; readonly ends: string }) =>
    `${name} in ${garden} went from ${from} to ${to} ${unit}, no further from the ledger than tests err; by it in ` +
    `${seasons} seasons: ${ends}.`,
  end: (way: string, value: string) => `${way} ${value}`,
  refused: {
    tooFew: ({ name, garden }: Said) => `${name} in ${garden} was tested on one day: a second one could hold it.`,
    unknown: ({ name, garden, from, to, unit }: Said) =>
      `${name} in ${garden} went from ${from} to ${to} ${unit}; what came between is not known, so nothing is held ` +
      'against it.',
    unit: ({ name, garden, unit }: Said) =>
      `${name} in ${garden} is in ${unit} or to a depth that is not written down: that cannot be held against grams.`,
  },
  held: ({ name, gap, allowed }: Record<'name' | 'gap' | 'allowed', string>) =>
    `${name}: tests and ledger lie ${gap} apart; allowed are ${allowed}, the tests’ own change and two errors of `,
  /** `told`: of how many of the first and the last value the laboratory has told its error. */
  errors: ({ two, share, told }: Errors) =>
    told === 0
      ? `measuring (${two}: ${share} % of a value each, since the laboratory tells none).`
      : told === 2
        ? `measuring (${two}, as the laboratory tells them).`
        : `measuring (${two}: one as the laboratory tells it, of the other value ${share} %).`,
  rule: 'They disagree beyond that, and where the tests moved by more than those errors and the ledger the other way.',
  withinErrors: (name: string) =>
    `${name}: tests and ledger run different ways, but the tests moved by less than they err: neither is shown wrong.`,
  sureHeading: 'How it is held',
  upper:
    'The ledger alone takes all that was brought as found by the test, and all that was taken as missing from it. ' +
    'Neither is so: much is held fast, lies above or below the sample, washes out, or comes from the soil itself.',
  ways: { same: 'same again', half: 'half', none: 'none' },
  tested: 'tests',
  allStayed: 'ledger alone',
  after: (way: string, seasons: number) => `${way}, after ${seasons}`,
  titleApart: (name: string) => `${name}: the tests do not follow the ledger`,
  titleOn: (name: string) => `${name}: with the same again, half, or none`,
  how: 'Tests by one extractant; the ledger starts at the first.',
  axis: (unit: string, extractant: string) => `${unit}, by ${extractant}`,
  besideHeading: 'pH, P and K as tested last',
  columns: { what: 'What', extractant: 'By', day: 'Day', value: 'Value', band: 'Laboratory’s band' },
  noBand: 'none given',
  termsHeading: 'Change what it takes for granted',
  fields: {
    bulkDensity: 'Bulk density of the soil, g/cm³ (1.1 to 1.5 is common)',
    laboratoryError: 'Standard error of a value whose laboratory tells none, %',
    seasons: 'Seasons to look ahead',
  },
  work: 'Work it out again',
}
