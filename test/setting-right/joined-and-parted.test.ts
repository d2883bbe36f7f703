import { expect, it } from 'vitest'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { type Half, joined, lossesOfJoined } from '../../src/setting-right/joined.ts'
import { dividedByArea, type PartKnown, type PartTyped, parted, sharesParted } from '../../src/setting-right/parted.ts'

const half = (over: Partial<Half>): Half => ({
  ...{ id: 'a', areaCm2: 20_000, plants: 40, sownOn: '2026-04-01', plantedOn: null, clearedOn: null },
  ...{ standsUntil: null, matchedSetId: null },
  ...over,
})
const a = half({ matchedSetId: 'set', clearedOn: '2026-09-01' })
const b = half({ id: 'b', areaCm2: 30_000, plants: 60, sownOn: '2026-03-28', clearedOn: '2026-09-10' })

it.each([
  ['side by side', 'each', b, { areaCm2: 50_000, plants: 100, sownOn: '2026-03-28', clearedOn: '2026-09-10' }],
  ['written twice', 'once', b, { areaCm2: 20_000, plants: 40, sownOn: '2026-03-28', clearedOn: '2026-09-10' }],
  ['one half still stands', 'each', half({ id: 'b' }), { areaCm2: 40_000, plants: 80, clearedOn: null }],
  ['cleared in one of two writings', 'once', half({ id: 'b' }), { clearedOn: '2026-09-01' }],
  ['plants counted in one half alone', 'each', half({ id: 'b', plants: null }), { plants: null }],
  ['and of one writing', 'once', half({ id: 'b', plants: null }), { plants: 40 }],
] as const)('two are one: %s', (_what, ground, other, expected) => {
  expect(joined(a, other, ground)).toMatchObject({ ...expected, matchedSetId: 'set' })
})

const loss = (id: string, plantingId: string, lostOn: IsoDate, sharePermille: number) => ({
  ...{ id, plantingId, lostOn, sharePermille, cause: 'pest' },
})

it('a loss of one half is a smaller share of the whole, day after day', () => {
  // 2 m2 and 3 m2. Half of the 2 is 1 of 5; then a third of the 3 is 1 of the 4 that stood; then all of what is left of the 2
  // is 1 of 3.
  const losses = [
    loss('1', 'a', '2026-06-01', 500),
    loss('3', 'a', '2026-08-01', 1000),
    loss('2', 'b', '2026-07-01', 333),
  ]
  expect([...lossesOfJoined(losses, [a, b], 'each')]).toEqual([
    ['1', 200],
    ['2', 250],
    ['3', 333],
  ])
})

it('hail over both halves is the same share of the whole, and all lost of both is all', () => {
  const hail = [loss('1', 'a', '2026-06-01', 1000), loss('2', 'b', '2026-06-01', 1000)]
  // First 2 of 5, then all 3 of the 3 that stood.
  expect([...lossesOfJoined(hail, [a, b], 'each').values()]).toEqual([400, 1000])
})

it('of what was written twice, a loss said twice is one', () => {
  const losses = [
    loss('1', 'a', '2026-06-01', 300),
    loss('2', 'b', '2026-06-01', 300),
    loss('3', 'b', '2026-07-01', 300),
  ]
  expect([...lossesOfJoined(losses, [a, b], 'once').values()]).toEqual([300, null, 300])
})

const known: PartKnown = {
  ...{ areaCm2: 40_000, plants: 80, sealed: false, entries: ['w1', 'w2'] },
  gardenOfBed: new Map([['bed 2', 'terrace']]),
}
const typed = (over: Partial<PartTyped>): PartTyped => ({
  ...{ bedId: 'bed 2', areaCm2: 15_000, plants: 30, entries: 'divided', lines: new Map() },
  ...over,
})

it('one is two: ground and plants are divided, and a line overrules what is said of all', () => {
  expect(parted(known, typed({ lines: new Map([['w2', 'goes']]) }))).toEqual({
    kind: 'answer',
    left: { areaCm2: 25_000, plants: 50 },
    part: { areaCm2: 15_000, plants: 30, gardenId: 'terrace' },
    wayOf: new Map([
      ['w1', 'divided'],
      ['w2', 'goes'],
    ]),
  })
})

it.each([
  ['a bed that is not there', {}, { bedId: 'bed 9' }, 'bedId', 'notChosen'],
  ['a crate of it waits under a label', { sealed: true }, {}, 'bedId', 'sealed'],
  ['no less than the whole', {}, { areaCm2: 40_000 }, 'areaCm2', 'noLess'],
  ['counted plants, and none said of the part', {}, { plants: null }, 'plants', 'howManyPlants'],
  ['as many plants as the whole', {}, { plants: 80 }, 'plants', 'morePlants'],
  [
    'an entry of which nothing is said',
    {},
    { entries: null, lines: new Map<string, 'stays'>([['w1', 'stays']]) },
    'entries',
    'notSaid',
  ],
] as const)('is not parted: %s', (_what, more, over, field, code) => {
  expect(parted({ ...known, ...more }, typed(over))).toEqual({ kind: 'refused', field, code })
})

it('divides to the last unit, and keeps the others’ part of a crate', () => {
  expect(dividedByArea(1000, 25_000, 15_000)).toEqual({ stays: 625, goes: 375 })
  expect(dividedByArea(1, 25_000, 15_000)).toEqual({ stays: 1, goes: 0 })
  const shares = [
    { id: 'own', share: 3 },
    { id: 'other', share: 5 },
  ]
  // 25 to 15 is 5 to 3: of 64 in all the two have 24, as 3 of 8 before.
  expect(sharesParted(shares, 'own', [25_000, 15_000])).toEqual({
    shares: new Map([
      ['own', 15],
      ['other', 40],
    ]),
    part: 9,
  })
  expect(sharesParted([{ id: 'own', share: null }], 'own', [25_000, 15_000])).toEqual({
    shares: new Map([['own', null]]),
    part: null,
  })
})
