import fc from 'fast-check'
import { expect, it } from 'vitest'
import { rowsWith, rowWith } from '../../src/lookups/rows-with.ts'

const rows = fc.array(
  fc.record({
    id: fc.nat(),
    seasonId: fc.constantFrom<string>('a', 'b', 'c'),
    task: fc.constantFrom<string>('x', 'y'),
  }),
)

it('gives the rows that a search through the list gives, in its order, by any column and as often as asked', () => {
  fc.assert(
    fc.property(rows, fc.constantFrom<string>('a', 'b', 'd'), fc.constantFrom('x', 'y'), (list, seasonId, task) => {
      for (let again = 0; again < 2; again++) {
        expect(rowsWith(list, 'seasonId', seasonId)).toEqual(list.filter((one) => one.seasonId === seasonId))
        expect(rowsWith(list, 'task', task)).toEqual(list.filter((one) => one.task === task))
        expect(rowWith(list, 'task', task)).toBe(list.find((one) => one.task === task))
      }
    }),
  )
})
