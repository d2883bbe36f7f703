import { expect, it } from 'vitest'
import { type AssignmentRow, type LayoutRows, laidBy, type Wanted, type Way } from '../../src/planning/laying.ts'

const bed = (id: string, gardenId: string, blockId: string | null = null) => ({
  ...{ id, gardenId, blockId, name: id },
})
const row = (over: Partial<AssignmentRow>): AssignmentRow => ({
  ...{ seasonId: '2025', gardenId: 'A', bedId: null, methodId: 'dug', how: 'choice', randomSeed: null },
  ...{ phase: 'establishing', yearOfMethod: 1 },
  ...over,
})
const rows: LayoutRows = {
  seasonId: '2026',
  seasons: [
    { id: '2025', name: '2025', startsOn: '2025-01-01' },
    { id: '2026', name: '2026', startsOn: '2026-01-01' },
  ],
  methods: ['dug', 'mulch'].map((id) => ({ id, name: id })),
  gardens: ['A', 'B', 'C'].map((id) => ({ id, name: id, siteId: 'one' })),
  beds: [
    ...['a1', 'a2', 'a3', 'a4'].map((id) => bed(id, 'A')),
    ...['b1', 'b2'].map((id) => bed(id, 'B')),
    bed('c1', 'C'),
  ],
  assignments: [row({}), row({ gardenId: 'B', methodId: 'mulch', yearOfMethod: 4, phase: 'established' })],
}
const wanted = (way: Way, over: Partial<Wanted> = {}): Wanted => ({
  ...{ way, seed: 'barley', methods: ['dug', 'mulch'], places: [], to: new Map(), since: new Map() },
  ...over,
})
const said = (laid: readonly AssignmentRow[]) =>
  laid.map((one) => `${one.bedId ?? one.gardenId} ${one.methodId} ${one.how}`).sort()

it('as in the season before: the same methods, drawn ones still drawn, each a year older and established', () => {
  const drawn = row({ gardenId: 'C', bedId: 'c1', methodId: 'mulch', how: 'random', randomSeed: 'oats' })
  const gone = row({ gardenId: 'C', bedId: 'c2', methodId: 'dug' })
  const laid = laidBy({ ...rows, assignments: [...rows.assignments, drawn, gone] }, wanted('as before'))
  expect(laid).toEqual([
    row({ seasonId: '2026', phase: 'established', yearOfMethod: 2 }),
    row({ seasonId: '2026', gardenId: 'B', methodId: 'mulch', phase: 'established', yearOfMethod: 5 }),
    { ...drawn, seasonId: '2026', phase: 'established', yearOfMethod: 2 },
  ])
})

it('halves are neighbouring beds, every method in each garden that has beds enough', () => {
  const laid = laidBy(rows, wanted('draw halves'))
  const methodOf = new Map(laid.map((one) => [one.bedId, one.methodId]))
  expect(laid).toHaveLength(6)
  expect([methodOf.get('a1'), methodOf.get('a3')]).toEqual([methodOf.get('a2'), methodOf.get('a4')])
  expect(methodOf.get('a1')).not.toBe(methodOf.get('a3'))
  expect(methodOf.get('b1')).not.toBe(methodOf.get('b2'))
  expect(methodOf.has('c1')).toBe(false)
})

it('completely at random over the beds that are ticked, and the rest of their garden stays as it lies', () => {
  const now = row({ seasonId: '2026', gardenId: 'A', methodId: 'dug', yearOfMethod: 2, phase: 'established' })
  const before = { ...rows, assignments: [...rows.assignments, now] }
  const laid = laidBy(before, wanted('draw freely', { places: ['a1', 'a2'] }))
  expect(laid.filter((one) => one.bedId !== null).map((one) => one.bedId)).toEqual(['a1', 'a2'])
  expect(new Set(laid.filter((one) => one.bedId !== null).map((one) => one.methodId))).toEqual(
    new Set(['dug', 'mulch']),
  )
  expect(laid.filter((one) => one.bedId === null)).toEqual([now])
  // All of its beds drawn: nothing of the garden as a whole is left to say.
  const whole = laidBy(before, wanted('draw beds', { places: ['A'] }))
  expect([whole.length, whole.every((one) => one.bedId !== null)]).toEqual([4, true])
})

it('a draw over gardens that are ticked leaves the others alone', () => {
  const laid = laidBy(rows, wanted('draw gardens', { places: ['A', 'B'] }))
  expect(laid.map((one) => one.gardenId)).toEqual(['A', 'B'])
  expect(new Set(laid.map((one) => one.methodId)).size).toBe(2)
})

it('a control strip is one bed of each garden under the one method', () => {
  const laid = laidBy(rows, wanted('draw strip', { methods: ['mulch'] }))
  expect(laid.map((one) => one.gardenId)).toEqual(['A', 'B', 'C'])
  expect(laid.every((one) => one.bedId !== null && one.methodId === 'mulch' && one.randomSeed === 'barley')).toBe(true)
  expect(laidBy(rows, wanted('draw strip', { methods: ['mulch'] }))).toEqual(laid)
})

it('in turns the beds of a garden that was split go on, and a whole garden as a whole', () => {
  const split = [
    row({ bedId: 'a1' }),
    row({ bedId: 'a2', methodId: 'mulch' }),
    row({ bedId: 'a3' }),
    row({ bedId: 'a4' }),
  ]
  const laid = laidBy({ ...rows, assignments: [...split, ...rows.assignments.slice(1)] }, wanted('turn gardens'))
  expect(said(laid)).toEqual([
    ...['B dug rotation', 'C mulch rotation'],
    ...['a1 mulch rotation', 'a2 dug rotation', 'a3 mulch rotation', 'a4 mulch rotation'],
  ])
})

it('by hand, what is left as it lies keeps how it was chosen and its age', () => {
  const drawn = row({ seasonId: '2026', how: 'random', randomSeed: 'oats', yearOfMethod: 3, phase: 'established' })
  const to = new Map([
    ['A', 'dug'],
    ['B', 'dug'],
    ['a1', 'mulch'],
  ])
  const laid = laidBy({ ...rows, assignments: [...rows.assignments, drawn] }, wanted('by hand', { to }))
  expect(laid[0]).toEqual(drawn)
  expect(said(laid)).toEqual(['A dug random', 'B dug choice', 'a1 mulch choice'])
})
