import { describe, expect, it } from 'vitest'
import { findingsOf } from '../../src/comparison/findings/findings.ts'
import { seasonWeeks } from '../../src/comparison/record/near-weeks.ts'
import type { TrialRecord } from '../../src/comparison/record/trial-record.ts'
import { always } from '../../src/gardens/areas-held.ts'
import { recordOf } from '../support/record.ts'

const seasonIds = ['s0', 's1', 's2']
const carrots = (a: number, b: number) => ({ carrot: { m2: 4, a, b } })

/** Every week of hours and of weights closed, but for those of some seasons. */
function closedBut(record: TrialRecord, what: 'hours' | 'weights', open: readonly string[]): TrialRecord {
  const closings = seasonIds.flatMap((id) =>
    seasonWeeks(record, id).flatMap((isoWeek) =>
      ['A', 'B'].flatMap((gardenId) =>
        (['hours', 'weights'] as const)
          .filter((one) => one !== what || !open.includes(id))
          .map((one) => ({ gardenId, isoWeek, what: one })),
      ),
    ),
  )
  return { ...record, closings }
}

const found = (record: TrialRecord, burden: string) =>
  findingsOf(record, { seasonIds, referenceId: 'dug', questionLocked: true }).find(
    (one) => 'burden' in one && one.burden === burden,
  )

describe('hours and cost per kg, worked by hand', () => {
  // 10 kg and 60 minutes of work with 1.00 of inputs in each; under the mulch 66, 69 and 72 minutes, 1.10, 1.15 and 1.20.
  const base = recordOf([carrots(10, 10), carrots(10, 10), carrots(10, 10)])
  const record: TrialRecord = {
    ...base,
    labour: seasonIds.flatMap((seasonId, i) =>
      [60, 66 + 3 * i].map((personMinutes, garden) => ({
        ...{ seasonId, task: 'weeding', phase: 'established', personMinutes, bedIds: [['a', 'b'][garden] ?? ''] },
      })),
    ),
    spreadings: seasonIds.flatMap((seasonId, i) =>
      [100, 110 + 5 * i].map((costMinor, garden) => ({
        ...{ seasonId, costMinor, usefulLifeSeasons: 1, bedIds: [['a', 'b'][garden] ?? ''] },
      })),
    ),
  }

  it('rest on seasons with every week of weights closed', () => {
    const closed = closedBut(record, 'weights', [])
    for (const burden of ['hoursPerKg', 'costPerKg']) {
      const one = found(closed, burden)
      expect(one).toMatchObject({ code: 'per kg seen', seasons: 3 })
      expect(one && 'ratio' in one ? one.ratio : 0).toBeCloseTo((1.1 * 1.15 * 1.2) ** (1 / 3), 12)
    }
  })

  it('and say nothing where no week of weights is closed: what was not closed is unknown, not zero', () => {
    const open = closedBut(record, 'weights', seasonIds)
    expect([found(open, 'hoursPerKg'), found(open, 'costPerKg')]).toEqual([undefined, undefined])
    expect(found(open, 'hoursPerBed')).toMatchObject({ code: 'labour seen', seasons: 3 })
  })

  it('leave out a season with open weeks', () => {
    const open = closedBut(record, 'weights', ['s2'])
    const one = found(open, 'costPerKg')
    expect(one).toMatchObject({ seasons: 2 })
    expect(one && 'ratio' in one ? one.ratio : 0).toBeCloseTo(Math.sqrt(1.1 * 1.15), 12)
    expect(found(closedBut(record, 'hours', ['s2']), 'hoursPerKg')).toMatchObject({ seasons: 2 })
  })
})

it('the ways of counting hours are held against the finding’s own way, over the seasons that it rests on', () => {
  // On the ground 100 and 120 minutes, harvest 800 and 166; 2,000 and 3,000 m2 gross. The last season is open, and otherwise.
  const base = recordOf([carrots(10, 10), carrots(10, 10), carrots(10, 10)])
  const gardens = base.gardens.map((one) => (one.id === 'B' ? { ...one, areas: always(3_000_000) } : one))
  const work = (seasonId: string, task: string, minutes: readonly [number, number]) =>
    minutes.map((personMinutes, i) => ({
      ...{ seasonId, task, phase: 'established', personMinutes, bedIds: [['a', 'b'][i] ?? ''] },
    }))
  const labour = seasonIds.flatMap((id) => [
    ...work(id, 'weeding', id === 's2' ? [900, 10] : [100, 120]),
    ...work(id, 'harvest', [800, 166]),
  ])
  const one = found(closedBut({ ...base, gardens, labour }, 'hours', ['s2']), 'hoursPerBed')
  if (one?.code !== 'labour seen') throw new Error(one?.code)
  expect([one.seasons, one.ratio]).toEqual([2, expect.closeTo(1.2, 12)])
  const [own] = one.everyWay.ways
  expect(own).toEqual({ rules: expect.objectContaining({ harvestWork: 'without' }), ratio: expect.closeTo(1.2, 12) })
  // Bed or gross, without harvest work or with it: 1.2, 0.8, 0.32 and 0.21.
  expect([one.everyWay.counted, one.everyWay.sameOrder]).toEqual([4, 1])
  expect([...one.everyWay.turning].sort()).toEqual(['area', 'harvestWork'])
  expect(one.everyWay.low).toBeCloseTo((286 / 900) * (2 / 3), 12)
})
