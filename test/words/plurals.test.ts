import { expect, it } from 'vitest'
import { pluralsOf } from '../../src/words/plurals.ts'

it.each([
  ['en', 0, 'beds'],
  ['en', 1, 'bed'],
  ['en', 2, 'beds'],
  ['de', 1, 'bed'],
  ['de', 1.5, 'beds'],
  // French counts nothing as one; Polish has a form of its own from two to four.
  ['fr', 0, 'bed'],
  ['pl', 3, 'few'],
  ['pl', 5, 'beds'],
])('in %s, %d takes "%s"', (locale, count, form) => {
  expect(pluralsOf(locale)(count, { one: 'bed', few: 'few', other: 'beds' })).toBe(form)
})
