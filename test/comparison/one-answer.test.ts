import { describe, expect, it } from 'vitest'
import { findingsPage } from '../../src/comparison/findings/findings.page.ts'
import { findingsByPair } from '../../src/comparison/findings/findings.ts'
import { findingsTold } from '../../src/comparison/findings/findings-told.page.ts'
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

function swap<T extends { readonly methodId: string }>(one: T): T {
  return { ...one, methodId: one.methodId === 'A' ? 'B' : 'A' }
}

/** The same beds with the two methods on each other's ground in the second season. */
function swapped(record: TrialRecord): TrialRecord {
  return { ...record, assignments: record.assignments.map((one) => (one.seasonId === 's1' ? swap(one) : one)) }
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
    const said = findingsTold(
      findingsPage(record, asked.seasonIds, { question: null, locale: 'en', currency: 'EUR' }),
      'en',
    )
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
    const said = findingsTold(
      findingsPage(record, asked.seasonIds, { question: null, locale: 'en', currency: 'EUR' }),
      'en',
    )
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

describe('one season, and ground that took turns', () => {
  const sayOf = (record: TrialRecord, seasonIds: readonly string[]) => {
    const said = findingsTold(findingsPage(record, seasonIds, { question: null, locale: 'en', currency: 'EUR' }), 'en')
    return { found: said.found[0], sentence: said.findings[0]?.sentence ?? '', notes: said.findings[0]?.notes ?? [] }
  }

  it('one season drawn and replicated has an interval for that season, low, and says nothing of others', () => {
    const { found, sentence, notes } = sayOf(laidBeds(beds('A | A | A | A | B | B | B | B')), ['s0'])
    expect(found).toMatchObject({ certainty: 'low', seasons: 1, df: 6, steps: expect.arrayContaining(['one season']) })
    expect(sentence).toContain('This is about this one season, and says nothing of others.')
    expect(sentence).not.toContain('gardens like these')
    expect(notes[0]).toBe(
      'How sure about the methods in this one season: low. Of other seasons it says nothing. No surer because of: one season.',
    )
    expect(notes).toContain('6 degrees of freedom: the gardens, less one for each method.')
  })

  it('one season of one garden a method has none, and no certainty about the method', () => {
    const { found } = sayOf(laidBeds(beds('A | B')), ['s0'])
    expect(found?.code).toBe('one season')
    expect(found).not.toHaveProperty('low')
    expect(found).not.toHaveProperty('certainty')
  })

  it('swapped gardens: the soil comes first, two gardens lower it, degrees of freedom are of gardens and seasons', () => {
    const two = laidBeds(beds('A | B').map((bed) => ({ ...bed, kg: [...bed.kg, 19, 26].map((kg, i) => kg + (i % 3)) })))
    const turned = { ...two, assignments: two.assignments.map((one) => (one.seasonId === 's1' ? swap(one) : one)) }
    const { found, sentence, notes } = sayOf(turned, ['s0', 's1', 's2', 's3'])
    // Two gardens in four seasons: 8 values less 2 gardens, 3 further seasons and the method.
    expect(found).toMatchObject({
      layout: 'ground that took turns',
      df: 2,
      unitsA: 2,
      unitsB: 2,
      certainty: 'very low',
    })
    expect(sentence).toMatch(/^The soil carries the former method for years, which draws this ratio towards 1\. About/)
    expect(notes.join(' ')).toMatch(
      /2 degrees of freedom, of gardens and seasons together: .* There are not so many gardens/,
    )
  })

  it('one swap of two gardens leaves no measure, and says so', () => {
    expect(sayOf(swapped(laidBeds(beds('A | B'))), ['s0', 's1']).found).toMatchObject({
      ...{ code: 'places say nothing', why: 'no measure' },
    })
  })
})
