import { expect, it } from 'vitest'
import { type SetsBrought, type SetThere, setsOfFile } from '../../src/exchange/sets-of-file.ts'

const brought = (id: string, over: Partial<SetsBrought> = {}): SetsBrought => ({
  ...{
    id,
    line: Number(id),
    cultivar: 'carrot Kestrel',
    cultivarName: 'Kestrel',
    seasonId: '2026',
    bedId: `bed ${id}`,
  },
  ...{ purpose: 'harvest', day: '2026-04-01', setName: '' },
  ...over,
})
const there = (over: Partial<SetThere> = {}): SetThere => ({
  ...{ id: 'set', cultivar: 'carrot Kestrel', seasonId: '2026', name: 'Early', windowFrom: '2026-03-25' },
  ...{ windowTo: '2026-04-05' },
  ...over,
})
const said = (lines: readonly SetsBrought[], sets: readonly SetThere[] = []) => {
  const found = setsOfFile(lines, sets)
  return {
    joins: [...found.joins],
    made: found.made.map((one) => [one.name, ...one.members.map((member) => member.id)]),
    unmatched: found.unmatched.map((one) => one.id),
  }
}

it.each([
  [
    'one cultivar on one day in two beds is a set by the rule of the plan',
    [brought('1'), brought('2')],
    [],
    { joins: [], made: [['Kestrel', '1', '2']], unmatched: [] },
  ],
  [
    'another day, cultivar or season is none',
    [
      brought('1'),
      brought('2', { day: '2026-04-02' }),
      brought('3', { cultivar: 'x' }),
      brought('4', { seasonId: '2027' }),
    ],
    [],
    { joins: [], made: [], unmatched: ['1', '2', '3', '4'] },
  ],
  [
    'twice in one bed is none either',
    [brought('1', { bedId: 'a' }), brought('2', { bedId: 'a' })],
    [],
    { joins: [], made: [], unmatched: ['1', '2'] },
  ],
  [
    'the name that the file gives joins other days',
    [brought('1', { setName: 'Spring' }), brought('2', { day: '2026-04-09', setName: 'spring ' })],
    [],
    { joins: [], made: [['Spring', '1', '2']], unmatched: [] },
  ],
  [
    'a set that stands is joined where its window holds the day',
    [brought('1'), brought('2', { day: '2026-04-06' })],
    [there()],
    { joins: [['1', 'set']], made: [], unmatched: ['2'] },
  ],
  [
    'or by its name, whatever the day; a name that is another’s is not joined',
    [brought('1', { day: '2026-06-01', setName: 'early' }), brought('2', { setName: 'Late' })],
    [there()],
    { joins: [['1', 'set']], made: [], unmatched: ['2'] },
  ],
  [
    'green manure is matched with nothing and not asked about',
    [brought('1', { purpose: 'green manure' }), brought('2', { purpose: 'green manure' })],
    [there()],
    { joins: [], made: [], unmatched: [] },
  ],
] as const)('%s', (_what, lines, sets, expected) => {
  expect(said(lines, sets)).toEqual(expected)
})
