import { plural } from './plural.ts'

/** The page on what ground and hours brought: money, food, effort. */
export const value = {
  title: 'What an hour and a m² brought',
  none: 'First two things are needed: weights in a season, and hours.',
  seasons: 'Season',
  brought: (method: string, hour: string) => `${hour} under ${method}`,
  answer: (season: string, list: string) => `In ${season} an hour brought, after inputs, ${list}.`,
  expected: (method: string, hour: string) => `Next season an hour brings ${hour} under ${method} again.`,
  notKnown: {
    crops: 'What an hour brought after inputs is not known: crops have no price.',
    inputs: 'What an hour brought after inputs is not known: an input has no price.',
    hours: 'What an hour brought after inputs is not known: no hours are written.',
  },
  toCrops: 'Prices stand under Crops',
  worth: (hour: string) => `To the group an hour is worth ${hour}.`,
  sureHeading: 'How sure',
  oneGarden:
    'It is what happened on this ground in this season. With one garden a method it cannot tell the method from ' +
    'its ground.',
  prices:
    'Value hangs on the prices under Crops, as they held on the last day of the season: the last column shows it ' +
    'with all of them a fifth lower and higher.',
  unpriced: (kg: string) =>
    `${kg} were of crops without a price; above a tenth of the weight nothing is said of worth.`,
  unknownEnergy: (kg: string) => `${kg} of crops whose energy is not kept are not in the food.`,
  withoutCode: (hours: string) =>
    `${hours} of tasks without a code (washing, tools, recording, other) are not in the effort.`,
  open: (count: number) =>
    plural(count, {
      one: 'One week of a garden is open for hours or weights: what lies in it is not known.',
      other: `${count} weeks of gardens are open for hours or weights: what lies in them is not known.`,
    }),
  caption: 'By method',
  head: {
    method: 'Method',
    value: 'Worth a m²',
    energy: 'Food a m²',
    hours: 'Hours a m²',
    effort: 'MET-hours a m²',
    carried: 'Carried, kg a m²',
    hour: 'An hour, after inputs',
    range: 'Prices a fifth off',
  },
  notSaid: 'not known',
  picture: {
    title: 'Worth of the harvest, and effort, on a m²',
    effortAlone: 'Effort on a m²',
    how: 'Bars from 0; each measure has a scale of its own.',
    value: 'Worth of the harvest a m²',
    effort: 'Effort a m², MET-hours',
  },
  codesHeading: 'How strenuous each task counts',
  codesSay:
    'A metabolic equivalent (MET) is effort as a multiple of sitting still. By Ainsworth and others, 2011 ' +
    'Compendium of Physical Activities, which a later one of 2024 changes in part. It is a mean of adults: one ' +
    'person may lie a fifth to a third away, and it says nothing of what a back or a knee can bear.',
  codesCaption: 'Tasks, their code and MET',
  codes: { task: 'Task', code: 'Code', met: 'MET' },
  noCode: 'none',
  atLeast: (figure: string) => `at least ${figure}`,
  barrow: (input: string, kg: string, litres: string, barrows: string) =>
    `A full barrow of ${input} (${litres} L) weighs about ${kg} kg; what was carried on this season comes to ` +
    `${barrows} of that weight.`,
  cautionLine: 'Heavy loads: fewer kilograms at a time',
  caution:
    'A full barrow of wet compost weighs 60 to 100 kg (common practice; weigh yours), and lifting is limited by ' +
    'how far one reaches, bends and turns, and how often. Fill less, lift with two, and stop where it hurts. ' +
    'Rules at work and the advice of those who know a person’s health stand above these figures.',
}
