import { describe, expect, it } from 'vitest'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { summaryOfRecord } from '../../src/comparison/findings/summary-of-record.ts'
import { summaryTold } from '../../src/comparison/findings/summary-told.page.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { joinable } from '../../src/comparison/matched/joinable.ts'
import { recordOf } from '../support/record.ts'

const base = recordOf([
  { carrot: { m2: 4, a: 20, b: 22 }, leek: { m2: 2, a: 5, b: 6 } },
  { carrot: { m2: 4, a: 18, b: 21 } },
])
const without = (crop: string, more: object = {}) => ({
  ...base,
  plantings: base.plantings.map((one) =>
    one.crop === crop && one.seasonId === 's0' ? { ...one, matchedSetId: null, ...more } : one,
  ),
})

describe('crops that would count if they were joined', () => {
  it('stood cleared under every method of a season and are in no set', () => {
    expect(joinable(base, ['s0', 's1'])).toEqual([])
    const [leek] = base.plantings.filter((one) => one.crop === 'leek')
    const crops = [`leek, ${leek?.cultivar}`]
    expect(joinable(without('leek'), ['s0', 's1'])).toEqual([{ seasonId: 's0', season: 's0', crops }])
    expect(joinable(without('leek'), ['s1'])).toEqual([])
  })

  it('are not those that still stand, are for something else, or stood under one method alone', () => {
    expect(joinable(without('leek', { cleared: false }), ['s0'])).toEqual([])
    expect(joinable(without('leek', { purpose: 'green manure' }), ['s0'])).toEqual([])
    const one = without('leek')
    const plantings = one.plantings.filter((own) => own.crop !== 'leek' || own.bedId !== 'b')
    expect(joinable({ ...one, plantings }, ['s0'])).toEqual([])
  })
})

it('the table says in which seasons each method lay', () => {
  const assignments = base.assignments.filter((one) => one.seasonId === 's0' || one.methodId === 'dug')
  const table = firstTable({ ...base, assignments }, null)
  expect(table.methods.map((one) => one.seasons)).toEqual([['s0', 's1'], ['s0']])
})

it('crops that are matched in single seasons alone are said to be so, where nothing can be taken together', () => {
  const record = recordOf([{ carrot: { m2: 4, a: 20, b: 22 } }, { leek: { m2: 2, a: 5, b: 6 } }])
  const seasonIds = ['s0', 's1']
  const found = findingsOf(record, { seasonIds, referenceId: 'dug', questionLocked: false })
  const summary = summaryOfRecord(record, seasonIds, { referenceId: 'dug', found })
  expect(summary.measures[0]?.refused).toHaveLength(1)
  expect(summary.rests).toMatchObject({ crops: 2, singly: true })
  expect(summaryTold(summary, 'en', 'EUR').rests).toContain('matched crops in single seasons alone')
})
