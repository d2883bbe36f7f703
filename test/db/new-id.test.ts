import { expect, it } from 'vitest'
import { idAfter, idOf, newId } from '../../src/db/new-id.ts'

const uuid = (version: number) =>
  new RegExp(`^[0-9a-f]{8}-[0-9a-f]{4}-${version}[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`)

it('ids sort by when they were made, and what was made under one stands behind it in its order', () => {
  const [first, second] = [newId(1_700_000_000_000), newId(1_700_000_000_001)]
  const under = [1, 2, 15, 16, 300].map((place) => idAfter(first, place))
  expect([second, ...[...under].reverse(), first].sort()).toEqual([first, ...under, second])
  expect(first).toMatch(uuid(7))
  for (const id of [...under, idOf('a row', 1)]) expect(id).toMatch(uuid(8))
})

it('the same place under the same id is the same id, and no other', () => {
  const [one, other] = [newId(1), newId(1)]
  expect(idAfter(one, 1)).toBe(idAfter(one, 1))
  expect(new Set([idAfter(one, 1), idAfter(one, 2), idAfter(other, 1), one, other]).size).toBe(5)
})
