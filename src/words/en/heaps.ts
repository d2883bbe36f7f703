import { plural } from './plural.ts'

export const heaps = {
  title: 'Own heaps',
  say:
    'What went in, when it was turned, how hot it was, when it was ready. A batch that is taken from a heap is ' +
    'then written down above as your own, at the value you give it.',
  none: 'No heap is written down yet.',
  started: (day: string, input: string) => `Started on ${day}; it becomes ${input}.`,
  ready: (day: string) => `Ready on ${day}.`,
  notReady: 'Not ready yet.',
  sums: (turnings: number, hotDays: number, hottest: string | null) =>
    `Turned ${plural(turnings, { one: 'once', other: `${turnings} times` })}. ${
      hottest === null
        ? 'No temperature was measured.'
        : `Hottest ${hottest}; between 55 and 77 °C on ` +
          plural(hotDays, { one: '1 day', other: `${hotDays} days` }) +
          ' of those measured.'
    }`,
  reference:
    'For comparison: the organic rule of the United States (7 CFR 205.203(c)(2); its numbers of days from ' +
    'memory) takes manure as composted after 55 to 77 °C for 3 days in a vessel or aerated heap, or for 15 days ' +
    'in a windrow turned five times. A heap that stayed cooler is raw manure still, if manure went in. Your ' +
    'local rules decide.',
  events: { added: 'added', turned: 'turned', temperature: 'temperature', note: 'note' },
  entry: (what: string, words: string | null, celsius: string | null) =>
    [what, celsius, words].filter((part) => part !== null).join(', '),
  start: 'Start a heap',
  write: 'Write to a heap',
  sayReady: 'Say that a heap is ready',
  fields: {
    name: 'Name of the heap',
    input: 'What it becomes',
    inputHint: 'The name under which its compost will be spread, for example Own compost',
    startedOn: 'Day it was started',
    heap: 'Heap',
    day: 'Day',
    what: 'What happened',
    words: 'What and how much, or in your words',
    celsius: 'Temperature, °C, in the middle',
    readyOn: 'Day it was ready',
  },
  save: 'Save',
  sayWhat: 'Say what it was.',
  beforeStart: 'This day is before the heap was started.',
  readyFirst: 'It cannot be ready before it was started.',
  isReady: 'Saved: it is ready. Write down a batch of your own when you take from it.',
}
