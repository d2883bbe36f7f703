import { expect, it } from 'vitest'
import { findingsPage, type Question } from '../../src/comparison/findings/findings.page.ts'
import { findingsTold } from '../../src/comparison/findings/findings-told.page.ts'
import { pairAsked } from '../../src/comparison/findings/pairs-asked.ts'
import { sideBySide } from '../../src/comparison/findings/side-by-side.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import type { Pair } from '../../src/comparison/matched/matched-season.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { aDay } from '../support/calendar.ts'
import { allClosed, recordOf } from '../support/record.ts'

// Three seasons of four methods, a garden each: kg of carrots off 4 m2, by method.
const kg = {
  dug: [10, 10, 10],
  mulch: [12, 11.5, 12.4],
  clover: [10.4, 9.8, 10.1],
  rye: [6.2, 6, 6.1],
} as const
const record = ((): TrialRecord => {
  const two = recordOf(kg.dug.map((a, i) => ({ carrot: { m2: 4, a, b: kg.mulch[i] ?? 0 } })))
  const more = ['clover', 'rye'] as const
  const whole = {
    ...two,
    methods: [...two.methods, ...more.map((id) => ({ id, name: id }))],
    gardens: [...two.gardens, ...more.map((id) => ({ id, name: id, areas: always(2_000_000) }))],
    beds: [...two.beds, ...more.map((id) => ({ id, gardenId: id, areas: always(1_000_000) }))],
    assignments: [
      ...two.assignments,
      ...two.seasons.flatMap((season) =>
        more.map((id) => ({ seasonId: season.id, gardenId: id, bedId: null, methodId: id })),
      ),
    ],
    plantings: [
      ...two.plantings,
      ...more.flatMap((id) =>
        two.plantings
          .filter((one) => one.bedId === 'b')
          .map((one, i) => ({ ...one, id: `${i} ${id}`, bedId: id, marketableG: Math.round(1000 * (kg[id][i] ?? 0)) })),
      ),
    ],
  }
  return { ...whole, closings: allClosed(whole, ['weights']) }
})()
const seasonIds = record.seasons.map((one) => one.id)
const ofPair = (methodA: string, methodB: string): Pair => ({ methodA, methodB })
const question = (pairs: readonly Pair[]): Question => ({
  ...{
    question: 'Which?',
    referenceId: 'dug',
    primaryMeasure: 'matched yield',
    seasonsToLookAt: 3,
    marginPercent: null,
  },
  ...{ sentenceIfSeen: 'Seen.', sentenceIfNotSeen: 'Not seen.', lockedOn: aDay('2019-12-01'), pairs },
  rules: { weights: 'marketable', mix: 'pooled areas', outsideLosses: 'counted' },
})
const said = (pairs: readonly Pair[], referenceAsked?: string) =>
  findingsPage(record, seasonIds, { question: question(pairs), referenceAsked, locale: 'en', currency: 'EUR' })
const marks = (found: ReturnType<typeof said>) => {
  const side = sideBySide(record, firstTable(record, null), { ...found, seasonIds })
  return Object.fromEntries(side.rows.map((row) => [row.methodId, row.cells.weight.told]))
}

/** Student's t with two degrees of freedom has a closed form. */
const tOfTwo = (p: number) => (2 * p - 1) * Math.sqrt(2 / (4 * p * (1 - p)))
const reach = (methodB: keyof typeof kg, comparisons: number) => {
  const logs = kg[methodB].map((one, i) => Math.log(one / (kg.dug[i] ?? 1)))
  const mean = logs.reduce((sum, one) => sum + one, 0) / 3
  const sd = Math.sqrt(logs.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 2)
  return tOfTwo(1 - 0.025 / comparisons) * (sd / Math.sqrt(3))
}
const widthOf = (found: ReturnType<typeof said>, name: string) => {
  const own = found.found.find((one) => one.methodB === name && 'next' in one)
  if (!own || !('next' in own)) throw new Error(name)
  return Math.log(own.high / own.low) / 2
}

it('the level follows the number of pairs named; a pair that is not named is never told at an easier one', () => {
  const two = [ofPair('dug', 'mulch'), ofPair('clover', 'rye')]
  const asked = (pair: Pair, pairsNamed: readonly Pair[], questionLocked = true) =>
    pairAsked(pair, { questionLocked, pairsNamed, others: 3 })
  expect(asked(ofPair('dug', 'mulch'), two)).toEqual({ asked: true, comparisons: 2 })
  expect(asked(ofPair('mulch', 'dug'), two)).toEqual({ asked: true, comparisons: 2 })
  expect(asked(ofPair('dug', 'rye'), two)).toEqual({ asked: false, comparisons: 3 })
  expect(asked(ofPair('dug', 'rye'), [])).toEqual({ asked: true, comparisons: 3 })
  expect(asked(ofPair('dug', 'mulch'), two, false)).toEqual({ asked: false, comparisons: 3 })
})

it('intervals are as wide as the pairs named ask, by Student’s t in closed form', () => {
  expect(widthOf(said([]), 'Mulch')).toBeCloseTo(reach('mulch', 3), 10)
  const two = said([ofPair('dug', 'mulch'), ofPair('clover', 'rye')])
  expect(widthOf(two, 'Mulch')).toBeCloseTo(reach('mulch', 2), 10)
  expect(widthOf(two, 'rye')).toBeCloseTo(reach('rye', 3), 10)
  expect(widthOf(said([ofPair('dug', 'mulch')]), 'Mulch')).toBeCloseTo(reach('mulch', 1), 10)
})

it('only the pairs named are marked as told, whichever method the others stand beside', () => {
  expect(marks(said([]))).toMatchObject({ mulch: 'told', rye: 'told' })
  const named = [ofPair('dug', 'mulch'), ofPair('clover', 'rye')]
  expect(marks(said(named))).toMatchObject({ mulch: 'told', clover: 'not told', rye: 'exploratory' })
  expect(marks(said(named, 'clover'))).toMatchObject({ rye: 'told', mulch: 'exploratory' })
  expect(marks(said([], 'clover'))).toMatchObject({ rye: 'exploratory' })
})

it('the answer is of the pairs named, also of one that stands beside another method, and of no other', () => {
  const answered = (pairs: readonly Pair[]) => findingsTold(said(pairs), 'en')
  expect(answered([ofPair('dug', 'clover')]).answer.join(' ')).toContain('Not seen.')
  expect(answered([ofPair('clover', 'rye')]).answer.join(' ')).toContain(': Seen.')
  expect(answered([ofPair('clover', 'rye')]).shared.join(' ')).toContain('also asks of rye beside clover')
  expect(answered([ofPair('dug', 'clover')]).shared.join(' ')).not.toContain('also asks')
})
