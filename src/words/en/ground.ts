import { byName } from '../by-name.ts'

interface Line {
  readonly bed: string
  readonly before: string
  readonly area: string
}

/** The ground of a garden with its days. */
export const ground = {
  title: (garden: string) => `The ground of ${garden}`,
  link: 'The ground and its changes',
  intro:
    'An area holds from its day. What is done to the ground later leaves every earlier season the ground that it ' +
    'had; where an area changed within a season, its days are weighed.',
  none: 'Nothing has changed since this garden and its beds were written down.',
  change: 'Something changes',
  choose: 'choose',
  sentences: {
    began: ({ bed, area }: Line) => `${bed} was added: ${area}.`,
    grew: ({ bed, before, area }: Line) => `${bed} became larger: ${area}, before that ${before}.`,
    shrank: ({ bed, before, area }: Line) => `${bed} became smaller: ${area}, before that ${before}.`,
    'gave up': ({ bed, before }: Line) => `${bed} was given up; it had ${before}.`,
    garden: ({ before, area }: Line) => `The garden has ${area} with its paths, before that ${before}.`,
  },
  lineOf: (bed: string, day: string) => `${bed}, ${day}`,
  acts: {
    added: 'A bed is added',
    resized: 'A bed becomes larger or smaller',
    parted: 'A part of a bed becomes a bed of its own',
    joined: 'Two beds become one',
    'given-up': 'A bed is given up',
    gross: 'The garden becomes larger or smaller',
  },
  actSays: {
    added: 'It lies under the method of its garden until it has one of its own.',
    resized: 'What stands in it then must still fit.',
    parted: 'The new bed lies under the method of the old one, in the same block.',
    joined: 'What stands in the second bed is cleared or moved first; the first takes its ground.',
    'given-up': 'What stands in it is cleared first. Its earlier seasons keep it.',
    gross: 'With paths and edges: the beds must fit into it.',
  },
  /** Which fields a form has, beside the day. */
  asks: byName({
    added: ['name', 'areaCm2'],
    resized: ['bedId', 'areaCm2'],
    parted: ['bedId', 'name', 'areaCm2'],
    joined: ['bedId', 'otherId'],
    'given-up': ['bedId'],
    gross: ['areaCm2'],
  }),
  areaOf: byName({
    added: 'Its area',
    resized: 'The area that it has from then on',
    parted: 'Area of the part',
    gross: 'Gross area from then on, paths included',
  }),
  fields: {
    bedId: 'Bed',
    otherId: 'The bed that goes into it',
    name: 'Name of the new bed',
    fromDay: 'From which day',
  },
  saved: 'The ground is written down from that day on.',
  back: (garden: string) => `Back to ${garden}`,
  refused: {
    'not there': 'This bed has no ground on that day: choose one that has.',
    later:
      'On that day or after it a change of this bed is written down already: correct that one, or say a later day.',
    'too large': 'The part must be smaller than the bed.',
    alike: 'The bed has this area already.',
    itself: 'Choose two different beds.',
  },
  beyondGarden: 'With this the beds are larger than their garden on some day. Say first that the garden became larger.',
  standsThere: 'What stands in the bed on that day would have no room. Clear it first, or move it.',
  areaOrGone: 'Area from that day on',
  areaOrGoneHint: 'Blank for a bed that was given up.',
  since: 'There since',
  sinceHint: 'Blank for a bed that was there from the first.',
  sinceAsked: (season: string) =>
    `${season} is closed: say from which day these beds are there, so that its figures keep the ground they had.`,
}
