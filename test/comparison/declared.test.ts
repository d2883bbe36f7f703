import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type RowPart, rowsBehind } from '../../src/comparison/rows/rows-behind.ts'
import {
  addBed,
  addEntry,
  addGarden,
  addLabour,
  addPlanting,
  addSpreading,
  addWeeks,
  broughtBy,
} from '../../src/comparison/totals/adding-up.ts'
import {
  figureKeys,
  type MeasureKey,
  type MethodTotals,
  measureKeys,
  measureOf,
  measures,
  type SumKey,
  sums,
  units,
} from '../../src/comparison/totals/figures.ts'
import { type MeasureRules, measureChoices, plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import { catalogue } from '../../src/words/catalogue.ts'
import { oddTrial } from '../reports/odd-trials.ts'
import { recordFrom } from '../reports/recompute-folder.ts'

const sumKeys = Object.keys(sums) as SumKey[]
const ones = Object.fromEntries(sumKeys.map((key) => [key, 1])) as MethodTotals
const rulesOneOff: MeasureRules[] = [
  plainMeasureRules,
  ...(Object.keys(measureChoices) as (keyof MeasureRules)[]).flatMap((rule) =>
    measureChoices[rule].map((choice) => ({ ...plainMeasureRules, [rule]: choice })),
  ),
]

/** The sums that a side of a measure rests on, under some rule or other. */
function restingOn(key: MeasureKey, side: 'numerator' | 'denominator'): SumKey[] {
  return sumKeys.filter((sum) =>
    rulesOneOff.some(
      (rules) => measureOf(ones, key, rules)[side] !== measureOf({ ...ones, [sum]: ones[sum] + 1 }, key, rules)[side],
    ),
  )
}

describe('a measure as it is declared', () => {
  it.each(measureKeys)('%s is the quotient of sums in what its unit says', (key) => {
    const [over, under] = units[measures[key].unit].sums
    const inOf = (side: 'numerator' | 'denominator') => [...new Set(restingOn(key, side).map((sum) => sums[sum]))]
    expect([inOf('numerator'), inOf('denominator')]).toEqual([[over], [under]])
  })

  it.each(measureKeys)('%s is touched by the rules that it names and by no other', (key) => {
    const totals = Object.fromEntries(sumKeys.map((sum, i) => [sum, 1000 + 7 ** (i % 5) + i])) as MethodTotals
    const plain = measureOf(totals, key, plainMeasureRules)
    const touching = (Object.keys(measureChoices) as (keyof MeasureRules)[]).filter((rule) =>
      measureChoices[rule].some(
        (choice) => measureOf(totals, key, { ...plainMeasureRules, [rule]: choice }).value !== plain.value,
      ),
    )
    expect([...touching].sort()).toEqual([...measures[key].rules].sort())
  })

  it('has one quotient, in whichever order it is divided', () => {
    for (const { factor, quotient } of Object.values(units)) {
      if (quotient) expect(quotient(37, 11)).toBeCloseTo((37 / 11) * factor, 9)
    }
  })
})

it('each row of the record brings the sums that are said to come from it, and no others', () => {
  const shapes = { methods: 3, seasons: 3, laid: ['AA', 'BB', 'C', '..'], failing: 0.3, open: 0.1 }
  const record = recordFrom(oddTrial({ ...shapes, seed: 5 }))
  const seen = new Set<SumKey>()
  for (const { id } of record.methods) {
    const rows = rowsBehind(
      record,
      record.seasons.map((one) => one.id),
      id,
    )
    const from: readonly (readonly [unknown, readonly RowPart[]])[] = [
      [addBed, rows.ground],
      [addGarden, rows.gardens],
      [addPlanting, rows.plantings],
      [addLabour, rows.hours],
      [addSpreading, rows.costs],
      [addWeeks, rows.weeks],
      [addEntry, rows.entries],
    ]
    for (const [add, parts] of from) {
      for (const { part } of parts) {
        for (const key of sumKeys.filter((sum) => part[sum] !== 0)) {
          expect([key, broughtBy[key] === add]).toEqual([key, true])
          seen.add(key)
        }
      }
    }
  }
  expect(seen.size).toBeGreaterThan(20)
})

it('the script in R names every sum and counts every figure of the first table', () => {
  const script = readFileSync('recompute/2-totals.R', 'utf8')
  expect(sumKeys.filter((key) => !new RegExp(`"${key}"`).test(script))).toEqual([])
  expect(figureKeys.filter((key) => !new RegExp(`\\b${key} = per\\(`).test(script))).toEqual([])
})

it('no measure has words that no figure uses', () => {
  expect(Object.keys(catalogue.measures.names).sort()).toEqual([...figureKeys].sort())
  expect(Object.keys(catalogue.measures.counted).sort()).toEqual([...measureKeys].sort())
})
