import { plural } from './plural.ts'

export const settingUp = {
  step: (at: number) => `Setting up, ${at} of 4`,
  choose: 'Choose',
  bed: 'Bed',
  more: 'More lines',
  atCell: (line: number, column: string, say: string) => `Line ${line}, ${column.toLowerCase()}: ${say}`,
  leave: 'Leave it here, it waits',
  tooMany: (most: number) => `At most ${most} lines at a time.`,
  noGarden: 'Fill in one line at least; two gardens or more can be compared.',
  noGround: 'Say whether they lie on one ground.',
  noCrop: 'Fill in one line at least.',
  notBeds: 'Write the number of beds, such as 6, or with their size: 6 of 8 m², 6 of 1.2 x 7 m.',
  bedsTooLarge: 'The beds come to more than the garden. Put the size or the beds right.',
  noRoom: 'What stands together is larger than its bed. Make the area smaller, or leave it blank.',
  ready:
    'All of it stands. This is the week: write down what was picked and worked; what is still to come stays blank.',
  gardens: {
    title: 'Your gardens and how each is grown',
    lead: 'Two or more, each under one way of growing. An estimate of the size will do; all of it can be changed.',
    columns: { name: 'Garden', method: 'Way of growing', since: 'Since', grossAreaCm2: 'Size', beds: 'Beds' },
    hints: [
      'Since: the year it began there; blank, it begins now.',
      'Size: 70 m² or 7 x 10, paths included. Beds: 6 of 8 m², or 6: the whole is then shared among them.',
      'A way of growing needs a name now and its rules later. Gardens may share one.',
    ],
    ground: 'Do they lie on one ground, of one soil and exposure?',
    grounds: { one: 'Yes, on one ground', apart: 'No, apart from each other' },
    goOn: 'Go on: what grows in all of them',
  },
  season: {
    title: 'The season, and what grows in all gardens',
    lead: 'The same kind, sown at the same time in every garden, is what can be compared like with like.',
    startsOn: 'The season begins on',
    endsOn: 'and ends on',
    lies: 'What lies where',
    since: 'Since',
    columns: {
      crop: 'Crop',
      cultivar: 'Cultivar',
      sownOn: 'Sown on',
      plantedOn: 'or planted out on',
      areaCm2: 'Area in each',
    },
    hints: [
      'Each crop takes a bed of its own in every garden, in this order; where there are more crops than beds, ' +
        'they share evenly.',
      'Area: blank, the whole bed or its share. What grows in one garden only comes later.',
    ],
    goOn: 'Go on: the first week',
  },
  shows: {
    title: 'What your layout can show, and what it cannot',
    kinds: {
      'one method':
        'All your gardens are grown in one way: the figures describe them, and there is nothing to hold them against.',
      'one each':
        'A way of growing that has one garden cannot be told from its ground. Whatever you see between two such ' +
        'gardens may be the soil, the shade or the years before.',
      'several each':
        'Every way of growing has two gardens or more. What differs between the ways can be told from what ' +
        'differs between gardens, the surer the more gardens there are.',
    },
    alone: (names: string) => `With one garden each: ${names}.`,
    oneGround: 'They lie on one ground, which helps: soil and weather are alike.',
    apart: 'They lie apart, so that soil and exposure differ as well as the way of growing.',
    sets: (count: number) =>
      plural(count, {
        one:
          'One crop stands alike in all gardens. Each further one makes a comparison surer: one crop can like a ' +
          'place.',
        other: `${count} crops stand alike in the gardens; these carry the comparison.`,
      }),
    noSets: 'No crop stands alike in the gardens yet: without one there is no like for like.',
    seasons:
      'One season says what happened in it. Whether it holds needs further seasons, and a failed bed counts as ' +
      'nothing harvested.',
    chosen:
      'Which garden got which way is written down as your choice. A second garden a way, halves of one garden, ' +
      'or lots drawn next season would let you say more.',
    goOn: 'Look at other layouts, with their numbers',
  },
}
