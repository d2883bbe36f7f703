import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { findingsByPair, findingsOf } from '../../src/comparison/findings/findings.ts'
import { sentenceOf } from '../../src/comparison/findings/findings-told.page.ts'
import { sideBySide } from '../../src/comparison/findings/side-by-side.ts'
import { burdenKeys } from '../../src/comparison/matched/burdens.ts'
import { firstTable } from '../../src/comparison/matched/first-table.ts'
import { plainRules } from '../../src/comparison/matched/matched-season.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { aDay } from '../support/calendar.ts'
import { laidBeds } from '../support/layouts.ts'
import { allClosed } from '../support/record.ts'

/** Ratio, low, high and degrees of freedom, by R: the script stands beside it. */
const byR = JSON.parse(readFileSync(new URL('./by-r/work.json', import.meta.url), 'utf8')) as Record<string, number[]>

const minutes = {
  A: [
    [600, 660],
    [780, 720],
    [540, 600],
  ],
  B: [
    [480, 420],
    [600, 660],
    [360, 450],
  ],
}
const kg = {
  A: [
    [20, 22],
    [25, 21],
    [18, 20],
  ],
  B: [
    [21, 24],
    [19, 20],
    [23, 25],
  ],
}
const cents = {
  A: [
    [900, 1000],
    [700, 800],
    [1200, 1100],
  ],
  B: [
    [1500, 1400],
    [1300, 1650],
    [1000, 1200],
  ],
}
/** Six places, three a method: each in a garden of its own, or both methods in each of three. */
const places = (gardenOf: (method: string, i: number) => string) =>
  (['A', 'B'] as const).flatMap((method) =>
    [0, 1, 2].map((i) => ({
      ...{ garden: gardenOf(method, i), method },
      ...{ minutes: minutes[method][i] ?? [], kg: kg[method][i] ?? [], cents: cents[method][i] ?? [] },
    })),
  )
const whole = places((method, i) => `${method}${i}`)
const halves = places((_method, i) => `g${i}`)

const asked = { seasonIds: ['s0', 's1'], referenceId: 'A', questionLocked: false }
const burdensIn = (record: TrialRecord) =>
  burdenKeys.map((key) => findingsOf(record, asked).find((one) => 'burden' in one && one.burden === key))
const key = { hoursPerBed: 'area', hoursPerKg: 'hours', costPerKg: 'cost' } as const

describe('work and cost of replicated layouts, gardens first', () => {
  it.each([
    ['gardens', whole],
    ['halves', halves],
  ] as const)('%s: ratio, interval and degrees of freedom are those of R', (layout, beds) => {
    for (const one of burdensIn(laidBeds(beds))) {
      if (!one || !('about' in one) || one.about.of !== 'methods') throw new Error('no finding about the methods')
      const [ratio = 0, low = 0, high = 0, df] = byR[`${layout} ${key[one.burden]}`] ?? []
      expect(one.about.df).toBe(df)
      expect(one.ratio).toBeCloseTo(ratio, 9)
      expect(one.low).toBeCloseTo(low, 8)
      expect(one.high).toBeCloseTo(high, 8)
    }
  })

  it('stand in the table of all methods with the same interval, and say how sure they are', () => {
    const record = laidBeds(whole)
    const byPair = findingsByPair(record, asked)
    const side = sideBySide(record, firstTable(record, null), { ...asked, rules: plainRules, byPair })
    const cell = side.rows.find((row) => row.methodId === 'B')?.cells.work
    const [ratio = 0, low = 0, high = 0] = byR['gardens area'] ?? []
    expect(cell).toMatchObject({ none: null, told: 'not told', scope: 'method' })
    expect([cell?.ratio, cell?.low, cell?.high].map((x) => x?.toFixed(8))).toEqual(
      [ratio, low, high].map((x) => x.toFixed(8)),
    )
    const [work] = burdensIn(record)
    expect(work).toMatchObject({ code: 'labour not seen', about: { layout: 'gardens', how: 'random', unitsA: 3 } })
    expect(work && sentenceOf(work, 'en')).toContain('0.75 times what Method A took; 95 % interval 0.49 to 1.16 on 4')
  })

  it('a season with an open week of hours in one garden counts for none of them', () => {
    const record = laidBeds(whole)
    const closings = record.closings.filter((one, i) => i > 0 || one.what !== 'hours')
    expect(closings).toHaveLength(record.closings.length - 1)
    const [work, , cost] = burdensIn({ ...record, closings })
    expect([work, cost]).toMatchObject([{ seasons: 1 }, { seasons: 2 }])
  })
})

it('a season in which one place alone has too many open weeks is left out, and named', () => {
  const record = laidBeds(whole)
  const seasons = record.seasons.map((one, i) => ({ ...one, endsOn: aDay(`${2020 + i}-03-15`) }))
  const long = { ...record, seasons }
  // Two of the ten weeks of one garden in three: eight tenths there, and over nine tenths of the method.
  const closings = allClosed(long).filter(
    (one) => !(one.gardenId === 'B1' && one.what === 'hours' && /^2020-W0[67]/.test(one.isoWeek)),
  )
  const [work] = burdensIn({ ...long, closings })
  expect(work).toMatchObject({ seasons: 1, restsOn: { seasons: ['s1'], open: [{ season: 's0' }], left: [] } })
})

it('a gap year of a replicated layout is left out and named, and the others are told', () => {
  const record = laidBeds(whole)
  const gap = {
    ...record,
    plantings: record.plantings.map((one) => (one.seasonId === 's1' ? { ...one, matchedSetId: null } : one)),
  }
  const [found] = findingsOf(gap, asked)
  expect(found).toMatchObject({ code: 'method not seen', restsOn: { seasons: ['s0'], gaps: ['s1'], open: [] } })
  // Geometric means of 20, 25, 18 and of 21, 19, 23 kg.
  expect(found && 'ratio' in found ? found.ratio : 0).toBeCloseTo(((21 * 19 * 23) / (20 * 25 * 18)) ** (1 / 3), 9)
})

describe('what was only divided compares nothing', () => {
  it('hours and inputs of a whole garden say nothing about the halves in it, and what to write is said', () => {
    const record = laidBeds(halves, { per: 'garden' })
    const found = findingsOf(record, asked)
    expect(found.filter((one) => 'burden' in one)).toEqual([])
    const refused = found.filter((one) => one.code === 'only divided')
    expect(refused.map((one) => [one.divided, one.each, one.share])).toEqual(
      burdenKeys.map((burden) => [burden, 'half', 1]),
    )
    expect(refused[0] && sentenceOf(refused[0], 'en')).toContain('for each half of a garden by its beds')
    const byPair = findingsByPair(record, asked)
    const side = sideBySide(record, firstTable(record, null), { ...asked, rules: plainRules, byPair })
    const cells = side.rows.find((row) => row.methodId === 'B')?.cells
    expect([cells?.work.none, cells?.workPerKg.none, cells?.inputsPerKg.none]).toEqual(Array(3).fill('only divided'))
    expect(cells?.weight.none).toBeNull()
  })

  it('beds of one garden need hours by bed: written for all of them, they are refused', () => {
    const beds = whole.map((bed) => ({ ...bed, garden: 'one' }))
    expect(burdensIn(laidBeds(beds))[0]).toMatchObject({ about: { layout: 'beds of one garden', df: 4 } })
    const refused = findingsOf(laidBeds(beds, { per: 'garden' }), asked).find((one) => one.code === 'only divided')
    expect(refused).toMatchObject({ each: 'bed', share: 1 })
  })

  it('up to a tenth of it is let pass: one day for all of them among hours written bed by bed', () => {
    const record = laidBeds(halves)
    const all = record.beds.map((bed) => bed.id)
    // B has 2,970 minutes of its own, and half of what all six beds share: a tenth of all at 660.
    const together = (personMinutes: number): TrialRecord => ({
      ...record,
      labour: [
        ...record.labour,
        { seasonId: 's0', task: 'weeding', phase: 'established', personMinutes, bedIds: all.slice(0, 6) },
      ],
    })
    expect(burdensIn(together(654))[0]).toMatchObject({ burden: 'hoursPerBed' })
    expect(burdensIn(together(672))[0]).toBeUndefined()
  })

  it('one garden a method: work shared between gardens by a rule is refused, by parts written down it is not', () => {
    const two = whole.filter((bed) => bed.garden === 'A0' || bed.garden === 'B0')
    const record = laidBeds(two)
    const shared = (sharedByRule: boolean): TrialRecord => ({
      ...record,
      labour: record.labour.map((one) => ({ ...one, sharedMinutes: 2 * one.personMinutes, sharedByRule })),
    })
    expect(burdensIn(shared(false))[0]).toMatchObject({ about: { of: 'plots', df: 1 } })
    const found = findingsOf(shared(true), asked).filter((one) => one.code === 'only divided')
    expect(found.map((one) => [one.divided, one.each])).toEqual([
      ['hoursPerBed', 'garden'],
      ['hoursPerKg', 'garden'],
    ])
  })
})
