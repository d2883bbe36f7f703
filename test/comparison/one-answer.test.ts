import { describe, expect, it } from 'vitest'
import { findingsPage } from '../../src/comparison/findings/findings.page.ts'
import { findingsByPair } from '../../src/comparison/findings/findings.ts'
import { sideBySide } from '../../src/comparison/findings/side-by-side.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { plainRules } from '../../src/comparison/matched/matched-season.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { type BedGrown, laidBeds } from '../support/layouts.ts'

const asked = { seasonIds: ['s0', 's1'], referenceId: 'A', questionLocked: false }

/** "A1 B1" is a garden with a bed of each; places of one method differ, and so do their seasons. */
function beds(words: string, block?: (i: number) => string): BedGrown[] {
  return words.split('|').flatMap((garden, g) =>
    garden
      .trim()
      .split(' ')
      .map((method, i) => {
        const at = 1 + 0.07 * ((3 * g + 5 * i) % 7) + (method === 'A' ? 0 : 0.2)
        return {
          ...{ garden: `g${g}`, method, kg: [20 * at, 23 * at + i + ((2 * g) % 3)], minutes: [300 * at, 330 / at] },
          ...{ cents: [900 * at, 800 + 90 * g + 50 * i], ...(block ? { block: block(i) } : {}) },
        }
      }),
  )
}

/** The same beds with the two methods on each other's ground in the second season. */
function swapped(record: TrialRecord): TrialRecord {
  const other: Record<string, string> = { A: 'B', B: 'A' }
  const assignments = record.assignments.map((one) =>
    one.seasonId === 's1' ? { ...one, methodId: other[one.methodId] ?? '' } : one,
  )
  return { ...record, assignments }
}

const replicated: Readonly<Record<string, TrialRecord>> = {
  'several gardens a method': laidBeds(beds('A | A | A | B | B | B')),
  'split gardens': laidBeds(beds('A B | A B | A B')),
  'beds of one garden': laidBeds(beds('A B A B A B')),
  'blocks of beds': laidBeds(beds('A B A B A B', (i) => `block ${Math.floor(i / 2)}`)),
  'ground that took turns': swapped(laidBeds(beds('A | A | B | B'))),
}
const ofOneGarden =
  /one garden stands for one method|one garden a method|tell the method from the plot|told from the plot/

describe('a layout has one answer', () => {
  it.each(Object.entries(replicated))('%s: about the methods, and none about the plots beside it', (layout, record) => {
    const table = firstTable(record, null)
    expect(table.oneGardenAMethod).toBe(false)
    const said = findingsPage(record, asked.seasonIds, { question: null, locale: 'en', currency: 'EUR' })
    expect(said.found[0]).toMatchObject({ methodB: 'Method B', scope: expect.stringMatching(/^method/) })
    if (layout !== 'several gardens a method') expect(said.found[0]).toMatchObject({ layout })
    expect(said.found.map((one) => one.code)).not.toContain(expect.stringMatching(/^(not )?seen$/))
    expect(said.found.filter((one) => 'estimand' in one)).toEqual([])
    const read = [...said.shared, ...said.answer, ...said.findings.flatMap((one) => [one.sentence, ...one.notes])]
    expect(read.filter((line) => ofOneGarden.test(line))).toEqual([])
    expect(JSON.stringify(said.found)).not.toMatch(ofOneGarden)
    expect([said.seasons?.intervals, said.seasons?.means]).toEqual([[null], [null]])
  })

  it('one garden a method: that it cannot be told is said, on the page and in the figures', () => {
    const record = laidBeds(beds('A | B'))
    expect(firstTable(record, null).oneGardenAMethod).toBe(true)
    const said = findingsPage(record, asked.seasonIds, { question: null, locale: 'en', currency: 'EUR' })
    expect(said.found[0]).toMatchObject({ certainty: { method: 'cannot be told from the plot' } })
    expect(said.shared.join(' ')).toMatch(ofOneGarden)
    expect(said.seasons?.intervals).not.toEqual([null])
  })

  it('a second garden under one of the two is no one garden a method, and carries nothing about the other', () => {
    const record = laidBeds(beds('A | A | B'))
    const [found] = findingsByPair(record, asked)[0]?.findings ?? []
    expect(found).toMatchObject({ estimand: 'thesePlots', certainty: { method: 'not carried by the layout' } })
    expect(firstTable(record, null).oneGardenAMethod).toBe(false)
  })

  it('several places without a crop on all of them say so, and nothing of plots', () => {
    const record = laidBeds(beds('A | A | B | B'))
    const plantings = record.plantings.map((one) => (one.bedId === 'b1' ? { ...one, cleared: false } : one))
    const [found] = findingsByPair({ ...record, plantings }, asked)[0]?.findings ?? []
    expect(found).toMatchObject({ code: 'places say nothing', why: 'no crop' })
  })
})

it('sentences and the table tell by one level, that of all the pairs, fixed beforehand or not', () => {
  const record = laidBeds(beds('A | B | C | D'))
  for (const questionLocked of [true, false]) {
    const byPair = findingsByPair(record, { ...asked, questionLocked })
    const side = sideBySide(record, firstTable(record, null), { ...asked, questionLocked, rules: plainRules, byPair })
    expect(side.level).toBeCloseTo(1 - 0.05 / 3, 12)
    for (const { pair, findings } of byPair) {
      const cells = side.rows.find((row) => row.methodId === pair.methodB)?.cells
      const [weight, work] = findings.filter((one) => 'level' in one)
      expect([weight?.level, work?.level]).toEqual([side.level, side.level])
      expect(cells?.weight.low).toBeCloseTo(weight?.low ?? 0, 12)
      expect(cells?.work.high).toBeCloseTo(work?.high ?? 0, 12)
      expect(cells?.weight.told !== 'not told').toBe(weight?.code === 'seen')
    }
  }
})
