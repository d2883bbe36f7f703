import { describe, expect, it } from 'vitest'
import { cautionsOf } from '../../src/comparison/findings/cautions.ts'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { sentenceOf } from '../../src/comparison/findings/findings-told.page.ts'
import { everyMeasureWay } from '../../src/comparison/matched/every-measure-way.ts'
import type { LabourRecord, TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { plainMeasureRules } from '../../src/comparison/totals/measures.ts'
import { pair, recordOf } from '../support/record.ts'

const carrots = (a: number, b: number) => ({ carrot: { m2: 4, a, b } })
const hours = (seasonId: string, bedId: string, minutes: number, more: Partial<LabourRecord> = {}): LabourRecord => ({
  ...{ seasonId, task: 'weeding', phase: 'established', personMinutes: minutes, bedIds: [bedId], ...more },
})

describe('what can be claimed', () => {
  const asked = (seasons: number, more = {}) => ({
    ...{ seasonIds: Array.from({ length: seasons }, (_, i) => `s${i}`), referenceId: 'dug', questionLocked: true },
    ...more,
  })

  it('alike only within a margin that was fixed beforehand', () => {
    const record = recordOf([1.01, 0.99, 1.02, 0.98, 1].map((ratio) => carrots(10, 10 * ratio)))
    const [plain] = findingsOf(record, asked(5))
    expect(plain?.code).toBe('not seen')
    const [found] = findingsOf(record, asked(5, { marginPercent: 10 }))
    expect(found?.code).toBe('alike')
    expect(found ? sentenceOf(found, 'en') : '').toContain(
      'gave alike within the 10 % that the group had fixed beforehand',
    )
    const [wide] = findingsOf(
      recordOf([0.7, 1.4, 0.8].map((ratio) => carrots(10, 10 * ratio))),
      asked(3, { marginPercent: 10 }),
    )
    expect(wide?.code).toBe('not seen')
  })

  it('hours and costs are counted in every way that touches them, and in no other', () => {
    const base = recordOf([carrots(10, 12), carrots(10, 12)])
    const labour = ['s0', 's1'].flatMap((id) => [
      hours(id, 'a', 100),
      hours(id, 'b', 90),
      hours(id, 'b', 40, { task: 'harvest' }),
    ])
    const found = everyMeasureWay({ ...base, labour }, ['s0', 's1'], pair, {
      ...{ key: 'hoursPerArea', rules: plainMeasureRules },
    })
    // Bed or gross, harvest in or out: no establishing and no compost of their own here.
    expect(found.ways).toHaveLength(4)
    expect(found.turning).toEqual(['harvestWork'])
    expect([found.low, found.high].map((ratio) => Math.round(100 * ratio))).toEqual([90, 130])
  })
})

describe('what else can fool is said where it applies, and only there', () => {
  const base = recordOf([carrots(10, 12)])
  const codes = (record: TrialRecord) => cautionsOf(record, ['s0'], pair).map((one) => one.code)

  it('nothing is known, and then only the missing uniform year', () => {
    expect(codes(base)).toEqual(['no uniform year'])
  })

  it('unlike ground, exposure, site, age, people, a covered bed, bought hay, late changes', () => {
    const record: TrialRecord = {
      ...base,
      seasons: base.seasons.map((one) => ({ ...one, changedSince: 2 })),
      gardens: base.gardens.map((one, i) => ({
        ...one,
        ...{ groundBefore: ['Pasture', 'Market garden'][i] ?? null, exposure: ['Open', 'Sheltered'][i] ?? null },
        siteId: ['one', 'two'][i] ?? '',
      })),
      assignments: base.assignments.map((one) => ({ ...one, yearOfMethod: one.gardenId === 'A' ? 6 : 1 })),
      labour: [hours('s0', 'a', 60, { who: 'A.' }), hours('s0', 'b', 60, { who: 'B.' })],
      closures: [{ bedId: 'b', fromDay: '2020-01-05', toDay: null }],
      spreadings: [
        { seasonId: 's0', costMinor: 100, cashMinor: 100, usefulLifeSeasons: 1, bedIds: ['b'], kind: 'mulch' },
      ],
    }
    expect(codes(record)).toEqual([
      ...['ground before', 'no uniform year', 'exposure', 'two sites', 'unlike ages', 'first years'],
      ...['unlike people', 'restarted bed', 'land elsewhere', 'changed after closing'],
    ])
  })

  it('the age of a method is that in the latest season, in whatever order the ground was laid', () => {
    // Dug in its years 5 and 6, mulch in its years 1 and 6; the ground of the first season was laid again later.
    const two = recordOf([carrots(10, 12), carrots(10, 12)])
    const year: Record<string, number> = { 's0 A': 5, 's0 B': 1, 's1 A': 6, 's1 B': 6 }
    const aged = two.assignments.map((one) => ({ ...one, yearOfMethod: year[`${one.seasonId} ${one.gardenId}`] ?? 0 }))
    for (const assignments of [aged, [...aged].reverse()]) {
      const said = cautionsOf({ ...two, assignments }, ['s0', 's1'], pair).map((one) => one.code)
      expect(said).toEqual(['no uniform year'])
    }
  })

  it('a uniform year says what the ground does by itself', () => {
    const two = recordOf([carrots(10, 8), carrots(10, 12)])
    const record: TrialRecord = {
      ...two,
      seasons: two.seasons.map((one) => ({ ...one, uniform: one.id === 's0' })),
      assignments: two.assignments.map((one) => (one.seasonId === 's0' ? { ...one, methodId: 'dug' } : one)),
    }
    const [found] = cautionsOf(record, ['s1'], pair)
    expect(found).toMatchObject({ code: 'uniform year', season: 's0' })
    expect(found?.code === 'uniform year' ? found.ratio : 0).toBeCloseTo(0.8, 12)
  })
})
