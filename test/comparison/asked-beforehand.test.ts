import { describe, expect, it } from 'vitest'
import { lockedQuestion } from '../../src/comparison/compare.routes.ts'
import { findingsPage, type Question } from '../../src/comparison/findings/findings.page.ts'
import { findingsTold } from '../../src/comparison/findings/findings-told.page.ts'
import type { IsoDate } from '../../src/quantities/dates.ts'
import { recordOf } from '../support/record.ts'

// Five seasons from 2020-01-01 on, a year apart: 1.01, 0.99, 1.02, 0.98 and 1.00 times.
const record = recordOf([1.01, 0.99, 1.02, 0.98, 1].map((ratio) => ({ carrot: { m2: 4, a: 10, b: 10 * ratio } })))
const seasonIds = record.seasons.map((one) => one.id)
const question = (lockedOn: IsoDate): Question => ({
  ...{ question: 'Alike?', referenceId: 'dug', primaryMeasure: 'matched yield', seasonsToLookAt: 5, marginPercent: 10 },
  pairs: [],
  ...{ sentenceIfSeen: 'Unlike.', sentenceIfNotSeen: 'We could not tell.', lockedOn },
  rules: { weights: 'marketable', mix: 'pooled areas', outsideLosses: 'counted' },
})
const said = (lockedOn: IsoDate, of = seasonIds, from = record) =>
  findingsTold(findingsPage(from, of, { question: question(lockedOn), locale: 'en', currency: 'EUR' }), 'en')
const stepsIn = (page: ReturnType<typeof said>) =>
  page.found.flatMap((one) => ('next' in one ? one.certainty.steps : []))
const late = 'Nobody fixed this question beforehand, so it is a look around and not a test.'

describe('a question was asked beforehand where it was locked before any season that it is asked of began', () => {
  it('on the first day at the latest: its margin, its sentence and its certainty hold', () => {
    const page = said('2020-01-01')
    expect(page.found[0]).toMatchObject({ code: 'alike', exploratory: false })
    expect(page.answer[1]).toBe('The answer that was written beforehand: We could not tell.')
    expect(stepsIn(page)).not.toContain('no question beforehand')
    expect(page.shared).not.toContain(late)
  })

  it.each(['2020-01-02', '2023-05-05', '2026-01-01'] as const)(
    'locked late, on %s, it is a look around',
    (lockedOn) => {
      const page = said(lockedOn)
      expect(page.found[0]).toMatchObject({ code: 'not seen', exploratory: true, marginPercent: null })
      expect(page.answer).toEqual([expect.stringMatching(/^Asked late, and locked on .*: Alike\? What it finds/)])
      expect(page.answer.join(' ')).not.toContain('written beforehand')
      expect(stepsIn(page)).toContain('no question beforehand')
      expect(page.shared).toContain(late)
      expect(page.referenceId).toBe('dug')
    },
  )

  it('of seasons that began later it was asked beforehand, and a uniform year may lie before it', () => {
    expect(said('2020-06-01', seasonIds.slice(1)).found[0]).toMatchObject({ exploratory: false })
    const uniform = { ...record, seasons: record.seasons.map((one, i) => ({ ...one, uniform: i === 0 })) }
    expect(said('2020-06-01', seasonIds, uniform).found[0]).toMatchObject({ exploratory: false })
  })
})

it('one that was asked beforehand goes before a later one that was not', () => {
  const locked = (seasonId: string, day: string) => ({
    ...question('2020-01-01'),
    ...{ terms: {}, seasonId, referenceMethodId: 'dug', lockedAt: new Date(`${day}T12:00:00Z`) },
  })
  const asked = [locked('s0', '2019-12-01'), locked('s1', '2020-12-01'), locked('s2', '2022-02-02')] as never
  const lockedOn = (from: number) => lockedQuestion(asked, record.seasons.slice(from), 'UTC')?.lockedOn
  expect([lockedOn(0), lockedOn(1), lockedOn(2)]).toEqual(['2019-12-01', '2020-12-01', '2022-02-02'])
})
