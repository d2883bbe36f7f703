import { expect, it } from 'vitest'
import { monthShown, monthsOf, mostAtOnce } from '../../src/timeline/by-month.ts'

const on = (...dates: string[]) => dates.map((date) => ({ date }))
const many = Array.from({ length: mostAtOnce }, () => ({ date: '2026-01-09' }))
const today = '2026-03-15'

it('months are those in which something is written down, each once and in their order', () => {
  expect(monthsOf(on('2026-02-03', '2025-12-31', '2026-02-28'))).toEqual(['2025-12', '2026-02'])
})

it('few entries are shown together', () => {
  expect(monthShown(many, { month: '', today })).toBeNull()
})

it('with more than is read at once the last month until today is shown', () => {
  expect(monthShown([...many, ...on('2026-02-20', '2026-05-01')], { month: '', today })).toBe('2026-02')
})

it('where all of it is still to come, the first month', () => {
  expect(monthShown([...many, ...many], { month: '', today: '2025-06-01' })).toBe('2026-01')
})

it('a month that was asked for is shown, and all where all were', () => {
  const happened = [...many, ...on('2026-02-20')]
  expect(monthShown(happened, { month: '2026-01', today })).toBe('2026-01')
  expect(monthShown(happened, { month: 'all', today })).toBeNull()
  expect(monthShown(happened, { month: '2019-01', today })).toBe('2026-02')
})
